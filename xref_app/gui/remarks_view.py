"""What the records tell of the pump that is looked at, one line each, above whatever scrolls."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from xref_app.gui.labels import plain_label, quiet_label, warning_label
from xref_app.gui.messages import say
from xref_app.gui.rows import named
from xref_app.services.answers import Remark, RemarkKind

_LABELS = {
    RemarkKind.WENT_WRONG: warning_label,
    RemarkKind.CONFIRMED: plain_label,
    RemarkKind.CLAIM: quiet_label,
}


class RemarksView(QWidget):
    """Shows nothing, and takes no room, where there is nothing to tell."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fit_remarks_box", self.tr("What the records tell"))
        self._labels: list[QLabel] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)
        self.hide()

    def show_remarks(self, remarks: tuple[Remark, ...]) -> None:
        """Show these remarks, and what each means for the verdict above."""
        for label in self._labels:
            self._layout.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._labels = [self._label(place, remark) for place, remark in enumerate(remarks)]
        for label in self._labels:
            self._layout.addWidget(label)
        self.setVisible(bool(remarks))

    def _label(self, place: int, remark: Remark) -> QLabel:
        text = remark_text(remark)
        if remark.further is not None:
            text = f"{text} {say(remark.further)}"
        label = _LABELS[remark.kind](self, f"fit_remark_{place}_label", text)
        label.setAccessibleName(text)
        if remark.kind is not RemarkKind.WENT_WRONG:
            label.setContentsMargins(8, 0, 0, 0)
        return label


def remark_text(remark: Remark) -> str:
    """Return the line of a remark as a sentence of its own."""
    said = say(remark.line)
    said = said[:1].upper() + said[1:]
    return said if said.endswith(".") else f"{said}."
