"""The take: what a supplier's list brings, written as one act that one undo takes back."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.model.catalog import DriverRow, Entry, Number, ReplacedBy
from xref_app.services import supplier_words as words
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_known import numbers_in, tidied
from xref_app.services.supplier_preview import SHEET, Preview
from xref_app.services.supplier_rows import RowReading, folded_number
from xref_app.store.edits import Numbers, RowEdit, save_edits
from xref_app.store.engine import Store
from xref_app.store.number_owners import owners_of_numbers
from xref_app.store.row_changes import today

# As data_schema says of what people type; the rest of it belongs to the file's name and the row.
LONGEST_SUPPLIER: Final = 60
_LONGEST_FILE: Final = 200
_LONGEST_AS_TYPED: Final = 200
_POWER: Final = {SheetKind.ENGINES: "petrol", SheetKind.MOTORS: "electric"}
_NO_NAME: Final = {"pump": "Pump from a supplier's list", "driver": "Engine from a supplier's list"}
_ONLY_A_NUMBER: Final = "Known by its number only, from a supplier's list"


class SupplierInputError(XrefError):
    """What was said of a list cannot be used, or the take is no longer what was looked at; one sentence says why."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What a take wrote: the act's name (empty where nothing was new), rows, new entries, and all entries touched."""

    name: str
    rows: int
    new_entries: int
    touched: tuple[str, ...]


def read_supplier(text: str) -> str:
    """Return a supplier's name as it is kept.

    Raises:
        SupplierInputError: there is none, or it is too long.
    """
    name = tidied(text)
    if not name:
        raise SupplierInputError("Say whose list it is: the supplier's name.")
    if len(name) > LONGEST_SUPPLIER:
        raise SupplierInputError(f"The supplier's name is longer than {LONGEST_SUPPLIER} characters; shorten it.")
    return name


def take(store: Store, preview: Preview, who: str) -> Taken:
    """Write the rows of ``preview`` that are to be taken, all of them or none.

    Raises:
        SupplierInputError: nobody says who takes it, or somebody entered one of the numbers meanwhile.
        StoreError: one of its kinds; nothing was changed.
    """
    if not who.strip():
        raise SupplierInputError("Say who you are first.")
    read_supplier(preview.said.supplier)
    rows = preview.to_take
    if not rows:
        return Taken("", 0, 0, ())
    name = f"{len(rows)} rows of {preview.source.supplier}, {preview.file.name[:_LONGEST_FILE]}"
    why = f"supplier's list, {preview.said.how}"
    saved = save_edits(
        store, _building(preview, who.strip()), name=name, who=who.strip(), why=why, save_id=uuid.uuid4().hex
    )
    new = sum(one.table == "entries" for one in saved.edits)
    return Taken(name if saved.serial else "", len(rows), new, _touched(saved.edits))


def _touched(edits: Sequence[RowEdit]) -> tuple[str, ...]:
    owners = (getattr(one.after, name, "") for one in edits for name in ("entry_id", "new_entry_id"))
    return tuple(dict.fromkeys(one for one in owners if one))


def _building(preview: Preview, who: str) -> Callable[[Numbers], Sequence[RowEdit]]:
    def build(numbers: Numbers) -> Sequence[RowEdit]:
        wanted = numbers_in(preview.rows)
        if owners_of_numbers(numbers.connection, wanted, folded_number) != preview.owners:
            raise SupplierInputError("Nothing was taken: one of these numbers was entered meanwhile. Look again.")
        writing = _Writing(preview, numbers, who)
        return tuple(writing.edits())

    return build


@dataclass
class _Writing:
    """Makes the rows of one take; new entries are found again by their number for the replacements."""

    preview: Preview
    numbers: Numbers
    who: str
    made: dict[str, list[str]] = field(default_factory=dict)

    def edits(self) -> Iterator[RowEdit]:
        """Yield everything the take writes."""
        entries: list[tuple[RowReading, str]] = []
        new: dict[tuple[str, str], str] = {}  # a number that stands in two rows is one entry with both sayings
        for row in self.preview.to_take:
            name = (folded_number(row.number), folded_number(row.texts[words.MAKER]))
            entry_id = row.entry_id or new.get(name) or self.numbers.entry_id()
            entries.append((row, entry_id))
            if not row.entry_id and name not in new:
                new[name] = entry_id
                yield from self._entry(entry_id, row.number, row.place, self._named(row))
            yield from self._observations(row, entry_id)
        yield from self._replacements(entries)

    def _entry(self, entry_id: str, number: str, place: int, entry: Entry) -> Iterator[RowEdit]:
        self.made.setdefault(folded_number(number), []).append(entry_id)
        how = self.preview.said.how
        role = "maker" if how == SHEET else "seller"
        yield RowEdit("entries", None, replace(entry, entry_id=entry_id, added_by=self.who, added_on=today()))
        yield RowEdit("numbers", None, Number(entry_id, number, role, how, self._source(place)))
        kind = self.preview.said.columns.kind
        if kind in _POWER:
            yield RowEdit("drivers", None, DriverRow(entry_id, _POWER[kind]))

    def _named(self, row: RowReading) -> Entry:
        kind = self._kind
        name = row.texts[words.NAME] or _NO_NAME[kind]
        return Entry("", kind, row.texts[words.MAKER], name, row.texts[words.NOTE])

    def _observations(self, row: RowReading, entry_id: str) -> Iterator[RowEdit]:
        for reading in row.readings:
            said = reading.observation(self.numbers.observation_id(), entry_id)
            as_typed = said.as_typed[:_LONGEST_AS_TYPED]
            source = self._source(row.place)
            yield RowEdit(
                "observations",
                None,
                replace(said, as_typed=as_typed, seen_by=self.who, seen_on=today(), source=source),
            )

    def _replacements(self, entries: Sequence[tuple[RowReading, str]]) -> Iterator[RowEdit]:
        written = set(self.preview.replaced)
        for row, entry_id in entries:
            pairs = [(other, True) for other in row.replaces] + [(other, False) for other in row.replaced_by]
            for number, is_old in pairs:
                others = self._ids_of(number)
                if not others:
                    others = [self.numbers.entry_id()]
                    yield from self._entry(others[0], number, row.place, Entry("", self._kind, "", _ONLY_A_NUMBER))
                link = (others[0], entry_id) if is_old else (entry_id, others[0])
                # Of several that carry the number nobody said which one is meant; the preview told so.
                if len(others) == 1 and others[0] != entry_id and link not in written:
                    written.add(link)
                    how, source = self.preview.said.how, self._source(row.place)
                    yield RowEdit("replaced_by", None, ReplacedBy(*link, how=how, source=source))

    def _ids_of(self, number: str) -> list[str]:
        there = [one.entry_id for one in self.preview.owners.get(folded_number(number), ())]
        of_kind = [one for one in there if one in self.preview.of_kind]
        return list(dict.fromkeys([*of_kind, *self.made.get(folded_number(number), ())]))

    @property
    def _kind(self) -> str:
        return "pump" if self.preview.said.columns.kind.is_of_pumps else "driver"

    def _source(self, place: int) -> str:
        return replace(self.preview.source, file=self.preview.file.name[:_LONGEST_FILE]).of_row(place)
