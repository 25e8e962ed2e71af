"""A unit on the bench as far as it is written down: each field as a person left it, and each step to take back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from enum import StrEnum
from types import MappingProxyType

from xref_app.core.errors import XrefError

_FORMAT = 1


class UnitKind(StrEnum):
    """What stands on the bench. A machine is written down with its engine; the store keeps the two apart."""

    PUMP = "pump"
    MACHINE = "machine"


class Heading(StrEnum):
    """What is written down of a unit that is no size."""

    NUMBER = "number"
    MAKER = "maker"
    NAME = "name"
    NOTE = "note"


# A photo is a field of its own, named by the hash of its content.
PHOTO = "photo:"


@dataclass(frozen=True, slots=True)
class Typed:
    """One field as a person left it.

    ``texts`` are the readings as typed, one each; ``parts`` the answers to a card that asks for several things, by the
    name of its step. ``instrument`` is what they were taken with, empty for the field's usual one; ``how`` the word for
    how the value is known; ``unit`` the unit a bare number was shown in. ``worked`` is the canonical text that was
    worked out of the readings (hole positions, a thread), else empty, and ``worked_doubt`` its half-width, mm.
    ``taken_as`` names the published size that the person said it is. ``is_skipped``: cannot be reached or read.
    """

    texts: tuple[str, ...] = ()
    parts: tuple[tuple[str, str], ...] = ()
    instrument: str = ""
    how: str = "measured"
    unit: str = "mm"
    worked: str = ""
    worked_doubt: float = 0.0
    taken_as: str = ""
    is_skipped: bool = False

    @property
    def says_nothing(self) -> bool:
        """Say whether no reading is there."""
        return not self.parts and not any(text.strip() for text in self.texts)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing a person did to a draft: ``before`` and ``after`` of one field, None where it was not written."""

    field: str
    before: Typed | None
    after: Typed | None


class DraftUnreadableError(XrefError):
    """A kept draft that cannot be read back."""

    def __init__(self, draft_id: str, why: str) -> None:
        super().__init__(f"The unfinished entry {draft_id} cannot be read ({why}); it is left aside, nothing else is.")
        self.draft_id = draft_id
        self.why = why


@dataclass(frozen=True)
class UnitDraft:
    """An unfinished entry; every change gives a new one.

    ``entry_id`` is the entry that is measured again, empty for a new one; ``pump_id`` the pump that came off a new
    machine, where its number is sure. ``written`` holds each field, heading or
    photo by its name. ``steps`` are all steps, of which the first ``done`` stand.
    """

    draft_id: str
    kind: UnitKind
    entry_id: str = ""
    pump_id: str = ""
    written: Mapping[str, Typed] = field(default_factory=lambda: MappingProxyType({}))
    steps: tuple[Step, ...] = ()
    done: int = 0

    @property
    def is_empty(self) -> bool:
        """Say whether nothing worth keeping is written down."""
        return not self.written

    @property
    def photos(self) -> tuple[str, ...]:
        """Return the content hashes of the photos, in the order they came."""
        return tuple(name.removeprefix(PHOTO) for name in self.written if name.startswith(PHOTO))

    def text(self, heading: Heading) -> str:
        """Return what is written under a heading."""
        typed = self.written.get(heading)
        return typed.texts[0].strip() if typed and typed.texts else ""

    def write(self, name: str, after: Typed | None) -> UnitDraft:
        """Return the draft with one field written, or blank again for None; steps taken back before are gone."""
        before = self.written.get(name)
        if before == after:
            return self
        steps = (*self.steps[: self.done], Step(name, before, after))
        return replace(self, written=_with(self.written, name, after), steps=steps, done=len(steps))

    @property
    def next_undo(self) -> str:
        """Return the field that the next undo changes, empty where there is none."""
        return self.steps[self.done - 1].field if self.done else ""

    @property
    def next_redo(self) -> str:
        """Return the field that the next redo changes, empty where there is none."""
        return self.steps[self.done].field if self.done < len(self.steps) else ""

    def undo(self) -> UnitDraft:
        """Return the draft before its last step."""
        if not self.done:
            return self
        step = self.steps[self.done - 1]
        return replace(self, written=_with(self.written, step.field, step.before), done=self.done - 1)

    def redo(self) -> UnitDraft:
        """Return the draft with the step done again that was taken back last."""
        if self.done == len(self.steps):
            return self
        step = self.steps[self.done]
        return replace(self, written=_with(self.written, step.field, step.after), done=self.done + 1)

    def as_text(self) -> str:
        """Return the whole draft, steps and all, as JSON."""
        return json.dumps(
            {
                "format": _FORMAT,
                "kind": self.kind.value,
                "entry_id": self.entry_id,
                "pump_id": self.pump_id,
                "written": {name: asdict(typed) for name, typed in self.written.items()},
                "steps": [asdict(step) for step in self.steps],
                "done": self.done,
            }
        )


def draft_from_text(draft_id: str, text: str) -> UnitDraft:
    """Return the draft kept as ``text``.

    Raises:
        DraftUnreadableError: it is damaged, or of a later format.
    """
    try:
        kept = json.loads(text)
        if kept["format"] != _FORMAT:
            raise DraftUnreadableError(draft_id, f"format {kept['format']}, not {_FORMAT}")
        draft = UnitDraft(
            draft_id=draft_id,
            kind=UnitKind(kept["kind"]),
            entry_id=str(kept["entry_id"]),
            pump_id=str(kept["pump_id"]),
            written=MappingProxyType({name: _typed(one) for name, one in kept["written"].items()}),
            steps=tuple(
                Step(one["field"], _typed_or_none(one["before"]), _typed_or_none(one["after"])) for one in kept["steps"]
            ),
            done=int(kept["done"]),
        )
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise DraftUnreadableError(draft_id, f"{type(error).__name__}: {error}") from error
    if not 0 <= draft.done <= len(draft.steps):
        raise DraftUnreadableError(draft_id, "more steps done than there are")
    return draft


def _with(written: Mapping[str, Typed], name: str, typed: Typed | None) -> Mapping[str, Typed]:
    kept = dict(written)
    if typed is None:
        kept.pop(name, None)
    else:
        kept[name] = typed
    return MappingProxyType(kept)


def _typed(kept: Mapping[str, object]) -> Typed:
    texts, parts, doubt = kept["texts"], kept["parts"], kept["worked_doubt"]
    if not isinstance(texts, list) or not isinstance(parts, list) or not isinstance(doubt, int | float):
        raise TypeError("readings or their doubt are of the wrong kind")
    return Typed(
        texts=tuple(str(one) for one in texts),
        parts=tuple((str(name), str(text)) for name, text in parts),
        instrument=str(kept["instrument"]),
        how=str(kept["how"]),
        unit=str(kept["unit"]),
        worked=str(kept["worked"]),
        worked_doubt=float(doubt),
        taken_as=str(kept["taken_as"]),
        is_skipped=kept["is_skipped"] is True,
    )


def _typed_or_none(kept: Mapping[str, object] | None) -> Typed | None:
    return None if kept is None else _typed(kept)
