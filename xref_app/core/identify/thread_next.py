"""The one reading of a thread, not taken yet, that tells most of the candidates apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from xref_app.core.identify.answer import NextMeasurement
from xref_app.core.identify.thread_forms import ThreadForm
from xref_app.core.identify.thread_readings import GAUGE_SHARE, LARGE_END, SMALL_END, ThreadReadings
from xref_app.core.quantity.instruments import Instrument, doubt_of
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

# What a caliper leaves open over an outside, and in an inside.
OUTSIDE_DOUBT_MM = doubt_of(Instrument.CALIPER_OUTSIDE)
INSIDE_DOUBT_MM = doubt_of(Instrument.CALIPER_INSIDE)

ASK_PITCH = marked("identify", "Hold a thread gauge to it, or measure over ten crests: which pitch?")
ASK_TAPER = marked(
    "identify", "Measure over the crests near the tip and near the other end, or sight along them: is it taper?"
)
ASK_OUTSIDE = marked("identify", "Measure over the crests; where the thread is taper, at its large end, and say so.")
ASK_LARGE = marked("identify", "Measure over the crests at the large end too.")
ASK_SMALL = marked("identify", "Measure over the first full crests at the small end too.")
ASK_OTHER_END = marked("identify", "Measure over the crests at the other end too, and say which end is which.")
ASK_INSIDE = marked("identify", "Measure across the crests inside, close to the mouth.")
ASK_ANGLE = marked(
    "identify", "Hold the 55° and the 60° leaf of the same pitch to it against the light: which one fills the flanks?"
)
ASK_SEAL = marked("identify", "Measure the seal: is the plug 14 or 15 mm across (or the socket it goes into)?")
ASK_SEAT = marked(
    "identify",
    "Look what it seals on: a chamfer in the mouth with an O-ring, a flat face for a washer, a cone, or nothing?",
)

UNSURE_WEIGHT = 0.25
"""What a look is worth that tells two threads apart only where they happen to be made differently. House rule."""

_Tells = Callable[[ThreadForm, ThreadForm], float]


@dataclass(frozen=True, slots=True)
class _Question:
    """One reading that could be taken, how to ask for it, and how surely (0 to 1) it tells two threads apart."""

    reading: str
    ask: str
    tells: _Tells


def next_measurement(forms: Sequence[ThreadForm], readings: ThreadReadings) -> NextMeasurement | None:
    """Return the reading that tells most pairs of ``forms`` apart, or None where none does; the easiest of equals.

    Pairs that mate alike need no telling. Where the best candidate comes with two seals, the seal is asked for first:
    it shows a coupling for what it is.
    """
    if forms and forms[0].row.seals_mm and readings.seal_mm is None:
        return NextMeasurement("seal_mm", Sentence(ASK_SEAL), _labels(form for form in forms if form.row.seals_mm))
    pairs = [pair for pair in combinations(forms, 2) if pair[0].mates_as != pair[1].mates_as]
    best, told = None, 0.0
    for question in _open_questions(readings):
        count = sum(question.tells(*pair) for pair in pairs)
        if count > told:
            best, told = question, count
    if best is None:
        return None
    split = {form.label for pair in pairs if best.tells(*pair) for form in pair}
    return NextMeasurement(best.reading, Sentence(best.ask), _labels(form for form in forms if form.label in split))


def _labels(forms: Iterable[ThreadForm]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(form.label for form in forms))


def _open_questions(readings: ThreadReadings) -> list[_Question]:
    """Return what has not been read, easiest first."""
    questions = (
        _Question("pitch_mm", ASK_PITCH, _pitch_tells),
        _Question("taper", ASK_TAPER, lambda one, other: one.taper != other.taper),
        _Question("outside_mm", ASK_OUTSIDE, _outside_tells(LARGE_END)),
        _other_end_question(readings.other_end),
        _Question("inside_mm", ASK_INSIDE, _inside_tells),
        _Question("flank_angle_deg", ASK_ANGLE, lambda one, other: one.row.angle_deg != other.row.angle_deg),
        _Question("seal_mm", ASK_SEAL, _seal_tells),
        _Question("seat", ASK_SEAT, _seat_tells),
    )
    # A seal may be asked for again: what was read of it can be neither, or hold both.
    return [one for one in questions if one.reading == "seal_mm" or getattr(readings, one.reading) in {None, ""}]


def _other_end_question(end: str) -> _Question:
    asks = {LARGE_END: ASK_LARGE, SMALL_END: ASK_SMALL}
    return _Question("other_end_mm", asks.get(end, ASK_OTHER_END), _outside_tells(end or SMALL_END))


def _outside_tells(at: str) -> _Tells:
    return lambda one, other: _apart(one.outside_mm(at), other.outside_mm(at), OUTSIDE_DOUBT_MM)


def _inside_tells(one: ThreadForm, other: ThreadForm) -> bool:
    return _apart(one.inside_mm, other.inside_mm, INSIDE_DOUBT_MM)


def _pitch_tells(one: ThreadForm, other: ThreadForm) -> bool:
    coarser = max(one.row.pitch_mm, other.row.pitch_mm)
    return abs(one.row.pitch_mm - other.row.pitch_mm) > GAUGE_SHARE * coarser


def _seal_tells(one: ThreadForm, other: ThreadForm) -> bool:
    return one.seal_mm is not None and other.seal_mm is not None and one.seal_mm != other.seal_mm


def _seat_tells(one: ThreadForm, other: ThreadForm) -> float:
    if one.seats == other.seats:
        return 0.0
    return UNSURE_WEIGHT if one.seats & other.seats else 1.0


def _apart(one: Range | None, other: Range | None, doubt_mm: float) -> bool:
    """Say whether no reading with that doubt on either side of the truth meets both limits."""
    if one is None or other is None:
        return False
    return max(one.low - other.high, other.low - one.high) > 2 * doubt_mm
