"""The limits within which the shafts that carry pumps are made: for metric ones closer than the judge's net of h9."""

from __future__ import annotations

from xref_app.core.quantity.range import Range, hull
from xref_app.core.standards.limits import limits_mm

SOURCE = "house rule: inch shafts h9, metric shafts from h6 to k6 of ISO 286"


def shaft_limits_mm(system: str, diameter_mm: float) -> Range:
    """Return the limits of a shaft as made, mm; never further under the nominal size than the judge's h9.

    The judge lets every shaft be h9, because a wide net keeps it from a wrong 'Fits'. To name a size a wide net does
    harm: h9 of 19 mm reaches down to 18.948, so a shaft read as 18.96 ± 0.02 would be called 19 mm although it is some
    hundredths worn, or was never 19.

    Metric shafts that carry a pump are published closer: IEC 60072-1 makes them j6 or k6 (the zones of that table are
    from memory), and plain ground driving shafts are h6 (common practice, no published source). They lie from h6 to
    k6, which is 18.987 to 19.015 for 19 mm; a shaft made to a wider zone is said to be so far under and is not called
    worn for certain. Inch shafts keep h9: NEMA MG 1 makes them closer, but those of engines are remembered as up to
    0.0017 in under, and nothing closer than h9 holds all of these.

    Args:
        system: ``inch`` or ``metric``.
        diameter_mm: Nominal diameter, mm, up to 250.

    Raises:
        NotInStandardError: the diameter is outside the tables of ISO 286.

    Source: house rule, from the standards named above.
    """
    if system == "inch":
        return limits_mm("h9", diameter_mm)
    return hull((limits_mm("h6", diameter_mm), limits_mm("k6", diameter_mm)))
