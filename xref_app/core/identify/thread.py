"""Readings of one thread turned into the published threads they can be, and what to measure to decide."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref_app.core.identify.answer import Candidate, Identified, NextMeasurement
from xref_app.core.identify.thread_evidence import comparisons, evidence, is_allowed, seal_agrees
from xref_app.core.identify.thread_forms import ThreadForm, thread_forms
from xref_app.core.identify.thread_next import ASK_SEAL, next_measurement
from xref_app.core.identify.thread_notes import note_that_nothing_tells, notes_for, notes_for_nothing
from xref_app.core.identify.thread_readings import ThreadReadings
from xref_app.core.sentence import Sentence


def identify_thread(readings: ThreadReadings) -> Identified:
    """Return every thread of our tables that the readings allow, the best first.

    First come threads whose limits hold the middle of every reading, then those the readings only reach into; in each,
    published sizes before those from memory, and the deepest inside its limits first. The answer is ambiguous while
    threads are left that do not go together: a thread and its O-ring port are two, the two hose threads are one.
    An M22x1.5 stays ambiguous until its seal is read and is one of the two.
    """
    allowed = [form for form in thread_forms() if is_allowed(form, readings)]
    forms = _ranked(_with_seals_settled(allowed, readings), readings)
    if not forms:
        return Identified((), ambiguous=False, notes=notes_for_nothing(readings))
    seal_open = any(form.row.seals_mm and form.seal_mm is None for form in forms)
    ambiguous = len({form.mates_as for form in forms}) > 1 or seal_open
    ask = _next(forms, readings) if ambiguous else None
    notes = notes_for(forms, readings)
    if ambiguous and ask is None:
        notes = (*notes, note_that_nothing_tells(forms))
    return Identified(_candidates(forms, readings), ambiguous, ask, notes)


def _with_seals_settled(forms: Sequence[ThreadForm], readings: ThreadReadings) -> list[ThreadForm]:
    """Return ``forms`` with the seals that were read; a seal that is none of them leaves the bare thread, seal open."""
    found = [form for form in forms if seal_agrees(form, readings)]
    settled = {(form.designation, form.gender) for form in found}
    bare = {
        (form.designation, form.gender): replace(form, label=form.designation, seal_mm=None, mates_as=form.designation)
        for form in forms
        if (form.designation, form.gender) not in settled
    }
    return [*found, *bare.values()]


def _ranked(forms: Sequence[ThreadForm], readings: ThreadReadings) -> list[ThreadForm]:
    def rank(form: ThreadForm) -> tuple[bool, bool, float]:
        held = comparisons(form, readings)
        centred = all(one.is_centred for one in held)
        return not centred, not form.row.decides, max((one.strain for one in held), default=0.0)

    return sorted(forms, key=rank)


def _candidates(forms: Sequence[ThreadForm], readings: ThreadReadings) -> tuple[Candidate, ...]:
    """Return one candidate for each label: where nobody said the gender, the better of the two stands."""
    found: dict[str, Candidate] = {}
    for form in forms:
        found.setdefault(form.label, _candidate(form, readings))
    return tuple(found.values())


def _candidate(form: ThreadForm, readings: ThreadReadings) -> Candidate:
    return Candidate(
        label=form.label,
        system=form.system,
        nominal_mm=form.row.major_mm,
        evidence=tuple(evidence(form, one) for one in comparisons(form, readings)),
        decides=form.row.decides,
        source=form.source,
    )


def _next(forms: Sequence[ThreadForm], readings: ThreadReadings) -> NextMeasurement | None:
    found = next_measurement(forms, readings)
    if found is None and any(form.row.seals_mm and form.seal_mm is None for form in forms):
        return NextMeasurement("seal_mm", Sentence(ASK_SEAL), tuple(form.label for form in forms))
    return found
