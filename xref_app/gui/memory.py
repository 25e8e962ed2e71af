"""What the window remembers from one start to the next: text size, colours, unit shown first."""

from __future__ import annotations

import logging
import math
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QSettings

from xref_app.core.plan.pair_value import PairFigures
from xref_app.gui.colours import ThemeName
from xref_app.gui.messages import LengthFirst
from xref_app.gui.theme import TEXT_PERCENTS

log = logging.getLogger(__name__)
Choice = TypeVar("Choice", bound=StrEnum)

_THEME, _TEXT_PERCENT, _LENGTH_FIRST = "window/theme", "window/text_percent", "window/length_first"
_WHO = "bench/measured_by"
_SELLS_FOR, _RATE_PER_HOUR = "pairs/sells_for", "pairs/rate_per_hour"
# House rule: figures to begin with; the shop types its own.
_FIRST_FIGURES = PairFigures(sells_for=300.0, rate_per_hour=50.0)


class WindowMemory:
    """An INI file at a path of the caller's choosing; a value it cannot read falls back to the default."""

    def __init__(self, ini_file: Path) -> None:
        self._settings = QSettings(str(ini_file), QSettings.Format.IniFormat)

    @property
    def theme(self) -> ThemeName:
        """Return the remembered colours; light by default."""
        return self._choice(_THEME, ThemeName.LIGHT)

    @theme.setter
    def theme(self, theme: ThemeName) -> None:
        self._settings.setValue(_THEME, theme.value)

    @property
    def length_first(self) -> LengthFirst:
        """Return the unit of length shown first; mm by default."""
        return self._choice(_LENGTH_FIRST, LengthFirst.MM)

    @length_first.setter
    def length_first(self, first: LengthFirst) -> None:
        self._settings.setValue(_LENGTH_FIRST, first.value)

    @property
    def text_percent(self) -> int:
        """Return the remembered text size, percent; 100 by default."""
        text = self._text(_TEXT_PERCENT, str(TEXT_PERCENTS[0]))
        offered = {str(percent): percent for percent in TEXT_PERCENTS}
        if text not in offered:
            log.info("text size not offered, using %d percent", TEXT_PERCENTS[0])
        return offered.get(text, TEXT_PERCENTS[0])

    @text_percent.setter
    def text_percent(self, percent: int) -> None:
        self._settings.setValue(_TEXT_PERCENT, percent)

    @property
    def who(self) -> str:
        """Return who measured last; empty at first."""
        return self._text(_WHO, "")

    @who.setter
    def who(self, who: str) -> None:
        self._settings.setValue(_WHO, who)

    @property
    def pair_figures(self) -> PairFigures:
        """Return what a machine sells for and an hour of work costs, in the shop's money."""
        sells_for = self._number(_SELLS_FOR, _FIRST_FIGURES.sells_for)
        return PairFigures(sells_for, self._number(_RATE_PER_HOUR, _FIRST_FIGURES.rate_per_hour))

    @pair_figures.setter
    def pair_figures(self, figures: PairFigures) -> None:
        self._settings.setValue(_SELLS_FOR, repr(figures.sells_for))
        self._settings.setValue(_RATE_PER_HOUR, repr(figures.rate_per_hour))

    def _number(self, key: str, default: float) -> float:
        text = self._text(key, repr(default))
        try:
            value = float(text)
        except ValueError:
            value = -1.0
        if not 0 <= value < math.inf:
            log.info("setting %s not understood, using %s", key, default)
            return default
        return value

    def _choice(self, key: str, default: Choice) -> Choice:
        text = self._text(key, default.value)
        try:
            return type(default)(text)
        except ValueError:
            log.info("setting %s not understood, using %s", key, default.value)
            return default

    def _text(self, key: str, default: str) -> str:
        return str(self._settings.value(key, default))
