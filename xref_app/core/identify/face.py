"""Which published face a measured one is, with pilot and shaft as further witnesses."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from xref_app.core.identify.answer import Candidate, Identified, NextMeasurement
from xref_app.core.identify.face_known import KnownFace, known_faces
from xref_app.core.identify.shaft_evidence import best_first, evidence_mm
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError, refuse_unless_positive
from xref_app.core.sentence import Sentence, marked

CIRCLE, PILOT, SHAFT = "circle_mm", "pilot_mm", "shaft_diameter_mm"

WITNESS_DISAGREES = marked(
    "identify",
    "{names} has the same {holes} holes on the same circle, but a {what} of {limits}; this one reads {read}.",
)
PILOT_WORD, SHAFT_WORD = marked("identify", "pilot"), marked("identify", "shaft")
CIRCLE_ALONE = marked(
    "identify",
    "A circle alone proves no face, for flanges nobody publishes share it: pilot or shaft must agree as well.",
)
UNEQUAL = marked("identify", "The holes of the {name} are not equally spaced: take all three distances.")
ONLY_HINTS = marked("identify", "Nothing but what is remembered meets these readings: a hint, no proof of the face.")
SAME_FACE = marked("identify", "{names} have one and the same face and shaft; only the plate tells them apart.")
ASK_PILOT = marked("identify", "Measure the pilot: the round boss or recess about the shaft ({expected}).")
ASK_SHAFT = marked("identify", "Measure the shaft's diameter ({expected}).")
ASK_CIRCLE = marked("identify", "Measure the distances of the holes again, finer ({expected}).")


@dataclass(frozen=True, slots=True)
class _Witness:
    """One reading of a face besides its holes: its name, its limits on a known face, and how to ask for it."""

    name: str
    word: str
    limits: Callable[[KnownFace], Range | None]
    ask: str


_PILOT = _Witness(PILOT, PILOT_WORD, lambda face: face.pilot, ASK_PILOT)
_SHAFT = _Witness(SHAFT, SHAFT_WORD, lambda face: face.shaft, ASK_SHAFT)
_CIRCLE = _Witness(CIRCLE, "", lambda face: face.circle, ASK_CIRCLE)


def identify_face(holes: int, circle: Range, pilot: Range | None = None, shaft: Range | None = None) -> Identified:
    """Return which published faces the readings can be, proven ones first, then hints.

    A face of NEMA MG 1 decides; IEC and engine faces are from memory and only hint. A face whose pilot or shaft is not
    remembered is not ruled out by them. The circle alone never settles a face: it stays ambiguous until
    pilot or shaft agree.

    Args:
        holes: Number of bolt holes, 2 or more.
        circle: Diameter of the bolt circle as found, mm.
        pilot: Diameter of the pilot, boss or recess, as read, mm; None where it was not, or there is none.
        shaft: Diameter of the shaft as read, mm; None where it was not.

    Raises:
        ReadingError: fewer than two holes, or a reading that is no size.
    """
    read = _readings(holes, circle, pilot, shaft)
    on_circle = [face for face in known_faces() if face.bolt_count == holes and face.circle.meets(circle)]
    faces = [face for face in on_circle if all(_agrees(face, one, value) for one, value in read.items())]
    ambiguous = len(faces) > 1 or (len(faces) == 1 and not _second_witness(faces[0], read))
    return Identified(
        candidates=best_first(_candidate(face, read) for face in faces),
        ambiguous=ambiguous,
        next_measurement=_next(faces, read) if ambiguous else None,
        notes=_disagreements(on_circle, read) + _remarks(faces, read),
    )


def _readings(holes: int, circle: Range, pilot: Range | None, shaft: Range | None) -> dict[_Witness, Range]:
    if holes < 2:
        raise ReadingError(f"A face with {holes} bolt holes is none; count the holes again.")
    refuse_unless_positive("The bolt circle", circle)
    read = {_CIRCLE: circle}
    for witness, value in ((_PILOT, pilot), (_SHAFT, shaft)):
        if value is not None:
            refuse_unless_positive(f"The {witness.word}", value)
            read[witness] = value
    return read


def _agrees(face: KnownFace, witness: _Witness, value: Range) -> bool:
    limits = witness.limits(face)
    return limits is None or limits.meets(value)


def _candidate(face: KnownFace, read: Mapping[_Witness, Range]) -> Candidate:
    held = [(one.name, value, one.limits(face)) for one, value in read.items()]
    return Candidate(
        label=face.name,
        system=face.standard,
        nominal_mm=face.nominal_circle_mm,
        evidence=tuple(evidence_mm(name, value, limits, face.name) for name, value, limits in held if limits),
        decides=face.decides,
        source=face.source,
    )


def _disagreements(on_circle: Sequence[KnownFace], read: Mapping[_Witness, Range]) -> tuple[Sentence, ...]:
    """Say which faces the circle allows and a witness does not, those of one size together."""
    against: dict[tuple[_Witness, Range], list[KnownFace]] = {}
    for face in on_circle:
        witness = next((one for one, value in read.items() if not _agrees(face, one, value)), None)
        limits = None if witness is None else witness.limits(face)
        if witness is not None and limits is not None:
            against.setdefault((witness, limits), []).append(face)
    return tuple(_disagreement(faces, one, limits, read[one]) for (one, limits), faces in against.items())


def _disagreement(faces: Sequence[KnownFace], witness: _Witness, limits: Range, read: Range) -> Sentence:
    values = {
        "names": _names(faces),
        "holes": faces[0].bolt_count,
        "what": witness.word,
        "limits": _span(limits),
        "read": _span(read),
    }
    return Sentence(WITNESS_DISAGREES, values)


def _second_witness(face: KnownFace, read: Mapping[_Witness, Range]) -> bool:
    """Say whether anything but the circle was held against this face."""
    return any(one in read and one.limits(face) is not None for one in (_PILOT, _SHAFT))


def _remarks(faces: Sequence[KnownFace], read: Mapping[_Witness, Range]) -> tuple[Sentence, ...]:
    notes = [Sentence(UNEQUAL, {"name": face.name}) for face in faces if not face.equally_spaced]
    if faces and not any(_second_witness(face, read) for face in faces):
        notes.append(Sentence(CIRCLE_ALONE))
    if faces and not any(face.decides for face in faces):
        notes.append(Sentence(ONLY_HINTS))
    same: dict[tuple[Range, Range | None, Range | None], list[KnownFace]] = {}
    for face in faces:
        same.setdefault((face.circle, face.pilot, face.shaft), []).append(face)
    notes += [Sentence(SAME_FACE, {"names": _names(twins)}) for twins in same.values() if len(twins) > 1]
    return tuple(notes)


def _next(faces: Sequence[KnownFace], read: Mapping[_Witness, Range]) -> NextMeasurement | None:
    """Return what tells most of the faces apart, a witness not yet heard before one to be read again."""
    order = sorted((_PILOT, _SHAFT, _CIRCLE), key=lambda one: (one in read, -_told_apart(one, faces)))
    telling = next((one for one in order if _told_apart(one, faces)), None)
    if len(faces) == 1:
        telling = next((one for one in (_PILOT, _SHAFT) if one.limits(faces[0]) is not None), None)
    if telling is None:
        return None
    limits = {face.name: telling.limits(face) for face in faces}
    expected = "; ".join(f"{name}: {_span(one)}" for name, one in limits.items() if one)
    return NextMeasurement(telling.name, Sentence(telling.ask, {"expected": expected}), tuple(limits))


def _told_apart(witness: _Witness, faces: Sequence[KnownFace]) -> int:
    couples = combinations((witness.limits(face) for face in faces), 2)
    return sum(not one.meets(other) for one, other in couples if one is not None and other is not None)


def _names(faces: Sequence[KnownFace]) -> str:
    return ", ".join(face.name for face in faces)


def _span(limits: Range) -> str:
    return f"{limits.low:.2f} to {limits.high:.2f} mm"
