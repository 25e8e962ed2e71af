"""The status line: which catalog is in use, and how far long work is once somebody begins to wonder."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QLabel, QProgressBar, QStatusBar, QWidget

from xref_app.gui.rows import named

# ux.md section 1: up to 1 s keeps the thought.
_PROGRESS_AFTER_MS = 1000
_PROGRESS_PX = 220
# Of the width of the window.
_UNDO_SHARE, _CATALOG_SHARE = 0.40, 0.40


class StatusLine(QStatusBar):
    """Progress appears after a second and goes with the work."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "window_status_bar", self.tr("Status"))
        self.setSizeGripEnabled(False)
        self._title = self._in_use = ""
        self._catalog = QLabel(self)
        self._catalog.setObjectName("status_catalog_label")
        self._progress = named(QProgressBar(self), "status_progress_bar", self.tr("Progress"))
        self._progress.setMaximumWidth(_PROGRESS_PX)
        self._progress.setFormat(self.tr("%p %, Esc stops"))
        self._progress.hide()
        self._hint = QLabel(self.tr("Keys and help: F1"), self)
        self._hint.setObjectName("status_hint_label")
        self.addWidget(self._catalog)
        self.addWidget(self._progress)
        self._progress.hide()
        self._undo = QLabel("", self)
        self._undo.setObjectName("status_undo_label")
        self._undo.setMinimumWidth(1)
        self.addPermanentWidget(self._undo)
        self.addPermanentWidget(self._hint)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(_PROGRESS_AFTER_MS)
        self._patience.timeout.connect(self._progress.show)

    @property
    def is_waiting_shown(self) -> bool:
        """Say whether progress is shown."""
        return self._progress.isVisible()

    def show_opening(self) -> None:
        """Say that the catalog is not there yet."""
        self._catalog.setText(self.tr("Opening the catalog…"))

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
        for label, share in ((self._catalog, _CATALOG_SHARE), (self._undo, _UNDO_SHARE)):
            room = int(self.width() * share)
            shown = QFontMetrics(label.font()).elidedText(label.toolTip(), Qt.TextElideMode.ElideMiddle, room)
            label.setText(shown)

    @Slot(bool)
    def show_working(self, is_working: bool) -> None:  # noqa: FBT001 - the signal's own argument
        """Begin to wait, or stop waiting."""
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
