"""What printing needs of the rest: whether the catalog is made up, and a PDF written whole."""

from __future__ import annotations

from pathlib import Path

from xref_app.exchange.whole_file import write_whole
from xref_app.services.open_catalog import SAMPLE_NAME


def is_sample(catalog_name: str) -> bool:
    """Say whether a catalog of this name is the sample, in which everything is made up."""
    return catalog_name == SAMPLE_NAME


def save_pdf(path: Path, content: bytes) -> Path:
    """Write a PDF whole or not at all, its name ending in .pdf, and return where it is.

    Raises:
        XrefError: the disk refused; nothing was changed.
    """
    chosen = path if path.suffix.lower() == ".pdf" else path.with_name(f"{path.name}.pdf")
    write_whole(chosen, content)
    return chosen
