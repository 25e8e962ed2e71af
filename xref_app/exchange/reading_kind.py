"""What readings can be of."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What readings can be of, as the command line and the schema name it."""

    THREAD = "thread"
    SHAFT = "shaft"
    BORE = "bore"
    KEY = "key"
    CIRCLE = "circle"
    FACE = "face"
