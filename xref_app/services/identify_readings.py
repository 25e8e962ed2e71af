"""Readings of a thread, shaft, bore, key, bolt circle or face turned into what the thing can be."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from xref_app.core.identify.answer import Identified
from xref_app.core.identify.bore import identify_bore
from xref_app.core.identify.circle import Spacing
from xref_app.core.identify.circle_sizes import standard_circles
from xref_app.core.identify.face import identify_face
from xref_app.core.identify.face_known import known_faces
from xref_app.core.identify.key import identify_key
from xref_app.core.identify.shaft import identify_shaft
from xref_app.core.identify.thread import identify_thread
from xref_app.core.identify.thread_readings import ThreadReadings
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked
from xref_app.exchange.json_file import JsonFileError
from xref_app.exchange.reading_kind import Kind
from xref_app.exchange.readings_file import Readings, load_readings
from xref_app.services.holes_read import WAYS, HolesRead, holes_read, refuse_unless_one_way

NOTHING = Identified((), ambiguous=False)
EVEN_FACES = marked("identify", "{names} has its holes equally spaced on this circle; these are not.")


@dataclass(frozen=True, slots=True)
class Told:
    """What the readings can be; the holes where some were measured; and what is to be told about the readings."""

    identified: Identified
    holes: HolesRead | None = None
    notes: tuple[str, ...] = ()


def identify_file(path: Path, kind: Kind) -> Told:
    """Return what the readings in the file at ``path`` can be.

    Raises:
        XrefError: the file cannot be read, or its readings cannot all be true; one sentence.
    """
    readings = load_readings(path, kind)
    told = _BY_KIND[kind](readings)
    return Told(told.identified, told.holes, readings.notes)


def _thread(readings: Readings) -> Told:
    return Told(
        identify_thread(
            ThreadReadings(
                gender=readings.word("gender"),
                outside_mm=readings.length_or_none("outside_mm"),
                outside_at=readings.word("outside_at"),
                inside_mm=readings.length_or_none("inside_mm"),
                pitch_mm=readings.length_or_none("pitch_mm"),
                taper=readings.yes_or_none("taper"),
                flank_angle_deg=readings.number_or_none("flank_angle_deg"),
                seal_mm=readings.length_or_none("seal_mm"),
                seat=readings.word("seat"),
            )
        )
    )


def _shaft(readings: Readings) -> Told:
    diameter = _needed(readings, "diameter_mm")
    key = (readings.length_or_none("key_width_mm"), readings.length_or_none("key_top_mm"))
    return Told(identify_shaft(diameter, *key))


def _bore(readings: Readings) -> Told:
    diameter = _needed(readings, "diameter_mm")
    keyway = (readings.length_or_none("keyway_width_mm"), readings.length_or_none("keyway_floor_mm"))
    return Told(identify_bore(diameter, *keyway))


def _key(readings: Readings) -> Told:
    return Told(identify_key(_needed(readings, "width_mm"), readings.length_or_none("height_mm")))


def _circle(readings: Readings) -> Told:
    refuse_unless_one_way(readings)
    found = holes_read(readings)
    if found.diameter_mm is None:
        return Told(NOTHING, found)
    return Told(standard_circles(found.diameter_mm), found)


def _face(readings: Readings) -> Told:
    refuse_unless_one_way(readings, ("circle_mm", *WAYS))
    witnesses = (readings.length_or_none("pilot_mm"), readings.length_or_none("shaft_diameter_mm"))
    circle = readings.length_or_none("circle_mm")
    if circle is None:
        found = holes_read(readings)
        if found.diameter_mm is None:
            return Told(NOTHING, found)
        identified = identify_face(found.holes, found.diameter_mm, *witnesses)
        return Told(without_even_faces(identified) if found.spacing is Spacing.UNEQUAL else identified, found)
    holes = readings.number_or_none("holes")
    if holes is None:
        raise JsonFileError("face readings", "“holes” is missing", "count the holes")
    return Told(identify_face(int(holes), circle, *witnesses))


def without_even_faces(identified: Identified) -> Identified:
    """Return the answer without the faces whose holes are equally spaced, naming them: these holes are not."""
    even = {face.name for face in known_faces() if face.equally_spaced}
    left = tuple(one for one in identified.candidates if one.label not in even)
    gone = [one.label for one in identified.candidates if one.label in even]
    notes = (*identified.notes, Sentence(EVEN_FACES, {"names": ", ".join(gone)})) if gone else identified.notes
    asked = identified.next_measurement
    if asked is None or len(left) < 2:
        return Identified(left, ambiguous=len(left) > 1, notes=notes)
    asked = replace(asked, between=tuple(one.label for one in left))
    return Identified(left, ambiguous=True, next_measurement=asked, notes=notes)


def _needed(readings: Readings, name: str) -> Range:
    found = readings.length_or_none(name)
    if found is None:
        raise JsonFileError(f"{readings.kind} readings", f"“{name}” is missing", "measure it first")
    return found


_BY_KIND: Mapping[Kind, Callable[[Readings], Told]] = {
    Kind.THREAD: _thread,
    Kind.SHAFT: _shaft,
    Kind.BORE: _bore,
    Kind.KEY: _key,
    Kind.CIRCLE: _circle,
    Kind.FACE: _face,
}
