"""The frame of one check: its name, its source, and how its four answers are put."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.finding import Finding, Outcome, Shown
from xref_app.core.model.known import How, Known
from xref_app.core.sentence import Sentence, marked

# One value a check reads: the id of its field and what is known of it, None where nothing is.
Reading = tuple[str, Known | None]

NOT_KNOWN = marked("findings", "Not known yet: {fields}.")


@dataclass(frozen=True, slots=True)
class Answer:
    """What may stand in a finding beside its outcome and reason."""

    needed: Shown = None
    offered: Shown = None
    gap: Shown = None


NOTHING_TO_SHOW = Answer()


@dataclass(frozen=True, slots=True)
class Question:
    """One check: ``check`` its name, ``asks`` what it asks in words, ``source`` where its rule comes from.

    ``on_arrival`` marks a check that can neither hurt nor break anything, so that not knowing blocks nothing.
    """

    check: str
    asks: str
    source: str
    on_arrival: bool = False

    def answer(
        self, outcome: Outcome, reason: Sentence, readings: Sequence[Reading] = (), shown: Answer = NOTHING_TO_SHOW
    ) -> Finding:
        """Return the finding with ``outcome``; every known one of ``readings`` is listed as used."""
        return Finding(
            check=self.check,
            outcome=outcome,
            reason=reason,
            source=self.source,
            needed=shown.needed,
            offered=shown.offered,
            gap=shown.gap,
            used=known(readings),
            on_arrival=self.on_arrival,
        )

    def passes(self, reason: Sentence, readings: Sequence[Reading] = (), shown: Answer = NOTHING_TO_SHOW) -> Finding:
        """Return that the whole range passes."""
        return self.answer(Outcome.PASS, reason, readings, shown)

    def fails(
        self,
        reason: Sentence,
        readings: Sequence[Reading] = (),
        shown: Answer = NOTHING_TO_SHOW,
        *,
        change: str = "",
    ) -> Finding:
        """Return that the whole range fails; ``change`` says, with the reason's values, what would have to change."""
        found = self.answer(Outcome.FAIL, reason, readings, shown)
        return replace(found, change=Sentence(change, reason.values)) if change else found

    def by_parts(self, reason: Sentence, readings: Sequence[Reading] = (), shown: Answer = NOTHING_TO_SHOW) -> Finding:
        """Return that it passes once parts are fitted; the caller adds them as needs."""
        return self.answer(Outcome.BY_PARTS, reason, readings, shown)

    def unsure(
        self,
        reason: Sentence,
        readings: Sequence[Reading],
        measure: Sequence[str],
        shown: Answer = NOTHING_TO_SHOW,
    ) -> Finding:
        """Return that the doubt straddles a limit; measuring ``measure`` more closely would decide it."""
        return replace(self.answer(Outcome.UNKNOWN, reason, readings, shown), measure=tuple(measure))

    def lacks(self, readings: Sequence[Reading], shown: Answer = NOTHING_TO_SHOW) -> Finding:
        """Return that some of ``readings`` are not known and have to be measured first."""
        missing = tuple(field for field, value in readings if value is None)
        reason = Sentence(NOT_KNOWN, {"fields": FieldNames(missing)})
        return replace(self.answer(Outcome.UNKNOWN, reason, readings, shown), measure=missing)


@dataclass(frozen=True, slots=True)
class FieldNames:
    """Fields inside a sentence, shown by their titles; the ids stay for whoever translates them."""

    ids: tuple[str, ...]

    def __str__(self) -> str:
        titles = [field_for(field).title for field in self.ids]
        return ", ".join(title[0].lower() + title[1:] for title in titles)

    def __format__(self, spec: str) -> str:
        return format(str(self), spec)


def known(readings: Sequence[Reading]) -> tuple[tuple[str, How], ...]:
    """Return the fields of ``readings`` that are known, each with how."""
    return tuple((field, value.how) for field, value in readings if value is not None)
