"""What of pairing up is remembered from one start to the next: the shop's own figures."""

from __future__ import annotations

import logging
import math

from xref_app.core.plan.pair_value import PairFigures
from xref_app.gui.memory import WindowMemory

log = logging.getLogger(__name__)

# The rate is the same that fix or replace asks for: said once, known on both sheets.
_SELLS_FOR, _RATE_PER_HOUR = "pairs/sells_for", "shop/rate"
# House rule: what stands there until the shop says otherwise.
_FIRST = PairFigures(sells_for=300.0, rate_per_hour=50.0)


class PairMemory:
    """Keeps the figures in the settings of the window."""

    def __init__(self, memory: WindowMemory) -> None:
        self._memory = memory

    @property
    def figures(self) -> PairFigures:
        """Return what a machine sells for and an hour of work costs, in the shop's money."""
        sells_for = self._number(_SELLS_FOR, _FIRST.sells_for)
        return PairFigures(sells_for, self._number(_RATE_PER_HOUR, _FIRST.rate_per_hour))

    @figures.setter
    def figures(self, figures: PairFigures) -> None:
        self._memory.keep_text(_SELLS_FOR, repr(figures.sells_for))
        if figures.rate_per_hour != self.figures.rate_per_hour:
            self._memory.keep_text(_RATE_PER_HOUR, f"{figures.rate_per_hour:.2f}".removesuffix(".00"))

    def _number(self, key: str, default: float) -> float:
        text = self._memory.text(key, "") or repr(default)
        try:
            value = float(text)
        except ValueError:
            value = -1.0
        if not 0 <= value < math.inf:
            log.info("setting %s not understood, using %s", key, default)
            return default
        return value
