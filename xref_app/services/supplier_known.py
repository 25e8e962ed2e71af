"""A supplier's rows held against the catalog: what is entered already, what is new, and what differs."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final

from xref_app.core.fields.fields import Kind
from xref_app.core.model.catalog import Entry, Observation
from xref_app.core.progress import Progress
from xref_app.core.sentence import Sentence, marked
from xref_app.services import supplier_words as words
from xref_app.services.catalog import Catalog
from xref_app.services.field_reading import FieldReading
from xref_app.services.size_match import Match, match_of
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_rows import RowReading, RowState, folded_number, parted_number
from xref_app.store.number_owners import NumberOwner

DIFFERS = marked("supplier", "{number} is already entry {entry}, {count} sizes differ: {fields}.")
DIFFERS_IN_ONE = marked("supplier", "{number} is already entry {entry}, {fields} differs.")
OTHER_MAKER = marked(
    "supplier", "{number} is already entry {entry}, of {maker}. Taken, this row becomes an entry of its own."
)
SEVERAL = marked("supplier", "{number} is the number of {count} entries. Taken, this row becomes an entry of its own.")
OTHER_KIND = marked("supplier", "{number} is already entry {entry}, which is no {kind}.")
WHICH_ONE = marked(
    "supplier", "{number} is the number of {count} entries: taken, this row does not say which one is replaced."
)
WRITTEN_OTHERWISE = marked(
    "supplier",
    "{number} is written {there} in entry {entry}: is it the same? Taken, what this row says goes to that entry.",
)
DAMAGED = marked("supplier", "{number} is already entry {entry}, of which rows are damaged: see Health first.")

# House rule: how often it is said how far the work is.
_ROWS_PER_TELLING: Final = 200
Owners = Mapping[str, Sequence[NumberOwner]]


@dataclass(frozen=True, slots=True)
class Source:
    """Who says it: the supplier, the file, and whether a sheet of the maker's says so or only a seller."""

    supplier: str
    file: str
    how: str

    def of_row(self, place: int) -> str:
        """Return what is written down as the source of row ``place`` (from 0)."""
        return f"{self.supplier}, {self.file}, row {place + 1}"

    def is_of(self, source: str) -> bool:
        """Say whether a source that is written down names this supplier, whichever file it was."""
        return source.startswith(f"{self.supplier}, ")


def tidied(supplier: str) -> str:
    """Return a supplier's name as it is kept; a comma would part it from the file in what is written down."""
    return " ".join(supplier.replace(",", " ").split())


@dataclass(frozen=True)
class HeldRows:
    """Holds rows against one catalog; ``owners`` carry their numbers."""

    catalog: Catalog
    owners: Owners
    source: Source
    kind: SheetKind
    _entries: dict[str, Entry] = field(default_factory=dict)
    _looked_up: set[str] = field(default_factory=set)

    def held(self, rows: Sequence[RowReading], progress: Progress) -> tuple[RowReading, ...]:
        """Return the rows with the entry that each is about, and with what has to be looked at.

        Raises:
            WorkCancelledError: nobody waits any more.
        """
        found = []
        for place, row in enumerate(rows):
            if place % _ROWS_PER_TELLING == 0:
                progress.step(place, len(rows))
                self._read_ahead(rows[place : place + _ROWS_PER_TELLING])
            found.append(self._held(row) if row.number else row)
        return tuple(found)

    def _read_ahead(self, rows: Sequence[RowReading]) -> None:
        """Have the entries of these rows read together: of a large catalog one by one takes longer."""
        wanted = numbers_in(rows)
        self.catalog.read_ahead(one.entry_id for number in wanted for one in self.owners.get(number, ()))

    def _held(self, row: RowReading) -> RowReading:
        for number in (*row.replaces, *row.replaced_by):
            count = len(self.ids_of(number))
            if count > 1:
                row = _looked_at(row, Sentence(WHICH_ONE, {"number": number, "count": count}))
        owners = self._owners_of(row.number)
        ids = tuple(dict.fromkeys(one.entry_id for one in owners if self._may_be(row, one)))
        if len(ids) != 1:
            return self._asked(row, owners, ids) if owners else row
        entry_id = ids[0]
        if self.catalog.damaged.touches(entry_id):
            return _looked_at(row, Sentence(DAMAGED, self._named(row, entry_id)), RowState.REFUSED)
        if self._entries[entry_id].kind != self.entry_kind:
            reason = Sentence(OTHER_KIND, {**self._named(row, entry_id), "kind": self.entry_kind})
            return _looked_at(row, reason, RowState.REFUSED)
        return self._compared(replace(row, entry_id=entry_id))

    @cached_property
    def replaced(self) -> frozenset[tuple[str, str]]:
        """Return what replaces what, as it is written down: the old entry and the new one."""
        return frozenset((one.entry_id, one.new_entry_id) for one in self.catalog.replaced_by)

    @property
    def entry_kind(self) -> str:
        """Return the kind of the entries that the list is of."""
        return "pump" if self.kind.is_of_pumps else "driver"

    def _may_be(self, row: RowReading, owner: NumberOwner) -> bool:
        """Say whether an entry with the row's number is the row's: entered from this supplier, or of no other maker."""
        maker, its = row.texts[words.MAKER], self._entries[owner.entry_id].maker
        is_same_maker = not maker or not its or folded_number(maker) == folded_number(its)
        return self.source.is_of(owner.source) and is_same_maker if self._took(row) else is_same_maker

    def _took(self, row: RowReading) -> bool:
        """Say whether a row with this number was taken from this supplier before; then that entry alone is meant."""
        maker = folded_number(row.texts[words.MAKER])
        return any(
            self.source.is_of(one.source) and folded_number(self._entries[one.entry_id].maker) == maker
            for one in self._owners_of(row.number)
        )

    def _asked(self, row: RowReading, owners: Sequence[NumberOwner], ids: Collection[str]) -> RowReading:
        if ids:
            return _looked_at(row, Sentence(SEVERAL, {"number": row.number, "count": len(ids)}))
        entry_id = owners[0].entry_id
        maker = self._entries[entry_id].maker
        return _looked_at(row, Sentence(OTHER_MAKER, {**self._named(row, entry_id), "maker": maker}))

    def _compared(self, row: RowReading) -> RowReading:
        known = self.catalog.known(row.entry_id)
        said = self.catalog.observations.get(row.entry_id, ())
        new = tuple(one for one in row.readings if not self._is_written(one, said))
        differing = [
            one.field.title
            for one in new
            if match_of(one.field, one.known, known.get(one.field.field_id, ())) is Match.CONTRADICTS
        ]
        row = replace(row, readings=new)
        if differing:
            fields = {"count": len(differing), "fields": ", ".join(differing)}
            template = DIFFERS if len(differing) > 1 else DIFFERS_IN_ONE
            return _looked_at(row, Sentence(template, {**self._named(row, row.entry_id), **fields}))
        is_read = row.state is not RowState.REFUSED and not row.cells
        if is_read and not new and not self._links(row):
            return replace(row, state=RowState.KNOWN, reasons=())
        written = {one.number for one in self._owners_of(row.number) if one.entry_id == row.entry_id}
        if parted_number(row.number) not in map(parted_number, written):
            there = {**self._named(row, row.entry_id), "there": ", ".join(sorted(written))}
            return _looked_at(row, Sentence(WRITTEN_OTHERWISE, there))
        return row

    def _is_written(self, reading: FieldReading, said: Sequence[Observation]) -> bool:
        return any(is_same(reading, one) and self.source.is_of(one.source) for one in said)

    def _links(self, row: RowReading) -> bool:
        """Say whether the row names a replacement that is not written down yet."""
        return any(
            not any((old, new) in self.replaced for old in self.ids_of(one_old) for new in self.ids_of(one_new))
            for one_old, one_new in [
                *((other, row.number) for other in row.replaces),
                *((row.number, other) for other in row.replaced_by),
            ]
        )

    def ids_of(self, number: str) -> tuple[str, ...]:
        """Return the entries of the list's kind that carry a number."""
        return self.of_kind(self.owners.get(folded_number(number), ()))

    def of_kind(self, owners: Sequence[NumberOwner]) -> tuple[str, ...]:
        """Return those of ``owners`` that are of the list's kind, each once."""
        found = dict.fromkeys(one.entry_id for one in self._there(owners))
        return tuple(one for one in found if self._entries[one].kind == self.entry_kind)

    def _owners_of(self, number: str) -> tuple[NumberOwner, ...]:
        return self._there(self.owners.get(folded_number(number), ()))

    def _there(self, owners: Sequence[NumberOwner]) -> tuple[NumberOwner, ...]:
        """Return the owners that the catalog has, and keep their entries: asking a large catalog again takes longer."""
        for one in owners:
            if one.entry_id not in self._looked_up:
                self._looked_up.add(one.entry_id)
                entry = self.catalog.entries.get(one.entry_id)
                if entry is not None:
                    self._entries[one.entry_id] = entry
        return tuple(one for one in owners if one.entry_id in self._entries)

    def _named(self, row: RowReading, entry_id: str) -> dict[str, object]:
        return {"number": row.number, "entry": entry_id}


def is_same(reading: FieldReading, said: Observation) -> bool:
    """Say whether an observation says the same of the same field, known in the same way."""
    observed = reading.observed
    if (said.field, said.how) != (reading.field.field_id, reading.how):
        return False
    return said.value == observed.value if reading.field.kind is Kind.NUMBER else said.text == observed.text


def numbers_in(rows: Sequence[RowReading]) -> frozenset[str]:
    """Return every number that the rows name, folded."""
    return frozenset(
        folded_number(number) for row in rows for number in (row.number, *row.replaces, *row.replaced_by) if number
    )


def _looked_at(row: RowReading, reason: Sentence, state: RowState = RowState.LOOK) -> RowReading:
    is_refused = RowState.REFUSED in {row.state, state}
    return replace(row, state=RowState.REFUSED if is_refused else RowState.LOOK, reasons=(*row.reasons, reason))
