"""Where the catalog cannot be opened at all: the newest whole copy is offered in its place, in the same window."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.actions import Command
from xref_app.gui.ask_bar import Answers, AskBar
from xref_app.gui.copies_words import holds_text, when_of
from xref_app.gui.main_window import MainWindow
from xref_app.gui.rows import named
from xref_app.gui.somebody import who_blank
from xref_app.gui.tasks import Work
from xref_app.gui.window_start import Bring, WindowStart
from xref_app.services.copies_told import CopyLine

PutBack = Callable[[Path, str], Bring]


class StartOffer(QObject):
    """Asks only where ``find`` (in a worker) has a copy; F12 puts it in place and opens it, Esc leaves all as it is."""

    offered = Signal()

    def __init__(self, window: MainWindow, start: WindowStart, find: Work, put_back: PutBack) -> None:
        """Make it; ``put_back`` returns what brings the catalog after a copy and by whom was put in its place."""
        super().__init__(window)
        self._window, self._start, self._find, self._put_back = window, start, find, put_back
        self.bar: AskBar | None = None

    def look(self) -> None:
        """Look for a copy, and ask where there is one."""
        task = self._window.tasks.prepare(self._find)
        task.finished.connect(self._offer)
        self._window.tasks.launch(task)

    @Slot(object)
    def _offer(self, line: object) -> None:
        if not isinstance(line, CopyLine) or self._window.is_closed:
            return
        bar = named(AskBar(self._window.look, (("who", self.tr("Who")),), self._window.page), "start_offer_frame", "")
        bar.setAccessibleName(self.tr("A copy in place of the catalog"))
        self.bar = bar
        self._window.put_above_room(bar)
        question = self.tr(
            "Put the newest whole copy in its place? It is of {when} and holds {what}. What lies there now is set "
            "aside first, byte by byte."
        ).format(when=when_of(line), what=holds_text(line))
        do = partial(self._do, line)
        bar.ask(question, self.tr("Put the copy in place"), (who_blank(self._window.memory),), do, only_f12=True)
        for command, effect in ((Command.DO_IT, bar.press), (Command.LEAVE, self._leave)):
            action = self._window.actions_by_command[command]
            action.setEnabled(True)
            action.triggered.connect(effect)
        self.offered.emit()

    def _do(self, line: CopyLine, given: Answers) -> None:
        who = given["who"].strip()
        if not who:
            self._window.message.say(self.tr("Say who you are; it stands in the history."))
            return
        self._window.memory.who = who
        self._close()
        self._start.again(self._put_back(line.path, who))

    @Slot()
    def _leave(self) -> None:
        self._close()
        for command in (Command.DO_IT, Command.LEAVE):
            self._window.actions_by_command[command].setEnabled(False)

    def _close(self) -> None:
        if self.bar is None:
            return
        self._window.actions_by_command[Command.DO_IT].triggered.disconnect(self.bar.press)
        self._window.actions_by_command[Command.LEAVE].triggered.disconnect(self._leave)
        self.bar.leave()
        self.bar.deleteLater()
        self.bar = None
