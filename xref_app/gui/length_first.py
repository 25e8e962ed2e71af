"""Which unit of length the person reads first."""

from __future__ import annotations

from enum import StrEnum


class LengthFirst(StrEnum):
    """Which of the two units of length is shown first."""

    MM = "mm"
    INCH = "inch"
