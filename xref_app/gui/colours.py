"""The sets of colours: light, dark and high contrast."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class ThemeName(StrEnum):
    """The sets of colours there are."""

    LIGHT = "light"
    DARK = "dark"
    CONTRAST = "high contrast"


@dataclass(frozen=True, slots=True)
class Colours:
    """One set of colours, each ``#RRGGBB``. Text on ``base`` or ``window`` keeps 4.5:1, marks and edges 3:1."""

    window: str
    base: str
    text: str
    quiet_text: str
    line: str
    edge: str
    accent: str
    selection: str
    danger: str
    danger_ground: str
    fits: str
    parts: str
    unknown: str
    fails: str


COLOURS: Mapping[ThemeName, Colours] = {
    ThemeName.LIGHT: Colours(
        window="#F2F3F5",
        base="#FFFFFF",
        text="#1A1D21",
        quiet_text="#50575F",
        line="#D5D9DE",
        edge="#7F8790",
        accent="#0B5A8A",
        selection="#DDEAF3",
        danger="#8A1F11",
        danger_ground="#FBEDEA",
        fits="#0B5A8A",
        parts="#6B4E00",
        unknown="#4A4A4A",
        fails="#8A1F11",
    ),
    ThemeName.DARK: Colours(
        window="#15181A",
        base="#1E2124",
        text="#E9EBEE",
        quiet_text="#B3B9C0",
        line="#383D42",
        edge="#7C848C",
        accent="#7CC4F0",
        selection="#2A3C49",
        danger="#F2A094",
        danger_ground="#3A2421",
        fits="#7CC4F0",
        parts="#E8C660",
        unknown="#C9CDD1",
        fails="#F2A094",
    ),
    ThemeName.CONTRAST: Colours(
        window="#000000",
        base="#000000",
        text="#FFFFFF",
        quiet_text="#FFFFFF",
        line="#FFFFFF",
        edge="#FFFFFF",
        accent="#FFE14D",
        selection="#003A66",
        danger="#FFB4A8",
        danger_ground="#000000",
        fits="#8FD3FF",
        parts="#FFD84D",
        unknown="#FFFFFF",
        fails="#FFB4A8",
    ),
}
