"""Every male and every female thread that readings can be held against, each with all that can be read of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from xref_app.core.identify.thread_limits import EndLimits, female_limits, has_house_limits, male_limits
from xref_app.core.identify.thread_readings import CONE, FACE, FEMALE, LARGE_END, MALE, NO_SEAT, O_RING, SMALL_END
from xref_app.core.quantity.range import Range
from xref_app.core.standards.threads import ThreadRow, thread_rows

O_RING_PORT = "O-ring port"
"""The system of a straight inch thread with the chamfer of an O-ring in the mouth of its port."""

_EVERY_SEAT = frozenset({O_RING, FACE, CONE, NO_SEAT})
_SEATS = {
    # ISO 228-1: seals on a washer, bonded seal or O-ring; on a cone too (ISO 8434-6, from memory). The sealing threads
    # of B1.20.1 and ISO 7-1 have no seat, though the face of a port may be machined and an end may have a cone besides.
    "G": frozenset({O_RING, FACE, CONE}),
    "R": frozenset({FACE, CONE, NO_SEAT}),
    "NPT": frozenset({FACE, CONE, NO_SEAT}),
    "unified": frozenset({FACE, CONE, NO_SEAT}),
    "unified port": frozenset({FACE, CONE, NO_SEAT}),
}
_PLAIN_FAMILY = {"unified port": "unified"}


@dataclass(frozen=True, slots=True)
class ThreadForm:
    """One thread of one gender.

    ``label`` is what to write down; ``designation`` the same without the seal or the port, as the fit checks read it.
    ``outside`` is None for a female thread, ``inside_mm`` for a male one. ``seats`` are what it may be found to seal
    on, ``seal_mm`` the one seal it goes with. Forms of the same ``mates_as`` go together whatever their names.
    """

    label: str
    designation: str
    system: str
    gender: str
    row: ThreadRow
    pitch_mm: Range
    taper: bool
    outside: EndLimits | None
    inside_mm: Range | None
    seats: frozenset[str]
    seal_mm: float | None
    mates_as: str
    source: str

    def outside_mm(self, at: str) -> Range | None:
        """Return what a caliper may read over the crests at that end, mm, or at any where ``at`` is ""."""
        if self.outside is None:
            return None
        ends = {LARGE_END: self.outside.large_mm, SMALL_END: self.outside.small_mm}
        return ends.get(at) or self.outside.unsaid_mm


@cache
def thread_forms() -> tuple[ThreadForm, ...]:
    """Return every form of every thread in the order of the table, males before females."""
    return tuple(form for row in thread_rows() for form in (*_males(row), *_females(row)))


def _males(row: ThreadRow) -> Iterator[ThreadForm]:
    outside = male_limits(row)
    if outside is not None:
        bare = _bare(row, row.designation, MALE)
        yield from _with_seals(replace(bare, outside=outside, taper=row.family in {"NPT", "R"}))


def _females(row: ThreadRow) -> Iterator[ThreadForm]:
    for name in row.female_forms or ("",):
        inside = female_limits(row, name)
        if inside is not None:
            bare = _bare(row, f"{name}{row.nominal}" if name else row.designation, FEMALE)
            taper = row.family == "NPT" or name == "Rc"
            yield from _with_seals(replace(bare, inside_mm=inside, taper=taper, system=name or bare.system))


def _bare(row: ThreadRow, designation: str, gender: str) -> ThreadForm:
    source = f"{row.source}; limits: house rule" if has_house_limits(row) else row.source
    return ThreadForm(
        label=designation,
        designation=designation,
        system=_PLAIN_FAMILY.get(row.family, row.family),
        gender=gender,
        row=row,
        pitch_mm=Range.exactly(row.pitch_mm),
        taper=False,
        outside=None,
        inside_mm=None,
        seats=_SEATS.get(row.family, _EVERY_SEAT),
        seal_mm=None,
        mates_as=_mates_as(row, designation),
        source=source,
    )


def _mates_as(row: ThreadRow, designation: str) -> str:
    # ASME B1.20.7 makes the rolled, thin-walled hose thread to go with the cut one.
    return designation.replace("NHR", "NH") if row.family == "hose" else designation


def _with_seals(form: ThreadForm) -> Iterator[ThreadForm]:
    """Yield the form once for each seal it comes with, and the O-ring port cut in it beside the plain thread."""
    if form.row.seals_mm:
        for seal in form.row.seals_mm:
            label = f"{form.label}, {seal:g} mm seal"
            yield replace(form, label=label, seal_mm=seal, mates_as=label)
        return
    yield form
    if form.row.port_dash:
        label = f"{form.label} {O_RING_PORT}"
        yield replace(form, label=label, system=O_RING_PORT, seats=frozenset({O_RING}), mates_as=label)
