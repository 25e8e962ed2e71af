"""Who does an act: asked once in the bar, then remembered on every sheet and from one start to the next."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QObject

from xref_app.gui.ask_bar import Answers, AskBar, Blank
from xref_app.gui.bench_flow import BenchFlow
from xref_app.gui.memory import WindowMemory

_WHO_PX, _LONGEST_WHO = 130, 60


def who_blank(memory: WindowMemory) -> Blank:
    """Return the blank for who does an act: with the person who is known."""
    return Blank("who", QCoreApplication.translate("Somebody", "Who"), memory.who, _WHO_PX, _LONGEST_WHO)


class Somebody(QObject):
    """Knows the person whom the memory knows, and asks for one where it knows none."""

    def __init__(self, bar: AskBar, memory: WindowMemory, flow: BenchFlow, parent: QObject) -> None:
        super().__init__(parent)
        self._bar, self._memory, self._flow = bar, memory, flow

    def blank(self) -> Blank:
        """Return what is filled in: with the person who is known."""
        return who_blank(self._memory)

    def note(self, given: Answers) -> str:
        """Return who was filled in, and remember it; of an empty blank nothing is remembered."""
        who = given["who"].strip()
        if who:
            self._memory.who = who
            self._flow.set_who(who)
        return who

    def note_or_say(self, given: Answers, say: Callable[[str], object]) -> str:
        """Return who was filled in, and remember it; of nobody ``say`` why that is lacking."""
        who = self.note(given)
        if not who:
            say(self.tr("Say who you are; it stands in the history."))
        return who

    def act(self, what: str, do: Callable[[str], None]) -> None:
        """Do an act at once where it is known who does it; else ask that first. ``what`` is what the button says."""
        if self._memory.who:
            do(self._memory.who)
            return
        self._bar.ask(self.tr("Say who you are"), what, (self.blank(),), lambda given: do(self.note(given)))
