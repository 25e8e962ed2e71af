"""Which drawn sizes a measured bolt circle can have."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from xref_app.core.identify.answer import Candidate, Identified, NextMeasurement
from xref_app.core.identify.face_known import CIRCLE_SLACK_MM, KnownFace, circle_limits_mm, known_faces
from xref_app.core.identify.shaft_evidence import best_first, evidence_mm
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.quantity.readings import refuse_unless_positive
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.exact import INCH_IN_MM, as_printed

SOURCE = "house rule: sixteenths of an inch and whole millimetres"
READING = "circle_mm"
_PARTS_OF_INCH = 16
# House rule: a circle read with more doubt than this meets so many sizes that naming them tells nothing.
COARSEST_DOUBT_MM = 2.0

TOO_COARSE = marked("identify", "With a doubt of {doubt:.2f} mm a circle can have any size; measure it finer.")
NOT_ROUND = marked(
    "identify", "No sixteenth of an inch, whole millimetre or published circle lies within {slack:g} mm."
)
ASK_FACE = marked(
    "identify", "Measure the pilot and the shaft: a circle alone cannot tell these sizes apart ({expected})."
)


def standard_circles(diameter: Range) -> Identified:
    """Return the sizes that a measured bolt circle can have: those of published faces first.

    Only a circle of NEMA MG 1 decides. IEC and engine circles are from memory, and that circles are drawn in sixteenths
    of an inch or whole millimetres is a house rule: such sizes are offered and never put in place of the reading.

    Args:
        diameter: The circle as found, mm.

    Raises:
        ReadingError: the diameter is zero, negative or endless.
    """
    refuse_unless_positive("The bolt circle", diameter)
    if diameter.doubt > COARSEST_DOUBT_MM:
        return Identified((), ambiguous=False, notes=(Sentence(TOO_COARSE, {"doubt": diameter.doubt}),))
    found = best_first((*_published(diameter), *_drawn(diameter)))
    if not found:
        return Identified((), ambiguous=False, notes=(Sentence(NOT_ROUND, {"slack": CIRCLE_SLACK_MM}),))
    ambiguous = len(found) > 1
    return Identified(found, ambiguous, _next(found) if ambiguous else None)


def _published(diameter: Range) -> Iterator[Candidate]:
    by_size: dict[float, list[KnownFace]] = {}
    for face in known_faces():
        if face.circle.meets(diameter):
            by_size.setdefault(face.nominal_circle_mm, []).append(face)
    for size_mm, faces in by_size.items():
        standards = ", ".join(dict.fromkeys(face.standard for face in faces))
        names = ", ".join(face.name for face in faces)
        decides = any(face.decides for face in faces)
        yield _candidate(size_mm, diameter, source=f"{standards}: {names}", decides=decides)


def _drawn(diameter: Range) -> Iterator[Candidate]:
    """Return the sizes of the two grids that no published face has."""
    taken = {face.nominal_circle_mm for face in known_faces()}
    for step_mm in (Fraction(1), INCH_IN_MM / _PARTS_OF_INCH):
        first = math.floor((diameter.low - CIRCLE_SLACK_MM) / float(step_mm))
        last = math.ceil((diameter.high + CIRCLE_SLACK_MM) / float(step_mm))
        for count in range(max(first, 1), last + 1):
            size_mm = float(count * step_mm)
            if size_mm not in taken and circle_limits_mm(size_mm).meets(diameter):
                taken.add(size_mm)
                yield _candidate(size_mm, diameter, source=SOURCE, decides=False)


def _candidate(size_mm: float, read: Range, *, source: str, decides: bool) -> Candidate:
    label = _label(size_mm)
    evidence = (evidence_mm(READING, read, circle_limits_mm(size_mm), label),)
    return Candidate(label, "inch" if " in" in label else "metric", size_mm, evidence, decides, source)


def _label(size_mm: float) -> str:
    """Return a size as it is drawn: 92 mm, 3-5/8 in, 10 in = 254 mm, and with decimals what is neither: 7.96 in."""
    metric = abs(size_mm - round(size_mm)) <= SAME_MM
    sixteenths = size_mm / float(INCH_IN_MM) * _PARTS_OF_INCH
    near = round(sixteenths)
    if abs(sixteenths - near) <= SAME_MM:
        inches = f"{as_printed(Fraction(near, _PARTS_OF_INCH))} in"
        return f"{inches} = {size_mm:g} mm" if metric else inches
    return f"{size_mm:g} mm" if metric else f"{size_mm / float(INCH_IN_MM):g} in"


def _next(found: tuple[Candidate, ...]) -> NextMeasurement:
    labels = tuple(one.label for one in found)
    return NextMeasurement("pilot_mm", Sentence(ASK_FACE, {"expected": "; ".join(labels)}), labels)
