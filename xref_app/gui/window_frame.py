"""The window as it is painted first: menu bar, entry line, room for the panes, status; light to load, ready to type."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtGui import QAction, QPaintEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QMainWindow, QVBoxLayout, QWidget

from xref_app.gui.actions import Command, build_actions, fill_menu_bar
from xref_app.gui.chips import ChipRow
from xref_app.gui.entry_bar import EntryBar
from xref_app.gui.labels import quiet_label
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.memory import WindowMemory
from xref_app.gui.message_line import MessageLine
from xref_app.gui.rows import named
from xref_app.gui.scan_guard import ScanGuard
from xref_app.gui.shortcut_guard import ShortcutGuard
from xref_app.gui.status_line import StatusLine
from xref_app.gui.tasks import Tasks
from xref_app.gui.theme import Look

_FIRST_SIZE = QSize(1366, 690)


class WindowFrame(QMainWindow):
    """Takes every key from its first paint on; nothing here knows what is asked, nor loads it."""

    painted = Signal()

    def __init__(self, memory: WindowMemory, look: Look) -> None:
        super().__init__()
        self.setObjectName("main_window")
        self.look = look
        self.memory = memory
        look.setParent(self)
        self._is_painted = False
        self.tasks = Tasks(self)
        self.guard = ScanGuard(self)
        self.actions_by_command: dict[Command, QAction] = build_actions(self)
        self.shortcut_guard = ShortcutGuard(self.actions_by_command.values(), self)
        fill_menu_bar(self.menuBar(), self.actions_by_command)
        named(self.menuBar(), "window_menu_bar", self.tr("Menu bar"))
        self._build_page(look)
        self.status = StatusLine(self)
        self.setStatusBar(self.status)
        self.guard.scanned.connect(self.entry.take_scan)
        self.setWindowTitle("xref-app")
        self.show_unit(memory.length_first)
        self.say_how_to_type()
        self.status.show_opening()
        self.resize(_FIRST_SIZE)
        self.watch_keys()
        self.entry.line.setFocus()

    def _build_page(self, look: Look) -> None:
        page = named(QWidget(self), "window_central_page", self.tr("Work sheet"))
        self.page = page
        self.read_as = quiet_label(page, "entry_read_as_label")
        self.entry = EntryBar(look, page)
        self.chips = ChipRow(look, page)
        self.message = MessageLine(page)
        # Stands where the panes will, so that nothing above them moves when they come.
        self._room = QWidget(page)
        understood = QHBoxLayout()
        understood.setSpacing(10)
        understood.addWidget(self.read_as, 1)
        understood.addWidget(self.chips)
        layout = QVBoxLayout(page)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.setSpacing(6)
        layout.addWidget(self.entry)
        layout.addLayout(understood)
        layout.addWidget(self.message)
        layout.addWidget(self._room, 1)
        self._page_layout = layout
        self.chips.show_facts(())
        self.setCentralWidget(page)
        QWidget.setTabOrder(self.entry.line, self.entry.unit)

    def watch_keys(self) -> None:
        """Have both guards see every event of the application."""
        app = QApplication.instance()
        if app is not None:
            app.installEventFilter(self.guard)
            app.installEventFilter(self.shortcut_guard)

    def leave_keys(self) -> None:
        """Have the guards see nothing."""
        app = QApplication.instance()
        if app is not None:
            app.removeEventFilter(self.guard)
            app.removeEventFilter(self.shortcut_guard)

    def fill_room(self, pages: QWidget, bar: QWidget | None) -> None:
        """Put ``pages`` into the room that was kept for them, and ``bar``, which is closed, above them."""
        self._page_layout.replaceWidget(self._room, pages)
        self._page_layout.setStretchFactor(pages, 1)
        self._room.hide()
        self._room.deleteLater()
        if bar is not None:
            self._page_layout.insertWidget(self._page_layout.indexOf(pages), bar)
        pages.show()

    def put_above_room(self, line: QWidget) -> None:
        """Put ``line`` below the message, above all that is worked with."""
        self._page_layout.insertWidget(self._page_layout.indexOf(self.message) + 1, line)

    def show_unit(self, first: LengthFirst) -> None:
        """Say on the button which unit of length is shown first."""
        word = self.tr("inch first") if first is LengthFirst.INCH else self.tr("mm first")
        self.entry.unit.setText(word)
        self.entry.unit.setAccessibleName(self.tr("Unit of length: {word}").format(word=word))

    def show_title(self, title: str) -> None:
        """Name the catalog that is open; empty is none."""
        self.setWindowTitle(f"{title} – xref-app" if title else "xref-app")
        self.status.show_catalog(title)
        if not title:
            self.message.say(
                self.tr(
                    "No catalog yet. Read a supplier's catalog file: Ctrl+Shift+G. Or read a folder: xref-app import "
                    "FOLDER. Or look around with made-up pumps: xref-app --sample."
                )
            )

    def tell_unopened(self, sentence: str) -> None:
        """Say why there is nothing to ask; all that is left is to read it and to close the window."""
        self.message.say(sentence)
        self.status.show_catalog("")
        self.entry.setEnabled(False)
        for command, action in self.actions_by_command.items():
            action.setEnabled(command is Command.QUIT)

    def tell_opening(self) -> None:
        """Take keys again while the catalog is opened anew."""
        self.message.clear()
        self.status.show_opening()
        self.entry.setEnabled(True)
        for action in self.actions_by_command.values():
            action.setEnabled(True)
        self.entry.line.setFocus()

    def say_how_to_type(self) -> None:
        """Say in the line below the entry what may be typed."""
        self.read_as.setText(self.tr("Put ? for a character you cannot read, * for several, [38] for 3 or 8."))

    @Slot()
    def tell_crash(self) -> None:
        """Say that something went wrong that should not have."""
        self.message.say(self.tr("A fault inside the program. Your work is kept; go on, or try the same again."))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint, and tell of the first time."""
        super().paintEvent(event)
        if not self._is_painted:
            self._is_painted = True
            self.painted.emit()
