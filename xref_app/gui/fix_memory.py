"""What of fix or replace is remembered from one start to the next: what the shop says for all jobs, the usual times."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date

from xref_app.gui.memory import WindowMemory
from xref_app.services.fix_or_replace import ShopTexts
from xref_app.services.fix_prices import day_or_none

_SHOP, _MINUTES, _DAY = "shop/{name}", "usual_minutes/{name}", "usual_minutes/{name}_on"


class FixMemory:
    """Keeps texts as they were typed, in the settings of the window."""

    def __init__(self, memory: WindowMemory) -> None:
        self._memory = memory

    def shop(self) -> ShopTexts:
        """Return what the shop says for all jobs."""
        standard = ShopTexts()
        kept = {one.name: self._memory.text(_SHOP.format(name=one.name), "") for one in fields(ShopTexts)}
        return replace(standard, **{name: text for name, text in kept.items() if text})

    def keep_shop(self, shop: ShopTexts) -> None:
        """Remember what the shop says for all jobs."""
        for one in fields(ShopTexts):
            self._memory.keep_text(_SHOP.format(name=one.name), getattr(shop, one.name))

    def minutes(self, figure: str) -> tuple[str, date] | None:
        """Return the time that was typed last for this figure, and when; None where none ever was."""
        text = self._memory.text(_MINUTES.format(name=figure), "")
        day = day_or_none(self._memory.text(_DAY.format(name=figure), ""))
        return (text, day) if text and day is not None else None

    def keep_minutes(self, figure: str, text: str, day: date) -> None:
        """Remember a time that was typed."""
        self._memory.keep_text(_MINUTES.format(name=figure), text)
        self._memory.keep_text(_DAY.format(name=figure), day.isoformat())
