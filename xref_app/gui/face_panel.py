"""The drawing with its buttons: fit, 1:1, bigger, and which of the views is shown."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.actions import Command, keys_text, spec_of
from xref_app.gui.drawings import Drawings, View
from xref_app.gui.face_view import FaceView, Zoom
from xref_app.gui.rows import named
from xref_app.gui.theme import Look


class FacePanel(QWidget):
    """Holds both drawings, shows one, and tells when it should have more room, or less."""

    zoomed = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = FaceView(look, self)
        self._drawings = Drawings()
        self._shown = View.FACE
        self._number = ""
        self._group = QButtonGroup(self)
        self._side = named(QPushButton(self), "face_side_button", self.tr("Drawing: seen from the side"))
        self._side.setToolTip(self.tr("Engine and pump cut along the shaft, their faces, or what is to be made"))
        self._side.setCheckable(True)
        self._side.setProperty("small", "true")
        self._side.clicked.connect(self.switch_view)
        self._name_button()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.view, 1)
        layout.addLayout(self._buttons())
        self._group.button(int(Zoom.FIT)).setChecked(True)
        self._group.idClicked.connect(self._zoom_to)

    def _buttons(self) -> QHBoxLayout:
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
        buttons.addWidget(self._side)
        buttons.addStretch(1)
        return buttons

    @property
    def shown(self) -> View:
        """Return from where engine and pump are looked at now."""
        return self._shown

    @property
    def number(self) -> str:
        """Return the number of the pump that is drawn; empty where none is."""
        return self._number

    def show_drawings(self, drawings: Drawings | None, number: str = "") -> None:
        """Show one of these, of the pump of that number; None clears the panel."""
        self._number = number
        self._drawings = drawings or Drawings()
        if self._shown not in self._drawings.views:
            self._shown = View.FACE
        self.show_view(self._shown)

    def show_view(self, view: View) -> None:
        """Look from here, with the zoom as it is."""
        self._shown = view
        self._name_button()
        words = {
            View.FACE: self.tr("Face drawing"),
            View.SIDE: self.tr("Side drawing"),
            View.PLATE: self.tr("Drawing of the adapter plate"),
            View.SPACER: self.tr("Drawing of the spacers to make"),
        }
        self.view.setAccessibleName(words[view])
        self.view.set_zoom(self.view.zoom)
        self.view.show_drawing(self._drawings.of(view))

    @Slot()
    def switch_view(self) -> None:
        """Look at the next drawing: the faces, the side, the plate and the spacers where they are to be made."""
        self.show_view(self._next)

    @property
    def _next(self) -> View:
        views = self._drawings.views
        return views[(views.index(self._shown) + 1) % len(views)]

    def _name_button(self) -> None:
        """Say on the button what comes next where there are more than two drawings, else whether the side is shown."""
        has_more = len(self._drawings.views) > 2
        words = {
            View.FACE: self.tr("Faces"),
            View.SIDE: self.tr("Side view"),
            View.PLATE: self.tr("Plate"),
            View.SPACER: self.tr("Spacers"),
        }
        named_view = self._next if has_more else View.SIDE
        self._side.setText(f"{words[named_view]}  {keys_text(spec_of(Command.SIDE_VIEW))}")
        self._side.setChecked(self._shown is View.SIDE and not has_more)

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
