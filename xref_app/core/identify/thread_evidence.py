"""Readings held against one thread: what agrees, how deep inside its limits, and what does not."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.identify.answer import Evidence
from xref_app.core.identify.thread_forms import ThreadForm
from xref_app.core.identify.thread_readings import FEMALE, MALE, ThreadReadings
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

OUTSIDE_AGREES = marked(
    "identify", "outside diameter read {read_low:.2f} to {read_high:.2f} mm, {label} allows {low:.2f} to {high:.2f} mm"
)
OTHER_END_AGREES = marked(
    "identify",
    "outside diameter at the other end read {read_low:.2f} to {read_high:.2f} mm, "
    "{label} allows {low:.2f} to {high:.2f} mm",
)
INSIDE_AGREES = marked(
    "identify", "inside diameter read {read_low:.2f} to {read_high:.2f} mm, {label} allows {low:.2f} to {high:.2f} mm"
)
PITCH_AGREES = marked("identify", "pitch read {read_low:.3f} to {read_high:.3f} mm, {label} has {low:.3f} mm")
ANGLE_AGREES = marked("identify", "flank angle read {read_low:.0f}°, {label} has {low:.0f}°")
SEAL_AGREES = marked("identify", "seal read {read_low:.2f} to {read_high:.2f} mm, {label} has {low:.0f} mm")
IS_TAPER = marked("identify", "read as taper, {label} is taper")
IS_PARALLEL = marked("identify", "read as parallel, {label} is parallel")

_AGREES = {
    "outside_mm": OUTSIDE_AGREES,
    "other_end_mm": OTHER_END_AGREES,
    "inside_mm": INSIDE_AGREES,
    "pitch_mm": PITCH_AGREES,
    "flank_angle_deg": ANGLE_AGREES,
    "seal_mm": SEAL_AGREES,
}


@dataclass(frozen=True, slots=True)
class Comparison:
    """One reading against one thread, in the reading's unit; a taper is 1, none 0."""

    reading: str
    read: Range
    limits: Range

    @property
    def agrees(self) -> bool:
        """Say whether the reading allows the thread."""
        return self.read.meets(self.limits)

    @property
    def gap(self) -> float:
        """Return how far the reading lies outside the limits: below zero when under them, 0 when it meets them."""
        if self.agrees:
            return 0.0
        below = self.read.high < self.limits.low
        return self.read.high - self.limits.low if below else self.read.low - self.limits.high

    @property
    def strain(self) -> float:
        """Return how far off the middle of the limits the reading lies: 0 in the middle, 1 where they barely meet."""
        reach = self.read.doubt + self.limits.doubt
        return 0.0 if reach < SAME_MM else abs(self.read.middle - self.limits.middle) / reach

    @property
    def is_centred(self) -> bool:
        """Say whether the limits hold the middle of the reading; an exact size is centred wherever it meets it."""
        return self.limits.doubt < SAME_MM or Range.exactly(self.read.middle).within(self.limits)


def could_be_gender(form: ThreadForm, readings: ThreadReadings) -> bool:
    """Say whether the thread is of the gender that was said, or that the diameters read belong to."""
    if readings.gender:
        return form.gender == readings.gender
    if readings.outside_mm is not None or readings.other_end_mm is not None:
        return form.gender == MALE
    return readings.inside_mm is None or form.gender == FEMALE


def comparisons(form: ThreadForm, readings: ThreadReadings) -> tuple[Comparison, ...]:
    """Return every reading that says anything about the thread, held against it."""
    pairs = (
        ("outside_mm", readings.outside_mm, form.outside_mm(readings.outside_at)),
        ("other_end_mm", readings.other_end_mm, form.outside_mm(readings.other_end)),
        ("inside_mm", readings.inside_mm, form.inside_mm),
        ("pitch_mm", readings.pitch_mm, form.pitch_mm),
        ("taper", _exactly(readings.taper), _exactly(form.taper)),
        ("flank_angle_deg", _exactly(readings.flank_angle_deg), _exactly(form.row.angle_deg)),
        ("seal_mm", readings.seal_mm, _exactly(form.seal_mm)),
    )
    return tuple(Comparison(name, read, limits) for name, read, limits in pairs if read and limits)


def is_allowed(form: ThreadForm, readings: ThreadReadings) -> bool:
    """Say whether no reading but the seal's keeps the thread out."""
    return could_be_gender(form, readings) and _form_agrees(form, readings) and _lengths_agree(form, readings)


def seal_agrees(form: ThreadForm, readings: ThreadReadings) -> bool:
    """Say whether the thread goes with the seal that was read, or with none at all."""
    return _meets_or_unread(readings.seal_mm, _exactly(form.seal_mm))


def _form_agrees(form: ThreadForm, readings: ThreadReadings) -> bool:
    return (
        _same_or_unread(readings.taper, form.taper)
        and _same_or_unread(readings.flank_angle_deg, form.row.angle_deg)
        and seat_agrees(form, readings)
    )


def _lengths_agree(form: ThreadForm, readings: ThreadReadings) -> bool:
    return (
        _meets_or_unread(readings.pitch_mm, form.pitch_mm)
        and _meets_or_unread(readings.outside_mm, form.outside_mm(readings.outside_at))
        and _meets_or_unread(readings.other_end_mm, form.outside_mm(readings.other_end))
        and _meets_or_unread(readings.inside_mm, form.inside_mm)
    )


def _same_or_unread(read: float | None, true: float) -> bool:
    return read is None or read == true


def _meets_or_unread(read: Range | None, limits: Range | None) -> bool:
    return read is None or limits is None or read.meets(limits)


def seat_agrees(form: ThreadForm, readings: ThreadReadings) -> bool:
    """Say whether the thread may seal on what was found to seal on."""
    return not readings.seat or readings.seat in form.seats


def evidence(form: ThreadForm, comparison: Comparison) -> Evidence:
    """Return the comparison as the answer shows it."""
    return Evidence(comparison.reading, comparison.read, comparison.limits, _said(form, comparison))


def _exactly(value: float | None) -> Range | None:
    return None if value is None else Range.exactly(float(value))


def _said(form: ThreadForm, comparison: Comparison) -> Sentence:
    read, limits = comparison.read, comparison.limits
    values: dict[str, object] = {"label": form.label, "read_low": read.low, "read_high": read.high}
    values |= {"low": limits.low, "high": limits.high}
    if comparison.reading == "taper":
        return Sentence(IS_TAPER if form.taper else IS_PARALLEL, values)
    return Sentence(_AGREES[comparison.reading], values)
