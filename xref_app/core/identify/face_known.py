"""Every face that readings are held against, motors' and engines', in one form."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref_app.core.identify.shaft_limits import shaft_limits_mm
from xref_app.core.quantity.range import Range
from xref_app.core.standards.engine_faces import engine_faces
from xref_app.core.standards.faces import PublishedFace, published_faces

# House rule: a drilled hole may stand 0.1 mm off its place, so a circle through two of them is 0.2 mm off at most.
CIRCLE_SLACK_MM = 0.2
# House rule: what is read may be the boss itself or the recess made for it, which centres with at most this much play.
RECESS_PLAY_MM = 0.15
# House rule: where only a nominal pilot is remembered, its limits are taken this wide.
_REMEMBERED_PILOT_MM = 0.1


@dataclass(frozen=True, slots=True)
class KnownFace:
    """The limits of one face, mm; ``pilot`` and ``shaft`` None where no table gives them."""

    name: str
    standard: str
    bolt_count: int
    equally_spaced: bool
    nominal_circle_mm: float
    pilot: Range | None
    shaft: Range | None
    decides: bool
    source: str

    @property
    def circle(self) -> Range:
        """Return the limits of the bolt circle, mm."""
        return circle_limits_mm(self.nominal_circle_mm)


def circle_limits_mm(nominal_mm: float) -> Range:
    """Return what a circle of that nominal diameter may measure, mm (house rule)."""
    return Range.around(nominal_mm, CIRCLE_SLACK_MM)


@cache
def known_faces() -> tuple[KnownFace, ...]:
    """Return the faces of NEMA MG 1, of IEC 60072-1 (hints) and of small engines (hints)."""
    motors = tuple(_motor(face) for face in published_faces())
    return motors + tuple(
        KnownFace(
            name=face.name,
            standard="engine",
            bolt_count=face.bolt_count,
            equally_spaced=face.equally_spaced,
            nominal_circle_mm=face.bolt_circle_mm,
            pilot=None if face.pilot_mm is None else _with_recess(Range.around(face.pilot_mm, _REMEMBERED_PILOT_MM)),
            shaft=None,
            decides=False,
            source=face.source,
        )
        for face in engine_faces()
    )


def _motor(face: PublishedFace) -> KnownFace:
    system = "inch" if face.standard.startswith("NEMA") else "metric"
    return KnownFace(
        name=face.name,
        standard=face.standard,
        bolt_count=face.bolt_count,
        equally_spaced=True,
        nominal_circle_mm=face.bolt_circle_mm,
        pilot=_with_recess(face.pilot_mm),
        shaft=shaft_limits_mm(system, face.shaft_diameter_mm),
        decides=face.decides,
        source=face.source,
    )


def _with_recess(boss: Range) -> Range:
    return Range(boss.low, boss.high + RECESS_PLAY_MM)
