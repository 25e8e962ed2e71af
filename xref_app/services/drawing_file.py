"""Saves a drawing in the format its file name asks for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from xref_app.core.errors import XrefError
from xref_app.core.sentence import Sentence
from xref_app.exchange.whole_file import write_whole
from xref_app.sheets.dxf_file import dxf_bytes
from xref_app.sheets.shapes import Drawing
from xref_app.sheets.svg_file import svg_bytes

Maker = Callable[[Drawing], bytes]


class DrawingFormatError(XrefError):
    """A file name that asks for no format we write."""

    def __init__(self, path: Path, formats: tuple[str, ...]) -> None:
        wanted = " or ".join(formats)
        super().__init__(f"“{path.name}” names no kind of drawing – let its name end in {wanted}.")
        self.path = path


class NothingDrawnError(XrefError):
    """A drawing with nothing on it."""

    def __init__(self, lacks: tuple[Sentence, ...]) -> None:
        told = "; ".join(map(str, lacks)) or "no size is known"
        super().__init__(f"There is nothing to draw yet ({told}) – measure these first.")


def plain_makers(say: Callable[[Sentence], str] = str) -> Mapping[str, Maker]:
    """Return the formats that need no window, by the ending of the file name."""
    return {".svg": partial(svg_bytes, say=say), ".dxf": partial(dxf_bytes, say=say)}


def save_drawing(drawing: Drawing, path: Path, makers: Mapping[str, Maker]) -> Path:
    """Write ``drawing`` to ``path``, whole or not at all, and return where it is.

    Raises:
        DrawingFormatError: its ending is not among the makers.
        NothingDrawnError: there is nothing to see on it.
        XrefError: the format or the disk refused; nothing was changed.
    """
    maker = makers.get(path.suffix.lower())
    if maker is None:
        raise DrawingFormatError(path, tuple(makers))
    if drawing.is_empty:
        raise NothingDrawnError(drawing.lacks())
    write_whole(path, maker(drawing))
    return path
