"""What a supplier's row says otherwise than the entry it is about, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.services.catalog import Catalog
from xref_app.services.facts import shown_value
from xref_app.services.size_match import Match, match_of
from xref_app.services.supplier_rows import RowReading


@dataclass(frozen=True, slots=True)
class Beside:
    """One size that differs: its title, what the list says and what is entered, both in words."""

    title: str
    listed: str
    entered: str


def beside(catalog: Catalog, row: RowReading) -> tuple[Beside, ...]:
    """Return the sizes of ``row`` that contradict its entry; none where the row is about a new one."""
    if not row.entry_id:
        return ()
    known = catalog.known(row.entry_id)
    return tuple(
        Beside(
            one.field.title,
            one.shown,
            " / ".join(shown_value(one.field, value) for value in known.get(one.field.field_id, ())),
        )
        for one in row.readings
        if match_of(one.field, one.known, known.get(one.field.field_id, ())) is Match.CONTRADICTS
    )
