"""Tells a scanner from a person: a scan reaches the entry line wherever the focus is, and changes nothing else."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

# A run of at least this many characters, each gap at most this long, ended by Enter or Tab, is a scan (ux.md 2.5,
# house rule: scanners were seen at 1 to 16 ms, fast typists stay above 60 ms).
SCAN_LENGTH = 6
SCAN_GAP_MS = 35

_COMMAND_MODIFIERS = (
    Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
)
_END_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab)
_BARE_MODIFIERS = (
    Qt.Key.Key_Shift,
    Qt.Key.Key_Control,
    Qt.Key.Key_Alt,
    Qt.Key.Key_AltGr,
    Qt.Key.Key_Meta,
    Qt.Key.Key_CapsLock,
)
Clock = Callable[[QKeyEvent], float]


def event_ms(event: QKeyEvent) -> float:
    """Return when the key went down, ms: the window system's time, which a busy window cannot bunch together."""
    stamp = float(event.timestamp())
    return stamp if stamp > 0 else time.monotonic() * 1000


@dataclass(frozen=True, slots=True)
class _FieldBefore:
    """A text field as it was before the first character of a run."""

    field: QLineEdit
    text: str
    cursor: int
    selection_start: int
    selection_length: int

    def put_back(self) -> None:
        """Undo all that the run typed into the field."""
        if not shiboken6.isValid(self.field):
            return
        self.field.setText(self.text)
        self.field.setCursorPosition(self.cursor)
        if self.selection_start >= 0:
            self.field.setSelection(self.selection_start, self.selection_length)


@dataclass(frozen=True, slots=True)
class _HeldKey:
    """A character pressed where characters are commands (a button, a list, a menu), until it is known to be alone."""

    widget: QWidget
    key: int
    modifiers: Qt.KeyboardModifier
    text: str

    def deliver(self) -> None:
        """Press and release the key where it was meant to go."""
        if not shiboken6.isValid(self.widget):
            return
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            if shiboken6.isValid(self.widget):
                QCoreApplication.sendEvent(self.widget, QKeyEvent(kind, self.key, self.modifiers, self.text))


class ScanGuard(QObject):
    """An event filter over the whole application.

    In a text field characters go in at once and are taken out again when the run turns out to be a scan. Anywhere
    else a lone character is handed on a moment later, and a run is dropped: so no letter, digit, Space or Enter of a
    code can press a button, move a list or choose from a menu.
    """

    scanned = Signal(str)

    def __init__(self, parent: QObject | None = None, clock: Clock = event_ms) -> None:
        super().__init__(parent)
        self._clock = clock
        self._run = ""
        self._last_ms = float("-inf")
        self._before: _FieldBefore | None = None
        self._held: _HeldKey | None = None
        self._is_delivering = False
        self._alone = QTimer(self)
        self._alone.setSingleShot(True)
        self._alone.setInterval(SCAN_GAP_MS + 5)
        self._alone.timeout.connect(self._deliver_held)

    @property
    def is_holding(self) -> bool:
        """Say whether a lone character waits to be handed on."""
        return self._held is not None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Watch key presses on their way to the widget that would take them."""
        if event.type() != QEvent.Type.KeyPress or self._is_delivering:
            return False
        if not isinstance(event, QKeyEvent) or not isinstance(watched, QWidget) or watched is not _receiver():
            return False
        return self._is_swallowed(watched, event)

    def _is_swallowed(self, widget: QWidget, event: QKeyEvent) -> bool:
        if event.key() in _BARE_MODIFIERS:
            return False
        at_ms = self._clock(event)
        is_quick = at_ms - self._last_ms <= SCAN_GAP_MS
        has_command = bool(event.modifiers() & _COMMAND_MODIFIERS) or event.isAutoRepeat()
        if event.key() in _END_KEYS and not has_command:
            return self._take_end(widget, is_quick=is_quick)
        if has_command or not event.text().isprintable() or not event.text():
            self._forget()
            return False
        self._last_ms = at_ms
        return self._take_character(widget, event, is_quick=is_quick)

    def _take_character(self, widget: QWidget, event: QKeyEvent, *, is_quick: bool) -> bool:
        if not is_quick:
            self._deliver_held()
            self._run = ""
            self._before = _field_before_or_none(widget)
        is_first = not self._run
        self._run += event.text()
        if isinstance(widget, QLineEdit):
            return False
        self._alone.stop()
        self._held = None
        if is_first:
            self._held = _HeldKey(widget, event.key(), event.modifiers(), event.text())
            self._alone.start()
        return True

    def _take_end(self, widget: QWidget, *, is_quick: bool) -> bool:
        run, before = (self._run, self._before) if is_quick else ("", None)
        if not is_quick:
            self._deliver_held()
        self._forget()
        if len(run) >= SCAN_LENGTH:
            if before is not None:
                before.put_back()
            self.scanned.emit(run)
            return True
        # Too short for a scan: typed text where text goes, but never a command.
        return bool(run) and not isinstance(widget, QLineEdit)

    def _forget(self) -> None:
        self._alone.stop()
        self._held = None
        self._run = ""
        self._last_ms = float("-inf")
        self._before = None

    @Slot()
    def _deliver_held(self) -> None:
        self._alone.stop()
        held, self._held = self._held, None
        if held is None:
            return
        self._is_delivering = True
        try:
            held.deliver()
        finally:
            self._is_delivering = False


def _receiver() -> QWidget | None:
    """Return the widget that takes keys now: that of an open menu, else the one with the focus."""
    popup = QApplication.activePopupWidget()
    if popup is not None:
        inside: QWidget | None = popup.focusWidget()
        return popup if inside is None else inside
    return QApplication.focusWidget()


def _field_before_or_none(widget: QWidget) -> _FieldBefore | None:
    if not isinstance(widget, QLineEdit):
        return None
    return _FieldBefore(
        widget, widget.text(), widget.cursorPosition(), widget.selectionStart(), len(widget.selectedText())
    )
