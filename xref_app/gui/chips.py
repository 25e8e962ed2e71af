"""The facts the job rests on, each a button that takes it away again."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from xref_app.gui.rows import named
from xref_app.gui.theme import Look

if TYPE_CHECKING:  # named only: the first paint must load no service
    from xref_app.services.used_fact import UsedFact

_CHIP_PX = 34


class ChipRow(QWidget):
    """Shows one chip per fact."""

    removed = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        look.changed.connect(self._resize_to_text)
        self._chips: list[QPushButton] = []
        self._layout = QHBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(6)

    def show_facts(self, facts: tuple[UsedFact, ...]) -> None:
        """Show these facts instead of the ones before."""
        for chip in self._chips:
            self._layout.removeWidget(chip)
            chip.hide()
            chip.deleteLater()
        self._chips = [self._chip(fact) for fact in facts]
        self._resize_to_text()

    @Slot()
    def _resize_to_text(self) -> None:
        """Keep the room of a chip even while there is none, so that the panes below stay where they are."""
        self.setMinimumHeight(self._look.px(_CHIP_PX))

    def _chip(self, fact: UsedFact) -> QPushButton:
        kind = "pump" if fact.is_pump else "machine"
        what = self.tr("{kind} {label}").format(kind=fact.kind, label=fact.label)
        chip = QPushButton(f"✕  {what}", self)
        named(chip, f"chips_{kind}_button", self.tr("Take away: {what}").format(what=what))
        chip.setToolTip(chip.accessibleName())
        chip.setProperty("chip", "true")
        chip.clicked.connect(partial(self._remove, fact))
        self._layout.addWidget(chip)
        return chip

    def _remove(self, fact: UsedFact, _is_checked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's own signature
        self.removed.emit(fact)
