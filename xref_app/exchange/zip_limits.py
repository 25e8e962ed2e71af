"""How much any zip file from outside may be, a workbook or a catalog file: against files made to fill memory or disk.

House rules. No catalog and no list of pumps comes near them.
"""

from __future__ import annotations

from typing import Final

MOST_PACKED_BYTES: Final = 50 * 1024 * 1024
"""Of the file as it lies on the disk. House rule."""

MOST_UNPACKED_BYTES: Final = 300 * 1024 * 1024
"""Of all that is in it. House rule."""

MOST_TIMES_PACKED: Final = 100
"""How many times its packed size it may be once unpacked. House rule."""

MOST_PARTS: Final = 2_000
"""A workbook of a hundred sheets with pictures has a few hundred parts. House rule."""
