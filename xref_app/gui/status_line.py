"""The status line: which catalog is in use, and how far long work is once somebody begins to wonder."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QStatusBar, QWidget

from xref_app.gui.rows import named

# ux.md section 1: up to 1 s keeps the thought.
_PROGRESS_AFTER_MS = 1000
_PROGRESS_PX = 220
# Of the width of the window. House rule: looks only.
_UNDO_SHARE, _CATALOG_SHARE, _WORKS_FROM_SHARE = 0.30, 0.30, 0.22


class StatusLine(QStatusBar):
    """Progress appears after a second and goes with the work."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "window_status_bar", self.tr("Status"))
        self.setSizeGripEnabled(False)
        self._title = self._in_use = ""
        self._awaited: set[int] = set()
        self._catalog = self._label("status_catalog_label", "")
        self._copy = self._label("status_copy_label", "")
        self.works_from_button = named(QPushButton("", self), "status_works_from_button", self.tr("Working from"))
        self.works_from_button.setProperty("small", "true")
        self._progress = named(QProgressBar(self), "status_progress_bar", self.tr("Progress"))
        self._progress.setMaximumWidth(_PROGRESS_PX)
        self._progress.setFormat(self.tr("%p %, Esc stops"))
        self._hint = self._label("status_hint_label", self.tr("Keys and help: F1"))
        self._undo = self._label("status_undo_label", "")
        # What stands in the status line never makes the window wider.
        for text in (self._catalog, self._copy, self.works_from_button, self._hint, self._undo):
            text.setMinimumWidth(1)
        for widget in (self._catalog, self._copy, self.works_from_button, self._progress):
            self.addWidget(widget)
        for widget in (self._copy, self.works_from_button, self._progress):
            widget.hide()
        self.addPermanentWidget(self._undo)
        self.addPermanentWidget(self._hint)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(_PROGRESS_AFTER_MS)
        self._patience.timeout.connect(self._progress.show)

    def _label(self, name: str, text: str) -> QLabel:
        label = QLabel(text, self)
        label.setObjectName(name)
        return label

    @property
    def is_waiting_shown(self) -> bool:
        """Say whether progress is shown."""
        return self._progress.isVisible()

    def show_opening(self) -> None:
        """Say that the catalog is not there yet."""
        self._catalog.setToolTip(self.tr("Opening the catalog…"))
        self._fit_names()

    def show_catalog(self, title: str) -> None:
        """Name the catalog in use; an empty name is none."""
        self._title = title
        self._tell_catalog()

    @property
    def catalog(self) -> str:
        """Return the name of the catalog in use; empty for none."""
        return self._title

    @Slot(str)
    def show_in_use(self, files: str) -> None:
        """Say which files of suppliers the catalog rests on; empty for none."""
        self._in_use = files
        self._tell_catalog()

    def _tell_catalog(self) -> None:
        names = ", ".join(part for part in (self._title, self._in_use) if part)
        text = self.tr("Catalog: {title}").format(title=names) if self._title else self.tr("No catalog")
        self._catalog.setToolTip(text)
        self._catalog.setAccessibleName(text)
        self._fit_names()

    def show_copy(self, words: str) -> None:
        """Say of which day the newest copy is; empty words take no room."""
        self._copy.setText(words)
        self._copy.setVisible(bool(words))

    def show_works_from(self, name: str) -> None:
        """Say which copy the catalog was put back from, until somebody presses it; an empty name is none."""
        words = self.tr("Working from: {name}  ✕").format(name=name)
        self.works_from_button.setToolTip(words)
        self.works_from_button.setAccessibleName(self.tr("Working from: {name}. Press when known.").format(name=name))
        self.works_from_button.setVisible(bool(name))
        self._fit_names()

    def show_undo(self, name: str) -> None:
        """Say what Ctrl+Z would take back; an empty name is nothing."""
        text = self.tr("Undo: {name}  Ctrl+Z").format(name=name) if name else ""
        self._undo.setToolTip(text)
        self._undo.setAccessibleName(text)
        self._fit_names()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let neither name use more than its share."""
        super().resizeEvent(event)
        self._fit_names()

    def _fit_names(self) -> None:
        shares = (
            (self._catalog, _CATALOG_SHARE),
            (self._undo, _UNDO_SHARE),
            (self.works_from_button, _WORKS_FROM_SHARE),
        )
        for widget, share in shares:
            room = int(self.width() * share)
            metrics = QFontMetrics(widget.font())
            widget.setText(metrics.elidedText(widget.toolTip(), Qt.TextElideMode.ElideMiddle, room))

    @Slot(bool)
    def show_working(self, is_working: bool) -> None:  # noqa: FBT001 - the signal's own argument
        """Begin to wait, or stop waiting, for whoever tells it; what one waits for is not over with the other's."""
        whose = id(self.sender())
        (self._awaited.add if is_working else self._awaited.discard)(whose)
        is_working = bool(self._awaited)
        if is_working and not self._patience.isActive() and self._progress.isHidden():
            self._patience.start()
        elif not is_working:
            self._patience.stop()
            self._progress.hide()

    @Slot(int, int)
    def show_progress(self, done: int, total: int) -> None:
        """Note how far the work is."""
        self._progress.setRange(0, total)
        self._progress.setValue(done)
