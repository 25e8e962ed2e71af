"""The drawing with its three buttons: fit, 1:1, bigger."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.face_view import FaceView, Zoom
from xref_app.gui.rows import named
from xref_app.gui.theme import Look


class FacePanel(QWidget):
    """Tells when the drawing should have more room, or less."""

    zoomed = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = FaceView(look, self)
        self._group = QButtonGroup(self)
        buttons = QHBoxLayout()
        buttons.setSpacing(4)
        for zoom, kind, text, spoken in (
            (Zoom.FIT, "fit", self.tr("Fit"), self.tr("Drawing: fit into its place")),
            (Zoom.TRUE_SIZE, "true_size", self.tr("1:1"), self.tr("Drawing: true size")),
            (Zoom.BIGGER, "bigger", self.tr("Bigger"), self.tr("Drawing: bigger")),
        ):
            button = named(QPushButton(text, self), f"face_{kind}_button", spoken)
            button.setToolTip(self.tr("{what} (Ctrl+D goes through all three)").format(what=spoken))
            button.setCheckable(True)
            button.setProperty("small", "true")
            self._group.addButton(button, int(zoom))
            buttons.addWidget(button)
        buttons.addStretch(1)
        self._group.button(int(Zoom.FIT)).setChecked(True)
        self._group.idClicked.connect(self._zoom_to)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.view, 1)
        layout.addLayout(buttons)

    @Slot()
    def step_zoom(self) -> None:
        """Go on to the next of the three sizes."""
        self.set_zoom(self.view.zoom.next)

    def set_zoom(self, zoom: Zoom) -> None:
        """Show the drawing at this size."""
        self._group.button(int(zoom)).setChecked(True)
        self._zoom_to(int(zoom))

    @Slot(int)
    def _zoom_to(self, zoom: int) -> None:
        self.view.set_zoom(Zoom(zoom))
        self.zoomed.emit(zoom)
