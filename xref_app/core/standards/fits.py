"""How far a bolt hole may stand off before its bolt no longer passes: ASME Y14.5, appendix B."""

from __future__ import annotations


def floating_fastener_offset_mm(hole_mm: float, bolt_mm: float) -> float:
    """Return how far the axis of a clearance hole may lie from the axis of the bolt in it, mm.

    For a bolt in a tapped face that is the whole offset between hole and thread. Where both parts have clearance
    holes each hole adds its own, so the offset between two equal holes may be twice as much.

    Args:
        hole_mm: Smallest hole, mm.
        bolt_mm: Largest bolt, mm.

    Returns:
        Half the difference, mm; negative where the bolt does not enter the hole at all.

    Source: ASME Y14.5, appendix B, floating fastener H = F + T, T being the diameter of the zone of the hole's axis.
    """
    return (hole_mm - bolt_mm) / 2


def floating_fastener_hole_mm(*, bolt_mm: float, zone_mm: float) -> float:
    """Return the smallest clearance hole for a largest bolt when both parts have clearance holes, mm.

    Args:
        bolt_mm: Largest bolt, mm.
        zone_mm: Diameter of the zone in which each hole's axis lies, mm.

    Source: ASME Y14.5, appendix B, H = F + T.
    """
    return bolt_mm + zone_mm


def fixed_fastener_zone_mm(*, hole_mm: float, bolt_mm: float) -> float:
    """Return the diameter of the zone that the clearance hole and the tapped hole may each have, mm.

    Args:
        hole_mm: Smallest clearance hole, mm.
        bolt_mm: Largest bolt, mm.

    Source: ASME Y14.5, appendix B, fixed fastener with equal zones, T = (H - F) / 2.
    """
    return (hole_mm - bolt_mm) / 2
