"""One number of one entry, with what is needed to compare it quickly."""

from __future__ import annotations

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
