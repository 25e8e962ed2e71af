"""Keeps a printed sheet as a file."""

from __future__ import annotations

from pathlib import Path

from xref_app.exchange.whole_file import write_whole


def save_pdf(path: Path, content: bytes) -> Path:
    """Write a PDF whole or not at all, its name ending in .pdf, and return where it is.

    Raises:
        XrefError: the disk refused; nothing was changed.
    """
    chosen = path if path.suffix.lower() == ".pdf" else path.with_name(f"{path.name}.pdf")
    write_whole(chosen, content)
    return chosen
