"""Limits on parts that no standard sets."""

from typing import Final

LOOK_ALIKE_MM: Final = 1.0
"""Threads whose crests differ by no more can be started into each other by hand. House rule."""

SAME_CREST_MM: Final = 0.1
"""Crests that differ by less are not worth naming as the difference. House rule."""

MOST_FITTINGS: Final = 3
"""Fittings, plugs counted, between a hose and a port: every joint more is a leak more. House rule."""

UNLISTED_MAX_C: Final = 60.0
"""A fitting whose highest temperature nobody lists is taken for water no hotter than this. House rule."""
