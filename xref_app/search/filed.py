"""One number of one entry, with what is needed to compare it quickly."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from xref_app.search.folding import SEPARATOR, glyphs, worn


@dataclass(frozen=True, slots=True)
class NumberRow:
    """A number as written, the entry known under it, and the entry's kind (pump, machine ...)."""

    text: str
    entry_id: str
    kind: str


@dataclass(frozen=True, slots=True)
class FiledNumber:
    """A row and its folded spellings.

    ``shape`` is the worn spelling with ``SEPARATOR`` for each separator; ``worn`` is the same without them.
    """

    row: NumberRow
    shape: str
    worn: str

    @classmethod
    def of(cls, row: NumberRow) -> FiledNumber:
        """Return ``row`` ready to be compared."""
        shape = worn("".join(glyph.plain for glyph in glyphs(row.text)))
        return cls(row, shape, shape.replace(SEPARATOR, ""))


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """Keep Python from looking for garbage while very many small objects are made that are none."""
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()
