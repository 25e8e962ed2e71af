"""What the window remembers from one start to the next: text size, colours, unit shown first."""

from __future__ import annotations

import logging
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QSettings

from xref_app.gui.colours import ThemeName
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.theme import TEXT_PERCENTS

log = logging.getLogger(__name__)
Choice = TypeVar("Choice", bound=StrEnum)

_THEME, _TEXT_PERCENT, _LENGTH_FIRST = "window/theme", "window/text_percent", "window/length_first"
_WHO = "bench/measured_by"


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

    def text(self, key: str, default: str) -> str:
        """Return a text that another part keeps here; ``default`` where there is none."""
        return self._text(key, default)

    def keep_text(self, key: str, text: str) -> None:
        """Keep a text for another part."""
        self._settings.setValue(key, text)

    def _choice(self, key: str, default: Choice) -> Choice:
        text = self._text(key, default.value)
        try:
            return type(default)(text)
        except ValueError:
            log.info("setting %s not understood, using %s", key, default.value)
            return default

    def _text(self, key: str, default: str) -> str:
        return str(self._settings.value(key, default))
