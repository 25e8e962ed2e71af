"""Which standard key a measured one is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref_app.core.identify.answer import Candidate, Identified, NextMeasurement
from xref_app.core.identify.shaft_evidence import best_first, evidence_mm
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import refuse_unless_positive
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.exact import as_fraction
from xref_app.core.standards.key_widths import StandardWidth, standard_widths
from xref_app.core.standards.limits import limits_mm
from xref_app.core.standards.table_files import FROM_MEMORY, inch_limits_mm, table_rows

WIDTH, HEIGHT = "width_mm", "height_mm"

OVER = marked("identify", "It is {least:.3f} to {most:.3f} mm wider than a {label} key: burred, or filed from another.")
UNDER = marked("identify", "It is {least:.3f} to {most:.3f} mm narrower than a {label} key: worn, or filed to fit.")
HEIGHT_IS_ANOTHER = marked(
    "identify", "{read} is not the height of a {labels} key: measure again, or it is a stepped or filed one."
)
ASK_WIDTH = marked("identify", "Measure the width again, free of burrs, with the outside jaws ({expected}).")
ASK_HEIGHT = marked("identify", "Measure the height, from the floor side to the top of the key ({expected}).")


@dataclass(frozen=True, slots=True)
class StandardKey:
    """A standard width with the limits of the height that goes with it, mm.

    The zone of a metric key's height (h9 square, h11 rectangular) is from memory; see ISO 773 in ``keys_metric.csv``.
    """

    width: StandardWidth
    height_mm: Range


@cache
def standard_keys() -> tuple[StandardKey, ...]:
    """Return 3/32 to 1/2 in, square (ASME B17.1), then 2 to 16 mm (ISO 773)."""
    inch = [_inch_height(row) for row in table_rows("keys_inch_ranges")]
    metric = [limits_mm(row["key_height_zone"], float(row["key_height_mm"])) for row in table_rows("keys_metric")]
    inch_widths = [width for width in standard_widths() if width.system == "inch"]
    metric_widths = [width for width in standard_widths() if width.system == "metric"]
    # The table of inch keys runs on beyond the widths that are looked for, so it may be the longer one.
    keys = [*zip(inch_widths, inch, strict=False), *zip(metric_widths, metric, strict=True)]
    return tuple(StandardKey(width, height) for width, height in keys)


def identify_key(width: Range, height: Range | None = None) -> Identified:
    """Return which standard keys the readings can be, the most likely first.

    3/16 in and 5 mm, 1/4 in and 6 mm are neighbours that do not fit each other's keyways; a key between two sizes is
    none of them, and by how much is said.

    Args:
        width: Across the two sides that carry the load, as read, mm.
        height: Across the other two, as read, mm; None where it was not.

    Raises:
        ReadingError: a reading is zero, negative or endless.
    """
    refuse_unless_positive("The width of the key", width)
    if height is not None:
        refuse_unless_positive("The height of the key", height)
    by_width = [key for key in standard_keys() if key.width.key_mm.meets(width)]
    if not by_width:
        return Identified((), ambiguous=False, notes=_neighbours(width))
    agreeing = [key for key in by_width if height is None or key.height_mm.meets(height)]
    keys = agreeing or by_width
    ambiguous = len(keys) > 1 or not agreeing
    return Identified(
        candidates=best_first(_candidate(key, width, height if agreeing else None) for key in keys),
        ambiguous=ambiguous,
        next_measurement=_next(keys, width, height) if ambiguous else None,
        notes=() if agreeing or height is None else (_other_height(height, keys),),
    )


def _inch_height(row: Mapping[str, str]) -> Range:
    height_in, width_in = as_fraction(row["key_height_in"]), as_fraction(row["key_width_in"])
    fits = table_rows("keys_inch_tolerances")
    fit = next(fit for fit in fits if width_in <= as_fraction(fit["key_width_to_incl_in"]))
    return inch_limits_mm(height_in, fit["key_height_tol_in"])


def _candidate(key: StandardKey, width: Range, height: Range | None) -> Candidate:
    label = key.width.label
    evidence = [evidence_mm(WIDTH, width, key.width.key_mm, label)]
    if height is not None:
        evidence.append(evidence_mm(HEIGHT, height, key.height_mm, label))
    return Candidate(
        label=label,
        system=key.width.system,
        nominal_mm=key.width.width_mm,
        evidence=tuple(evidence),
        decides=not key.width.confidence.startswith(FROM_MEMORY),
        source=key.width.source,
    )


def _other_height(height: Range, keys: list[StandardKey]) -> Sentence:
    labels = " / ".join(key.width.label for key in keys)
    return Sentence(HEIGHT_IS_ANOTHER, {"read": f"{height.low:.3f} to {height.high:.3f} mm", "labels": labels})


def _neighbours(width: Range) -> tuple[Sentence, ...]:
    """Say by how much the width misses the next smaller and the next larger standard key."""
    keys = sorted(standard_widths(), key=lambda key: key.width_mm)
    below = [key for key in keys if key.key_mm.high < width.low][-1:]
    above = [key for key in keys if key.key_mm.low > width.high][:1]
    over = tuple(_miss(OVER, width - key.width_mm, key.label) for key in below)
    return over + tuple(_miss(UNDER, -(width - key.width_mm), key.label) for key in above)


def _miss(template: str, by: Range, label: str) -> Sentence:
    return Sentence(template, {"least": by.low, "most": by.high, "label": label})


def _next(keys: list[StandardKey], width: Range, height: Range | None) -> NextMeasurement | None:
    """Return the width again where its doubt leaves the keys open, and the height where that tells them apart."""
    tops = [key.height_mm for key in keys]
    contradicts = height is not None and not any(top.meets(height) for top in tops)
    if contradicts or (height is None and not tops[0].meets(tops[-1])):
        return _asked(HEIGHT, ASK_HEIGHT, {key.width.label: key.height_mm for key in keys})
    limits = {key.width.label: key.width.key_mm for key in keys}
    return _asked(WIDTH, ASK_WIDTH, limits) if width.doubt > 0 else None


def _asked(reading: str, template: str, limits: Mapping[str, Range]) -> NextMeasurement:
    expected = "; ".join(f"{label}: {one.low:.3f} to {one.high:.3f} mm" for label, one in limits.items())
    return NextMeasurement(reading, Sentence(template, {"expected": expected}), tuple(limits))
