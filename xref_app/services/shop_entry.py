"""An unfinished entry turned into rows of the catalog: what hinders it, and the one change that saves it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Field, Side, all_fields
from xref_app.core.model.catalog import DriverRow, Entry, MachineRow, Number, Photo
from xref_app.core.model.known import Known
from xref_app.core.sentence import Sentence, marked
from xref_app.services.duplicates import refuse_invisible
from xref_app.services.field_reading import FieldReading, read_typed_field
from xref_app.services.unit_draft import PHOTO, Heading, Typed, UnitDraft, UnitKind
from xref_app.store.edits import Numbers, RowEdit

SAY_WHAT = marked("entry", "Say what it is: a number, a maker or a name.")
SAY_MODEL = marked("entry", "Say which model the machine is.")
SAY_WHO = marked("entry", "Say who measured.")
SAY_SIZE = marked("entry", "One size at least.")
SAY_POWER = marked("entry", "Say whether petrol or electric drives it (“Driven by”).")
LOOK_AGAIN = marked("entry", "{field}: {why}")
INCH_OR_MM = marked("entry", "{field}: answer “inch or mm?” first.")
OTHER_COUNT = marked("entry", "{field}: {heights} heights for {holes} holes; give one for each, in their order.")
SLOWER = marked("entry", "{field}: below the rated speed; read both off the plate again.")
TOO_LONG = marked("entry", "{field}: longer than {limit} characters; shorten it.")

# What the columns of the catalog hold, as data_schema says: whoever reads an export refuses a longer text.
_LONGEST = {Heading.NUMBER: 40, Heading.MAKER: 60, Heading.NAME: 80, Heading.NOTE: 400}
_DRIVER_FIELDS = ("shaft_", "face_", "power_")
_SHOP = "shop"


@dataclass(frozen=True, slots=True)
class ReadDraft:
    """A draft as read: ``readings`` by field, and ``problems``, the sentences that say why it cannot be saved yet.

    ``troubles`` says of each field that could not be read what is the matter with it.
    """

    readings: Mapping[str, FieldReading]
    problems: tuple[Sentence, ...]
    troubles: Mapping[str, str]

    @property
    def known(self) -> Mapping[str, Known]:
        """Return each size as the judge holds it; one with an open question is not known."""
        return {name: one.known for name, one in self.readings.items() if one.question is None}


@dataclass(frozen=True, slots=True)
class Owners:
    """The entries that a draft's sizes belong to: one for a pump; the machine and its engine else."""

    pump: str = ""
    machine: str = ""
    driver: str = ""

    def of(self, field: Field) -> str:
        """Return the entry that ``field`` is written under."""
        if field.side is Side.PUMP:
            return self.pump
        return self.driver if is_of_driver(field) else self.machine


def is_of_driver(field: Field) -> bool:
    """Say whether a size of the machine's side is one of what drives it."""
    return field.field_id.startswith(_DRIVER_FIELDS)


def fields_of(kind: UnitKind) -> tuple[Field, ...]:
    """Return the fields that a unit of this kind has, in the order of the schema."""
    side = Side.PUMP if kind is UnitKind.PUMP else Side.MACHINE
    return tuple(field for field in all_fields().values() if field.side is side)


def read_draft(draft: UnitDraft, who: str) -> ReadDraft:
    """Return the draft as read, with everything that hinders saving it."""
    readings: dict[str, FieldReading] = {}
    problems: list[Sentence] = []
    troubles: dict[str, str] = {}
    for field in fields_of(draft.kind):
        typed = draft.written.get(field.field_id)
        if typed is None or typed.is_skipped or (typed.says_nothing and not typed.worked):
            continue
        try:
            readings[field.field_id] = reading = read_typed_field(field, typed)
        except XrefError as error:
            troubles[field.field_id] = str(error)
            problems.append(Sentence(LOOK_AGAIN, {"field": field.title, "why": str(error)}))
            continue
        if reading.question is not None:
            problems.append(Sentence(INCH_OR_MM, {"field": field.title}))
    return ReadDraft(readings, (*problems, *_do_not_agree(readings), *_lacks(draft, who, readings)), troubles)


def _do_not_agree(readings: Mapping[str, FieldReading]) -> Iterator[Sentence]:
    """Say which readings of this draft cannot both be of one unit."""
    for side in ("face", "flange"):
        holes, heights = readings.get(f"{side}_holes_xy_mm"), readings.get(f"{side}_seat_heights_mm")
        if holes is not None and heights is not None:
            counts = {"holes": len(holes.observed.text.split(";")), "heights": len(heights.observed.text.split(";"))}
            if counts["holes"] != counts["heights"]:
                yield Sentence(OTHER_COUNT, {"field": heights.field.title, **counts})
    rated, most = readings.get("rating_speed_rpm"), readings.get("rating_max_speed_rpm")
    if rated is not None and most is not None and (most.observed.value or 0.0) < (rated.observed.value or 0.0):
        yield Sentence(SLOWER, {"field": most.field.title})


def _lacks(draft: UnitDraft, who: str, readings: Mapping[str, FieldReading]) -> Iterator[Sentence]:
    yield from _odd_headings(draft)
    if not who.strip():
        yield Sentence(SAY_WHO)
    if not readings:
        yield Sentence(SAY_SIZE)
    if not draft.entry_id:
        yield from _unsaid(draft, readings)


def _odd_headings(draft: UnitDraft) -> Iterator[Sentence]:
    for heading, limit in _LONGEST.items():
        title = heading.value.capitalize()
        try:
            refuse_invisible(draft.text(heading))
        except XrefError as error:
            yield Sentence(LOOK_AGAIN, {"field": title, "why": str(error)})
        if len(draft.text(heading)) > limit:
            yield Sentence(TOO_LONG, {"field": title, "limit": limit})


def _unsaid(draft: UnitDraft, readings: Mapping[str, FieldReading]) -> Iterator[Sentence]:
    """Say what a new entry cannot do without."""
    if draft.kind is UnitKind.MACHINE:
        if not draft.text(Heading.NUMBER):
            yield Sentence(SAY_MODEL)
        if "power_kind" not in readings:
            yield Sentence(SAY_POWER)
    elif not any(draft.text(one) for one in (Heading.NUMBER, Heading.MAKER, Heading.NAME)):
        yield Sentence(SAY_WHAT)


def new_entry(draft: UnitDraft, read: ReadDraft, who: str) -> Callable[[Numbers], Sequence[RowEdit]]:
    """Return what writes the draft as a new entry: its rows, numbered inside the transaction."""
    today = datetime.now(UTC).date().isoformat()

    def build(numbers: Numbers) -> Sequence[RowEdit]:
        rows: list[RowEdit] = []
        owners = _new_owners(draft, read, numbers, rows, replace(_entry(draft), added_by=who, added_on=today))
        return (*rows, *_observations(draft, read, owners, numbers, who), *_photos(draft, owners, who))

    return build


def more_readings(
    draft: UnitDraft, read: ReadDraft, owners: Owners, who: str
) -> Callable[[Numbers], Sequence[RowEdit]]:
    """Return what adds the draft's readings to entries that are there already; nothing of theirs is overwritten."""

    def build(numbers: Numbers) -> Sequence[RowEdit]:
        return (*_observations(draft, read, owners, numbers, who), *_photos(draft, owners, who))

    return build


def _entry(draft: UnitDraft) -> Entry:
    name = draft.text(Heading.NAME) or ("Measured pump" if draft.kind is UnitKind.PUMP else "Measured machine")
    return Entry("", "pump", draft.text(Heading.MAKER), name, draft.text(Heading.NOTE))


def _new_owners(draft: UnitDraft, read: ReadDraft, numbers: Numbers, rows: list[RowEdit], entry: Entry) -> Owners:
    number = draft.text(Heading.NUMBER)
    if draft.kind is UnitKind.PUMP:
        pump = replace(entry, entry_id=numbers.entry_id())
        rows.append(RowEdit("entries", None, pump))
        if number:
            rows.append(RowEdit("numbers", None, Number(pump.entry_id, number, "plate", "plate", _SHOP)))
        return Owners(pump=pump.entry_id)
    driver = replace(entry, entry_id=numbers.entry_id(), kind="driver", name=f"Engine of {number}", note="")
    machine = replace(entry, entry_id=numbers.entry_id(), kind="machine")
    power = read.readings["power_kind"].observed.text
    rows += [RowEdit("entries", None, driver), RowEdit("entries", None, machine)]
    rows.append(RowEdit("drivers", None, DriverRow(driver.entry_id, power)))
    rows.append(RowEdit("machines", None, MachineRow(machine.entry_id, number, driver.entry_id, draft.pump_id)))
    return Owners(machine=machine.entry_id, driver=driver.entry_id)


def _observations(draft: UnitDraft, read: ReadDraft, owners: Owners, numbers: Numbers, who: str) -> Iterator[RowEdit]:
    today = datetime.now(UTC).date().isoformat()
    for name, reading in read.readings.items():
        row = reading.observation(numbers.observation_id(), owners.of(reading.field))
        source = _source(draft.written[name], reading)
        yield RowEdit("observations", None, replace(row, seen_by=who, seen_on=today, source=source))


def _source(typed: Typed, reading: FieldReading) -> str:
    """Return with what and how it was read, as words of the record."""
    words = [typed.instrument, str(reading.spread) if reading.spread else ""]
    words.append(f"taken as {typed.taken_as}" if typed.taken_as else "")
    return "; ".join(word for word in words if word)


def _photos(draft: UnitDraft, owners: Owners, who: str) -> Iterator[RowEdit]:
    today = datetime.now(UTC).date().isoformat()
    owner = owners.pump or owners.machine or owners.driver
    for name, typed in draft.written.items():
        if name.startswith(PHOTO):
            width, height, caption = (*typed.texts, "", "", "")[:3]
            yield RowEdit(
                "photos",
                None,
                Photo(owner, name.removeprefix(PHOTO), caption, int(width), int(height), who, today),
            )
