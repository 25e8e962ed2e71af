"""What the shop says once for all jobs, and what is known of the engine: the last row of the fix-or-replace sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QFrame, QGridLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.core.economics.engine_state import Compression, EngineState
from xref_app.core.sentence import Sentence, marked
from xref_app.gui.fix_line import LONGEST_FIGURE
from xref_app.gui.labels import heading_label, plain_label
from xref_app.gui.messages import say
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.fix_or_replace import ShopTexts

_COMPRESSIONS: Mapping[Compression, str] = {
    Compression.UNKNOWN: marked("findings", "Compression: not known"),
    Compression.GOOD: marked("findings", "Compression: good"),
    Compression.LOW: marked("findings", "Compression: low"),
}
_LONGEST_SIGN = 4
_HEIGHT_PX = 30


class FixShop(QFrame):
    """Fields with their names above them; tells of every change with all that stands there."""

    shop_changed = Signal(object)
    engine_changed = Signal(object)
    entered = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fix_shop_frame", self.tr("The shop and the engine"))
        self.setProperty("pane", "true")
        self._look = look
        self._is_electric = False
        self._compression = Compression.UNKNOWN
        titles = {
            "rate": self.tr("An hour of work"),
            "tax": self.tr("Tax, %"),
            "share": self.tr("Most of a new price"),
            "age": self.tr("Prices hold, days"),
            "sign": self.tr("Sign of money"),
            "engine_age": self.tr("Age of the engine"),
            "engine_hours": self.tr("Hours of the engine"),
        }
        self.lines = {name: self._line(name, title) for name, title in titles.items()}
        self.compression_button = named(QPushButton(self), "fix_shop_compression_button", self.tr("Compression"))
        self.compression_button.setProperty("small", "true")
        self.compression_button.clicked.connect(self._step_compression)
        self._faults = plain_label(self, "fix_shop_faults_label")
        self._lay_out(titles)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_shop(ShopTexts())
        self.show_engine(EngineState())

    def _line(self, name: str, title: str) -> QLineEdit:
        line = named(QLineEdit(self), f"fix_shop_{name}_line", title)
        line.setMaxLength(_LONGEST_SIGN if name == "sign" else LONGEST_FIGURE)
        changed = self._tell_engine if name.startswith("engine") else self._tell_shop
        line.textChanged.connect(changed)
        line.returnPressed.connect(self.entered)
        return line

    def _lay_out(self, titles: Mapping[str, str]) -> None:
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(3)
        self._cells: list[QWidget] = []
        for name, title in titles.items():
            cell = QWidget(self)
            cell.setObjectName(f"fix_shop_{name}_box")
            column = QVBoxLayout(cell)
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(1)
            column.addWidget(plain_label(cell, f"fix_shop_{name}_label", title))
            column.addWidget(self.lines[name])
            self._cells.append(cell)
        self._cells.append(self.compression_button)
        body = QVBoxLayout(self)
        body.setContentsMargins(10, 7, 10, 8)
        body.setSpacing(5)
        body.addWidget(heading_label(self, "fix_shop_title_label", self.tr("The shop and the engine")))
        body.addLayout(self._grid)
        body.addWidget(self._faults)
        self.fold(len(self._cells))

    def fold(self, columns: int) -> None:
        """Lay the fields out in so many columns."""
        for place, cell in enumerate(self._cells):
            self._grid.addWidget(cell, place // columns, place % columns)

    def show_shop(self, shop: ShopTexts) -> None:
        """Show what is remembered, without telling of a change."""
        for one in fields(ShopTexts):
            _put(self.lines[one.name], getattr(shop, one.name))

    def show_engine(self, engine: EngineState) -> None:
        """Show what is known of the engine, without telling of a change."""
        self._is_electric, self._compression = engine.is_electric, engine.compression
        _put(self.lines["engine_age"], engine.age)
        _put(self.lines["engine_hours"], engine.hours)
        self.compression_button.setVisible(not engine.is_electric)
        self._name_compression()

    def show_faults(self, faults: Mapping[str, str]) -> None:
        """Say what of the shop's figures cannot be read."""
        told = [sentence for name, sentence in faults.items() if name.startswith("shop.")]
        self._faults.setText(" ".join(told))
        self._faults.setVisible(bool(told))

    def _name_compression(self) -> None:
        text = say(Sentence(_COMPRESSIONS[self._compression]))
        self.compression_button.setText(text)
        self.compression_button.setAccessibleName(text)

    @Slot()
    def _resize_to_text(self) -> None:
        for line in self.lines.values():
            line.setMinimumHeight(self._look.px(_HEIGHT_PX))

    @Slot()
    def _step_compression(self) -> None:
        order = list(Compression)
        self._compression = order[(order.index(self._compression) + 1) % len(order)]
        self._name_compression()
        self._tell_engine()

    @Slot()
    def _tell_shop(self) -> None:
        self.shop_changed.emit(ShopTexts(**{one.name: self.lines[one.name].text() for one in fields(ShopTexts)}))

    @Slot()
    def _tell_engine(self) -> None:
        self.engine_changed.emit(
            EngineState(
                is_electric=self._is_electric,
                compression=self._compression,
                age=self.lines["engine_age"].text(),
                hours=self.lines["engine_hours"].text(),
            )
        )


def _put(line: QLineEdit, text: str) -> None:
    line.blockSignals(True)  # noqa: FBT003 - Qt's own
    line.setText(text)
    line.blockSignals(False)  # noqa: FBT003 - Qt's own
