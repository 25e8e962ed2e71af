"""The bench: what is measured is kept after every field, held against the catalog, and saved as one change."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Field, Kind, all_fields, field_for
from xref_app.core.model.known import Known
from xref_app.core.quantity.inch_or_mm import InchOrMm
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog
from xref_app.services.duplicates import Duplicate, duplicates, mixed_script
from xref_app.services.facts import shown_value
from xref_app.services.field_reading import FieldReading
from xref_app.services.measure_order import Question, next_question
from xref_app.services.shop_entry import Owners, ReadDraft, fields_of, more_readings, new_entry, read_draft
from xref_app.services.size_match import CHANGEABLE, Match, match_of
from xref_app.services.size_search import SizeHit, best_meeting, entry_against
from xref_app.services.unit_draft import (
    PHOTO,
    DraftUnreadableError,
    Heading,
    Typed,
    UnitDraft,
    UnitKind,
    draft_from_text,
)
from xref_app.store.drafts import Draft, drop_draft, keep_draft, read_drafts
from xref_app.store.edits import Saved, save_edits
from xref_app.store.engine import Store
from xref_app.store.photos import keep_photo_file

SAVED_NEW = marked("entry", "{title} entered")
SAVED_MORE = marked("entry", "{fields} of {title}")
MAY_BE_DOUBLE = marked(
    "entry",
    "Not saved yet: it may be {number} ({maker}), which is entered already. Ctrl+S again saves it as one of its own.",
)
CANNOT_SAVE = marked("entry", "Not saved: {why}")
NOT_THAT_ONE = marked(
    "entry",
    "Not saved under {number}: what is known of it differs in {fields}, so this may be another pump. Take the guessed "
    "number away, or enter it as a pump of its own.",
)

# A word or a yes agrees between most pumps; only a size of the pump itself tells which one it is (house rule).
_SIZES = frozenset({Kind.NUMBER, Kind.HOLES, Kind.HEIGHTS})
# House rule: no coarser than this many times the field's usual doubt; readings that their tool explains stay below it,
# a circle found evenly spaced does, too.
_COARSEST_TIMES = 5.0
_ON_PLATES = ("rating_", "power_kw", "power_speed_rpm")
# A list longer than this is read by nobody; the count tells the rest (house rule).
_SHOWN_HITS = 12
# House rule: of the name of a photo file no more than this says what it shows.
_MOST_CAPTION = 40


class NotSavedError(XrefError):
    """An entry that cannot be saved as it stands; the draft is kept."""


class LineState(StrEnum):
    """How one field of the entry sheet stands."""

    READ = "read"
    DIFFERS = "differs"
    SKIPPED = "cannot reach"
    TROUBLE = "look again"
    ASKED = "inch or mm?"
    BLANK = "not known"


@dataclass(frozen=True, slots=True)
class FieldLine:
    """One field of the entry sheet: as typed, as read in both units, how it stands, and what is to be said of it.

    ``known`` is what the entry that is measured again says of the field already, empty where nothing.
    """

    field: Field
    typed: Typed | None
    shown: str
    state: LineState
    said: Sentence | str = ""
    question: InchOrMm | None = None
    known: str = ""


@dataclass(frozen=True, slots=True)
class BenchView:
    """Everything the sheet shows of one draft.

    ``hits`` are the entries that no reading contradicts, best first, ``hit_count`` all of them; ``same_as`` what it
    may be a second entry of; ``next_question`` what tells most of them apart, None for an entry measured again: there
    the person knows what is wanted; ``problems`` what hinders saving; ``notes`` what should be looked at.
    """

    draft: UnitDraft
    lines: tuple[FieldLine, ...]
    hits: tuple[SizeHit, ...]
    hit_count: int
    next_question: Question | None
    same_as: tuple[Duplicate, ...]
    problems: tuple[Sentence, ...]
    notes: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True)
class SavedUnit:
    """What was saved: the entry to go on with, its kind and number, and the name of the change.

    ``settles_number``: a measured reading agrees with what was known of the entry before, and none disagrees.
    """

    entry_id: str
    kind: str
    number: str
    saved: Saved
    touched: tuple[str, ...]
    settles_number: bool = False


@dataclass(frozen=True)
class Bench:
    """Works on one store; ``catalog`` gives the catalog of the moment. Every method may run in any thread."""

    engine: Store
    catalog: Callable[[], Catalog]

    def begin(self, kind: UnitKind, *, entry_id: str = "", pump_id: str = "") -> UnitDraft:
        """Return a blank draft: of a new unit, or of more readings of ``entry_id``."""
        return UnitDraft(uuid.uuid4().hex, kind, entry_id, pump_id)

    def unfinished(self) -> tuple[UnitDraft, ...]:
        """Return the drafts that were not saved, newest first; one that cannot be read is left aside."""
        found: list[UnitDraft] = []
        for kept in read_drafts(self.engine):
            try:
                found.append(draft_from_text(kept.draft_id, kept.content))
            except DraftUnreadableError:
                continue
        return tuple(found)

    def keep(self, draft: UnitDraft) -> None:
        """Keep the draft on the disk; a blank one that was never kept leaves no trace."""
        if draft.is_empty and not draft.steps:
            drop_draft(self.engine, draft.draft_id)
            return
        now = datetime.now(UTC).isoformat(timespec="milliseconds")
        keep_draft(self.engine, Draft(draft.draft_id, draft.kind.value, draft.as_text(), now))

    def drop(self, draft: UnitDraft) -> None:
        """Forget the draft."""
        drop_draft(self.engine, draft.draft_id)

    def view(self, draft: UnitDraft, who: str) -> BenchView:
        """Return the draft held against the catalog of the moment."""
        catalog, read = self.catalog(), read_draft(draft, who)
        kind, before = _catalog_kind(draft.kind), self._known_before(draft)
        skipped = [name for name, typed in draft.written.items() if typed.is_skipped]
        is_sought = bool(read.known) and not draft.entry_id
        hits, hit_count = best_meeting(catalog, kind, read.known, most=_SHOWN_HITS) if is_sought else ((), 0)
        numbers = _numbers(draft)
        same = () if draft.entry_id else duplicates(catalog, kind, read.known, numbers)
        mixed = [said for text in numbers if (said := mixed_script(text)) is not None]
        return BenchView(
            draft=draft,
            lines=tuple(_line(field, draft, read, before.get(field.field_id, ())) for field in fields_of(draft.kind)),
            hits=hits,
            hit_count=hit_count,
            next_question=None if draft.entry_id else _next_question(catalog, kind, read, skipped),
            same_as=same,
            problems=read.problems,
            notes=tuple(mixed),
        )

    def add_photo(self, draft: UnitDraft, path: Path) -> UnitDraft:
        """Return the draft with a photo: cleaned of all that a camera writes into it, kept by its content.

        Raises:
            XrefError: the file is no photo, or too large, in one sentence.
        """
        from xref_app.exchange.photo_file import clean_photo  # noqa: PLC0415 - decoders that most starts do not need

        photo = clean_photo(path)
        name = PHOTO + keep_photo_file(self.engine, photo.jpeg)
        caption = path.stem[:_MOST_CAPTION]
        return draft.write(name, Typed(texts=(str(photo.width_px), str(photo.height_px), caption)))

    def save(
        self, draft: UnitDraft, who: str, *, guessed_entry: bool = False, although_double: bool = False
    ) -> SavedUnit:
        """Save the draft as one change and forget the draft.

        Args:
            draft: What was measured.
            who: Who measured.
            guessed_entry: The entry was recognised through characters nobody could read: readings that disagree with
                it are not written under it.
            although_double: The person was told that it may be entered already, and wants it all the same.

        Raises:
            NotSavedError: something is missing or unclear; the draft stays as it is.
            StoreError: the store could not keep it; the draft stays as it is.
        """
        read = read_draft(draft, who)
        if read.problems:
            raise NotSavedError(str(Sentence(CANNOT_SAVE, {"why": str(read.problems[0])})))
        if not draft.entry_id and not although_double:
            self._refuse_double(draft, read)
        if guessed_entry:
            self._refuse_other_unit(draft, read)
        settles, owners = self._agrees(draft, read), self._owners(draft)
        build = new_entry(draft, read, who) if owners is None else more_readings(draft, read, owners, who)
        saved = save_edits(
            self.engine,
            build,
            name=self._name(draft, read),
            who=who,
            why="measured on the bench",
            save_id=draft.draft_id,
        )
        return replace(_saved_unit(draft, saved, self.catalog()), settles_number=settles)

    def _agrees(self, draft: UnitDraft, read: ReadDraft) -> bool:
        """Say whether a measured reading agrees with what is known of the entry, and none disagrees."""
        if not draft.entry_id:
            return False
        measured = {name: one for name, one in read.known.items() if read.readings[name].how == "measured"}
        against = entry_against(self.catalog(), draft.entry_id, measured)
        telling = [name for name in against.agreeing if name not in CHANGEABLE and _tells(read.readings[name])]
        return bool(telling) and not against.contradicting

    def _known_before(self, draft: UnitDraft) -> Mapping[str, tuple[Known, ...]]:
        """Return what the entry that is measured again says already, by field."""
        owners = self._owners(draft)
        if owners is None:
            return {}
        return self.catalog().known(*(entry for entry in (owners.pump, owners.machine, owners.driver) if entry))

    def _refuse_double(self, draft: UnitDraft, read: ReadDraft) -> None:
        numbers = _numbers(draft)
        # Sizes alone do not make a double of a unit whose own number was read: then the sheet's warning is enough.
        found = duplicates(self.catalog(), _catalog_kind(draft.kind), read.known, numbers)
        same = [one for one in found if one.near_number or not numbers]
        if same:
            raise NotSavedError(str(Sentence(MAY_BE_DOUBLE, {"number": same[0].number, "maker": same[0].maker})))

    def _refuse_other_unit(self, draft: UnitDraft, read: ReadDraft) -> None:
        against = entry_against(self.catalog(), draft.entry_id, read.known)
        if against.contradicting:
            fields = ", ".join(field_for(name).title for name in against.contradicting)
            said = Sentence(NOT_THAT_ONE, {"number": against.number, "fields": fields})
            raise NotSavedError(str(said))

    def _owners(self, draft: UnitDraft) -> Owners | None:
        if not draft.entry_id:
            return None
        row = self.catalog().machines.get(draft.entry_id)
        if row is None:
            return Owners(pump=draft.entry_id)
        return Owners(machine=row.entry_id, driver=row.driver_id)

    def _name(self, draft: UnitDraft, read: ReadDraft) -> str:
        if not draft.entry_id:
            title = draft.text(Heading.NUMBER) or draft.text(Heading.NAME) or draft.text(Heading.MAKER)
            return str(Sentence(SAVED_NEW, {"title": title}))
        fields = ", ".join(one.field.title for one in read.readings.values())
        return str(Sentence(SAVED_MORE, {"fields": fields, "title": self.catalog().number_of(draft.entry_id)}))


def _next_question(catalog: Catalog, kind: str, read: ReadDraft, skipped: Sequence[str]) -> Question | None:
    """Return what to measure next; what only a plate or a sheet tells comes last, for a worn unit has lost both."""
    on_plates = [one.field_id for one in all_fields().values() if one.field_id.startswith(_ON_PLATES)]
    first = next_question(catalog, kind, read.known, [*skipped, *on_plates])
    return first or next_question(catalog, kind, read.known, skipped)


def _tells(reading: FieldReading) -> bool:
    """Say whether a reading is fine enough to tell one unit from another: with enough doubt anything agrees."""
    usual, doubt = reading.field.default_doubt, reading.observed.doubt
    return reading.field.kind in _SIZES and doubt is not None and doubt <= _COARSEST_TIMES * usual


def _numbers(draft: UnitDraft) -> tuple[str, ...]:
    number = draft.text(Heading.NUMBER)
    return (number,) if number else ()


def _catalog_kind(kind: UnitKind) -> str:
    return "pump" if kind is UnitKind.PUMP else "machine"


def _line(field: Field, draft: UnitDraft, read: ReadDraft, before: Sequence[Known]) -> FieldLine:
    typed = draft.written.get(field.field_id)
    known = " / ".join(shown_value(field, one) for one in before)
    if typed is None or (typed.says_nothing and not typed.worked and not typed.is_skipped):
        return FieldLine(field, typed, "", LineState.BLANK, known=known)
    if typed.is_skipped:
        return FieldLine(field, typed, "", LineState.SKIPPED, known=known)
    reading, as_typed = read.readings.get(field.field_id), "; ".join(typed.texts)
    if reading is None:
        return FieldLine(field, typed, as_typed, LineState.TROUBLE, read.troubles[field.field_id], known=known)
    if reading.question is not None:
        return FieldLine(field, typed, as_typed, LineState.ASKED, reading.question.question, reading.question, known)
    differs = bool(before) and match_of(field, reading.known, before) is Match.CONTRADICTS
    state = LineState.DIFFERS if differs else LineState.READ
    return FieldLine(field, typed, reading.shown, state, reading.spread or "", known=known)


def _saved_unit(draft: UnitDraft, saved: Saved, catalog: Catalog) -> SavedUnit:
    touched = tuple(dict.fromkeys(_entry_of(saved)))
    if draft.entry_id:
        entry = catalog.entries[draft.entry_id]
        return SavedUnit(draft.entry_id, entry.kind, catalog.number_of(draft.entry_id), saved, touched)
    kind = "pump" if draft.kind is UnitKind.PUMP else "machine"
    rows = [one.after for one in saved.edits if one.table == "entries" and getattr(one.after, "kind", "") == kind]
    entry_id = str(getattr(rows[0], "entry_id", "")) if rows else ""
    return SavedUnit(entry_id, kind, draft.text(Heading.NUMBER) or entry_id, saved, touched)


def _entry_of(saved: Saved) -> Sequence[str]:
    rows = [one.after or one.before for one in saved.edits]
    return [str(getattr(row, "entry_id", "")) for row in rows]
