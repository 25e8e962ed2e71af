"""How long a new bolt of a nominal length may be, and how thick its washer: what the maker's limits leave open.

The limits are house rules after the standards named beside them, all from memory: they only add doubt. The tolerance
grades under ISO 4759-1 are ISO 286's, which ``check_with_isofits.py`` checked.
"""

from __future__ import annotations

from typing import Final

from xref_app.core.fit.bolt_size import Bolt
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.standards.exact import INCH_IN_MM
from xref_app.core.standards.limits import tolerance_mm

# Nominal lengths up to and including, in, and how much shorter a bolt up to 3/8 in and a thicker one may be, in.
# House rule after ASME B18.2.1 and B18.3 (from memory); none is longer than its nominal length.
_SHORTER_IN: Final = ((1.0, 0.03, 0.03), (2.5, 0.04, 0.06), (4.0, 0.06, 0.08), (float("inf"), 0.12, 0.12))
_THIN_BOLT_MM: Final = float(INCH_IN_MM) * 3 / 8

_LONGEST_IN_TABLE_MM: Final = 250.0

# Bolts up to and including, mm, and the plain washers sold for them.
# House rule about ISO 7089 and the narrow row of ASME B18.21.1 (from memory).
_WASHERS_MM: Final = ((9.6, Range(1.3, 2.1)), (11.2, Range(1.3, 2.3)), (float("inf"), Range(1.8, 3.1)))


def length_as_made_mm(bolt: Bolt, length_mm: float) -> Range:
    """Return how long a new bolt sold as ``length_mm`` may be under its head, mm.

    Args:
        bolt: Its thread; metric ones are taken as product grade A.
        length_mm: Nominal length, over 0.

    Source: metric: ISO 4759-1, js15 (IT15 is ten times IT10, ISO 286-1), and twice the last row beyond our table;
    inch: house rule after ASME B18.2.1.
    """
    if bolt.system == "metric":
        grade_15 = 10 * tolerance_mm(10, min(length_mm, _LONGEST_IN_TABLE_MM))
        return Range.around(length_mm, grade_15 / 2 if length_mm <= _LONGEST_IN_TABLE_MM else grade_15)
    length_in = length_mm / float(INCH_IN_MM)
    thin_in, thick_in = next(row[1:] for row in _SHORTER_IN if length_in <= row[0] + SAME_MM)
    shorter_in = thin_in if bolt.nominal_mm <= _THIN_BOLT_MM + SAME_MM else thick_in
    return Range(length_mm - shorter_in * float(INCH_IN_MM), length_mm)


def washer_mm(bolt: Bolt) -> Range:
    """Return how thick the plain washer under the head, or under the nut, may be, mm.

    Source: house rule.
    """
    return next(thickness for up_to_mm, thickness in _WASHERS_MM if bolt.nominal_mm <= up_to_mm + SAME_MM)
