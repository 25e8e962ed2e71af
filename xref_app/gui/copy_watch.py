"""Today's copy, made by itself while the window is open; and which copy the catalog was put back from."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from xref_app.gui.copies_desk import CopiesDesk
from xref_app.gui.copies_part import CopiesPart
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_read import OneRead
from xref_app.gui.status_line import StatusLine
from xref_app.services.daily_copies import CopyTold
from xref_app.services.store_copies import LastRestore

# House rules: the first questions of the day go before; a window that stays open over night makes the next day's copy.
_FIRST_AFTER_MS, _AGAIN_AFTER_MS = 20_000, 3_600_000
_KNOWN = "copies/known_restore"


class CopyWatch(QObject):
    """Tells the status line; only ``begin`` starts the timer."""

    said = Signal(str)
    crashed = Signal()

    def __init__(self, desk: CopiesDesk, status: StatusLine, memory: WindowMemory, copies: CopiesPart) -> None:
        """Make it; while ``copies`` works it copies nothing: a copy that is being put back must not be dropped."""
        super().__init__(copies)
        self._copies = copies
        self._desk, self._status, self._memory = desk, status, memory
        self._restore: LastRestore | None = None
        self._copying, self._looking = OneRead(self), OneRead(self)
        for work in (self._copying, self._looking):
            work.failed.connect(self.said)
            work.crashed.connect(self.crashed)
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)
        status.works_from_button.clicked.connect(self._note_known)

    @property
    def is_working(self) -> bool:
        """Say whether something is on its way."""
        return self._copying.is_working or self._looking.is_working

    def shut_down(self) -> None:
        """Stop all work; a copy that is not finished is none, and is made the next time."""
        self._timer.stop()
        self._copying.shut_down()
        self._looking.shut_down()

    def begin(self) -> None:
        """Say where the catalog comes from, and have a copy made a while after the start and then every day."""
        self._looking.run(lambda _progress: self._desk.working_from(), self.show_works_from)
        self._timer.start(_FIRST_AFTER_MS)

    @Slot()
    def look(self) -> None:
        """Make today's copy if there is none; where another is made or put back now, the next time."""
        self._timer.setInterval(_AGAIN_AFTER_MS)
        if not self._copies.is_working:
            self._copying.run(self._desk.daily, self._tell)

    @Slot(object)
    def _tell(self, told: object) -> None:
        if not isinstance(told, CopyTold):
            return
        if told.warning:
            self.said.emit(told.warning)
        if told.warning and told.copy is None:
            self._status.show_copy(self.tr("NO COPY TODAY"))
        elif told.newest_day == date.today().isoformat():  # noqa: DTZ011 - the day on the shop's own clock
            self._status.show_copy(self.tr("Copy: today"))
        elif told.newest_day:
            self._status.show_copy(self.tr("Copy: {day}").format(day=told.newest_day))

    @Slot(object)
    def show_works_from(self, found: object) -> None:
        """Say which copy was put back, unless somebody said that they know."""
        self._restore = found if isinstance(found, LastRestore) else None
        restore = self._restore
        is_known = restore is None or self._memory.text(_KNOWN, "") == _mark(restore)
        self._status.show_works_from("" if restore is None or is_known else restore.name)

    @Slot()
    def _note_known(self) -> None:
        if self._restore is not None:
            self._memory.keep_text(_KNOWN, _mark(self._restore))
        self._status.show_works_from("")


def _mark(restore: LastRestore) -> str:
    return f"{restore.serial} {restore.name}"
