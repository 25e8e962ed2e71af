"""What was typed or scanned before there was anything to ask: kept, and carried out once, in its order."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Slot

from xref_app.gui.entry_bar import EntryBar

if TYPE_CHECKING:  # named only: the first paint must not load it
    from xref_app.gui.job_flow import JobFlow


class EarlyEntries(QObject):
    """Listens to the entry bar until ``hand_over``; then lets it tell again, one after another, what was entered.

    Typing after an Enter replaces it, as it does in the whole window: what was typed last is what is asked.
    """

    def __init__(self, bar: EntryBar) -> None:
        super().__init__(bar)
        self._bar = bar
        self._flow: JobFlow | None = None
        self._is_typed = False
        self._entered: deque[str] = deque()
        bar.asked.connect(self._note_typed)
        bar.text_taken.connect(self._note_entered)

    @Slot(str)
    def _note_typed(self, _text: str) -> None:
        self._is_typed = True
        self._entered.clear()

    @Slot(str)
    def _note_entered(self, text: str) -> None:
        if self._flow is None:
            self._entered.append(text)

    def hand_over(self, flow: JobFlow) -> None:
        """Have the bar tell what was entered, else what was typed; ``flow`` must be connected to it already."""
        self._flow = flow
        flow.working.connect(self._go_on, Qt.ConnectionType.QueuedConnection)
        text = self._bar.line.text()
        if self._entered and self._entered[-1] == text:
            self._tell_next()
        elif self._is_typed or self._entered:
            self._entered.clear()
            self._bar.asked.emit(text)

    @Slot()
    def _go_on(self) -> None:
        """Tell the next once the one before is worked out."""
        if self._entered and self._flow is not None and not self._flow.is_working:
            self._tell_next()

    def _tell_next(self) -> None:
        text = self._entered.popleft()
        if text == self._bar.line.text():  # the cursor stays where it is
            self._bar.text_taken.emit(text)
        else:
            self._bar.take_scan(text)
