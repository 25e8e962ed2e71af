"""The right side of the shelf sheet: the chosen place, who has what of it, and the acts with their keys."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QGridLayout, QPushButton, QWidget

from xref_app.core.model.catalog import ReservationRow
from xref_app.gui.folding_sheet import SideDetails
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.rows import QuietListView, RowsModel, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.shelf_words import counted_text, free_text, held_text, mark_text, price_text, there_text
from xref_app.gui.theme import Look
from xref_app.services.shelf_lines import ShelfLine

_WIDTH_PX = 350
# Two reservations.
_HELD_PX = 64


class HeldModel(RowsModel[ReservationRow]):
    """Who has what of one place, the oldest first."""

    def words(self, row: ReservationRow) -> str:
        """Return pieces, job, who, since when."""
        return held_text(row)


class ShelfDetails(SideDetails):
    """Shows one place. Which reservation is chosen matters to releasing and taking out."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="shelf", width_px=_WIDTH_PX)
        named(self, "shelf_details_frame", self.tr("The chosen place"))
        self._line: ShelfLine | None = None
        self._held = HeldModel(self)
        self._name = heading_label(self, "shelf_name_label", "")
        self._counts = quiet_label(self, "shelf_counts_label")
        self._held_title = heading_label(self, "shelf_held_label", self.tr("Reserved"))
        self.held_view = named(QuietListView(self), "shelf_held_list", self.tr("Reserved of this place"))
        self.held_view.setModel(self._held)
        self.held_view.setWordWrap(True)
        self.reserve_button = self._button("reserve", self.tr("Reserve for a job  Ctrl+R"))
        self.release_button = self._button("release", self.tr("Release  Ctrl+G"))
        self.take_button = self._button("take", self.tr("Take out  Ctrl+T"))
        self.put_button = self._button("put", self.tr("Put in  Ctrl+I"))
        self.count_button = self._button("count", self.tr("Count again  Ctrl+K"))
        self.mark_button = self._button("mark", self.tr("Low mark  Ctrl+M"))
        self.move_button = self._button("move", self.tr("Move to a bin  Ctrl+J"))
        self.label_button = self._button("label", self.tr("Print label  Ctrl+P"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_line(None)

    def _lay_out(self) -> None:
        self._acts = QWidget(self)
        self._acts.setObjectName("shelf_acts_box")
        acts = QGridLayout(self._acts)
        acts.setContentsMargins(0, 0, 0, 0)
        acts.setSpacing(6)
        acts.addWidget(self.reserve_button, 0, 0, 1, 2)
        acts.addWidget(self.release_button, 1, 0)
        acts.addWidget(self.take_button, 1, 1)
        acts.addWidget(self.put_button, 2, 0)
        acts.addWidget(self.count_button, 2, 1)
        acts.addWidget(self.mark_button, 3, 0)
        acts.addWidget(self.move_button, 3, 1)
        acts.addWidget(self.label_button, 4, 0)
        acts.addWidget(self.leave_button, 4, 1)
        above, below = column_above_column(self, "shelf_details_area")
        above.addWidget(self._name)
        above.addWidget(self._counts)
        above.addWidget(self._held_title)
        above.addWidget(self.held_view, 1)
        below.addWidget(self._acts)

    @property
    def line(self) -> ShelfLine | None:
        """Return the place shown."""
        return self._line

    def show_line(self, line: ShelfLine | None) -> None:
        """Show this place; None shows that none is chosen."""
        chosen = self.chosen_held()
        self._line = line
        self._name.setText(self.tr("No place chosen.") if line is None else line.name)
        self._counts.setText("" if line is None else self._counts_text(line))
        held = () if line is None else line.held
        self._held.show_rows(held)
        self._held_title.setText(self.tr("Reserved") if held else self.tr("Nothing is reserved."))
        self._held_title.setVisible(line is not None)
        self.held_view.setEnabled(bool(held))
        ids = [one.reservation_id for one in held]
        if held:
            place = ids.index(chosen.reservation_id) if chosen and chosen.reservation_id in ids else 0
            self.held_view.setCurrentIndex(self._held.index(place))
        for button in self._acts.findChildren(QPushButton):
            button.setEnabled(line is not None or button is self.leave_button)
        self.release_button.setEnabled(bool(held))

    def chosen_held(self) -> ReservationRow | None:
        """Return the chosen reservation, None where there is none."""
        row = self.held_view.currentIndex().row()
        return self._held.rows[row] if 0 <= row < len(self._held.rows) else None

    def _counts_text(self, line: ShelfLine) -> str:
        bin_text = self.tr("Bin {bin}: {free}, {there}")
        said = [bin_text.format(bin=line.place.bin, free=free_text(line), there=there_text(line))]
        marks = [counted_text(line), mark_text(line)]
        if price_text(line):
            marks.append(self.tr("{price} each").format(price=price_text(line)))
        said.append("; ".join(marks))
        if line.elsewhere:
            others = ", ".join(
                self.tr("{bin} ({free} free)").format(bin=one, free=free) for one, free in line.elsewhere
            )
            said.append(self.tr("Also in bin {bins}").format(bins=others))
        if line.is_short:
            said.append(self.tr("More is reserved than lies there: count it again, or release some."))
        return "\n".join(said)

    @Slot()
    def _resize_to_text(self) -> None:
        super()._resize_to_text()
        self.held_view.setMinimumHeight(self._look.px(_HELD_PX))
