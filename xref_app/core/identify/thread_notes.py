"""What must be said beside the candidates: nothing rounded away, nothing unsettled left unsaid."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from xref_app.core.identify.thread_evidence import Comparison, comparisons, could_be_gender, seat_agrees
from xref_app.core.identify.thread_forms import ThreadForm, thread_forms
from xref_app.core.identify.thread_readings import FEMALE, MALE, ThreadReadings
from xref_app.core.sentence import Sentence, marked

NEAR_MISS_MM = 0.3
"""A diameter that lies no further outside a thread's limits is worth naming the thread for. House rule."""

MEASURE_SEAL = marked("identify", "M22x1.5 comes with a 14 mm and a 15 mm seal that look alike; measure the seal.")
SEAL_IS_NEITHER = marked(
    "identify", "A seal read {low:.2f} to {high:.2f} mm is neither the 14 mm nor the 15 mm one; measure it again."
)
SAME_JOINT = marked("identify", "{labels} go together; the readings need not tell them apart.")
OUTSIDE_BELOW = marked(
    "identify", "The outside diameter lies {gap_mm:.2f} mm below the least of {label}: worn or damaged, or neither."
)
OUTSIDE_ABOVE = marked(
    "identify", "The outside diameter lies {gap_mm:.2f} mm above the most of {label}: bruised or coated, or neither."
)
INSIDE_BELOW = marked(
    "identify", "The inside diameter lies {gap_mm:.2f} mm below the least of {label}: bruised or coated, or neither."
)
INSIDE_ABOVE = marked(
    "identify", "The inside diameter lies {gap_mm:.2f} mm above the most of {label}: worn or damaged, or neither."
)
ONLY_BY_DOUBT = marked(
    "identify", "The reading itself lies outside the limits of {label}; only its doubt reaches them. Measure it again."
)
NOTHING_NEAR = marked("identify", "No thread in our tables has these readings; measure again, or it is a special.")
OUTSIDE_UNUSED = marked("identify", "The outside diameter says nothing about a female thread and was not used.")
INSIDE_UNUSED = marked("identify", "The inside diameter says nothing about a male thread and was not used.")
ALL_FROM_MEMORY = marked("identify", "{label} has its sizes from memory: a hint only, no verdict rests on it.")
NOTHING_TELLS = marked("identify", "No reading tells {labels} apart; look at what the mating part is made for.")

_DIAMETERS = frozenset({"outside_mm", "other_end_mm", "inside_mm"})


def notes_for(forms: Sequence[ThreadForm], readings: ThreadReadings) -> tuple[Sentence, ...]:
    """Return the notes for the candidates ``forms`` (at least one), best first."""
    return (*_unused(forms, readings), *_on_the_edge(forms, readings), *_on_seals(forms, readings), *_on_sets(forms))


def note_that_nothing_tells(forms: Sequence[ThreadForm]) -> Sentence:
    """Return the note for candidates that no reading would tell apart."""
    return Sentence(NOTHING_TELLS, {"labels": ", ".join(dict.fromkeys(form.label for form in forms))})


def notes_for_nothing(readings: ThreadReadings) -> tuple[Sentence, ...]:
    """Return the notes where no thread meets the readings: the nearest ones by diameter, or that there is none."""
    misses = sorted(_near_misses(readings), key=lambda miss: abs(miss[1].gap))
    if not misses:
        return (Sentence(NOTHING_NEAR),)
    least = abs(misses[0][1].gap)
    nearest = {form.label: _miss(form, miss) for form, miss in misses if abs(miss.gap) <= least + 0.005}
    return tuple(nearest.values())


def _unused(forms: Sequence[ThreadForm], readings: ThreadReadings) -> Iterator[Sentence]:
    genders = {form.gender for form in forms}
    if readings.outside_mm is not None and genders == {FEMALE}:
        yield Sentence(OUTSIDE_UNUSED)
    if readings.inside_mm is not None and genders == {MALE}:
        yield Sentence(INSIDE_UNUSED)


def _on_the_edge(forms: Sequence[ThreadForm], readings: ThreadReadings) -> Iterator[Sentence]:
    """Say so where not even the best candidate holds the middle of the readings."""
    if not all(one.is_centred for one in comparisons(forms[0], readings)):
        yield Sentence(ONLY_BY_DOUBT, {"label": forms[0].label})


def _on_seals(forms: Sequence[ThreadForm], readings: ThreadReadings) -> Iterator[Sentence]:
    if not any(form.row.seals_mm for form in forms):
        return
    if readings.seal_mm is None:
        yield Sentence(MEASURE_SEAL)
    elif all(form.seal_mm is None for form in forms if form.row.seals_mm):
        yield Sentence(SEAL_IS_NEITHER, {"low": readings.seal_mm.low, "high": readings.seal_mm.high})


def _on_sets(forms: Sequence[ThreadForm]) -> Iterator[Sentence]:
    labels = tuple(dict.fromkeys(form.label for form in forms))
    if len({form.mates_as for form in forms}) == 1 and len(labels) > 1:
        yield Sentence(SAME_JOINT, {"labels": ", ".join(labels)})
    if not any(form.row.decides for form in forms):
        yield Sentence(ALL_FROM_MEMORY, {"label": ", ".join(labels)})


def _near_misses(readings: ThreadReadings) -> Iterator[tuple[ThreadForm, Comparison]]:
    """Yield every thread that only diameters keep out, and those by little, with the one that lies furthest outside."""
    for form in thread_forms():
        if not (could_be_gender(form, readings) and seat_agrees(form, readings)):
            continue
        wrong = [comparison for comparison in comparisons(form, readings) if not comparison.agrees]
        if wrong and all(one.reading in _DIAMETERS and abs(one.gap) <= NEAR_MISS_MM for one in wrong):
            yield form, max(wrong, key=lambda one: abs(one.gap))


def _miss(form: ThreadForm, miss: Comparison) -> Sentence:
    inside = (INSIDE_BELOW, INSIDE_ABOVE)
    outside = (OUTSIDE_BELOW, OUTSIDE_ABOVE)
    below, above = inside if miss.reading == "inside_mm" else outside
    return Sentence(below if miss.gap < 0 else above, {"gap_mm": abs(miss.gap), "label": form.label})
