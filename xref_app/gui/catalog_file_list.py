"""What a supplier's file does as rows of one height, so that fifty thousand of them are there at once."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHeaderView, QPushButton, QWidget

from xref_app.gui.catalog_file_words import KINDS, SIGNS, line_text, summary_text, told
from xref_app.gui.messages import say
from xref_app.gui.painting import bold, paint_line, small
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import QuietTableView, RowsModel, named
from xref_app.gui.theme import Look
from xref_app.services.catalog_file_lines import FileLine, LineKind, counts

# House rule: looks only.
_LEAST_PX, _PAD_PX, _SIGN_PX = 260, 6, 20
_GAP_PX = 6
_CENTRED = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter)


class FileLinesModel(RowsModel[FileLine]):
    """The lines that the filter lets through; words are made of a row only when somebody looks at it."""

    def words(self, row: FileLine) -> str:
        """Return the whole row as one line."""
        return line_text(row)


class FileLineDelegate(RowDelegate[FileLine]):
    """A sign, the kind in words and what it is called; below it, quiet, the first things the file does to it."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: FileLine) -> None:
        """Paint one line; what is too long ends in an ellipsis, for the chosen one is told in full beside the list."""
        px, colours = self._look.px, self._look.colours
        high = QFontMetrics(bold(font)).height()
        left = rect.left() + px(2 * _PAD_PX + _SIGN_PX)
        line = QRect(left, rect.top() + px(_PAD_PX), rect.right() - px(_PAD_PX) - left, high)
        painter.setFont(bold(font))
        painter.setPen(self._look.ink(colours.accent if row.kind.is_ours else colours.text))
        painter.drawText(QRect(rect.left() + px(_PAD_PX), line.top(), px(_SIGN_PX), high), _CENTRED, SIGNS[row.kind])
        ink = self._look.ink(colours.text)
        paint_line(painter, line, f"{told(KINDS[row.kind])}  {say(row.called)}", bold(font), ink)
        quiet = self._look.ink(colours.quiet_text)
        paint_line(painter, line.translated(0, high + px(1)), summary_text(row), small(font), quiet)

    def row_size(self, font: QFont, row: FileLine) -> QSize:  # noqa: ARG002 - all rows are alike
        """Return the room of two lines."""
        high = QFontMetrics(bold(font)).height() + QFontMetrics(small(font)).height()
        return QSize(self._look.px(_LEAST_PX), high + self._look.px(2 * _PAD_PX + 1))


class FileLinesView(QuietTableView):
    """The lines in one column, each of the same height: nothing is laid out that is not in sight."""

    def __init__(self, look: Look, model: FileLinesModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.setModel(model)
        self.setItemDelegate(FileLineDelegate(look, self))
        self.horizontalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.fit_to_text()

    def fit_to_text(self) -> None:
        """Give every line the room of two lines of text as large as it is now, and keep the chosen one in sight."""
        bold_high, small_high = (QFontMetrics(one).height() for one in (bold(self.font()), small(self.font())))
        high = bold_high + small_high + self._look.px(2 * _PAD_PX + 1)
        self.verticalHeader().setMinimumSectionSize(high)
        self.verticalHeader().setDefaultSectionSize(high)
        self.scrollTo(self.currentIndex())


class KindFilter(QWidget):
    """Buttons that leave one kind of line in the list; they say how many there are, and none pressed shows all.

    They stand in one row, or two by two where that has no room.
    """

    chosen = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("catalog_filter_box")
        self._texts = (
            ("ours", self.tr("Ours {count}"), (LineKind.JOB, LineKind.OUTCOME)),
            ("withdrawn", self.tr("Withdrawn {count}"), (LineKind.WITHDRAWN,)),
            ("changed", self.tr("Changed {count}"), (LineKind.CHANGED,)),
            ("added", self.tr("Added {count}"), (LineKind.ADDED,)),
        )
        self.buttons: dict[str, QPushButton] = {}
        for name, text, _kinds in self._texts:
            shown = text.format(count=0)
            button = named(QPushButton(shown, self), f"catalog_{name}_button", shown)
            button.setProperty("small", "true")
            button.setCheckable(True)
            button.clicked.connect(self._press)
            self.buttons[name] = button
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(_GAP_PX)
        self._in_a_row = 0
        self._lay_out(len(self.buttons))

    def minimumSizeHint(self) -> QSize:
        """Return the room of two buttons beside each other: more than that is no need."""
        wide = max(one.sizeHint().width() for one in self.buttons.values())
        return QSize(2 * wide + _GAP_PX, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand in one row or in two."""
        super().resizeEvent(event)
        self.fit()

    def fit(self) -> None:
        """Stand in as many rows as the buttons need now."""
        wanted = sum(one.sizeHint().width() + _GAP_PX for one in self.buttons.values())
        self._lay_out(len(self.buttons) if wanted <= self.width() else 2)

    def _lay_out(self, in_a_row: int) -> None:
        if in_a_row != self._in_a_row:
            self._in_a_row = in_a_row
            for place, button in enumerate(self.buttons.values()):
                self._grid.addWidget(button, place // in_a_row, place % in_a_row)
            self.updateGeometry()

    def show_counts(self, lines: Sequence[FileLine]) -> None:
        """Say how many lines there are of each kind, and show all."""
        found = counts(lines)
        for name, text, kinds in self._texts:
            count = sum(found[kind] for kind in kinds)
            button = self.buttons[name]
            button.setText(text.format(count=f"{count:,}"))
            button.setAccessibleName(button.text())
            button.setEnabled(count > 0)
            button.setChecked(False)
        self.fit()

    def filtered(self, lines: Sequence[FileLine]) -> Sequence[FileLine]:
        """Return the lines of the kind that is pressed, all where none is."""
        kinds = [kinds for name, _text, kinds in self._texts if self.buttons[name].isChecked()]
        return [one for one in lines if one.kind in kinds[0]] if kinds else lines

    @Slot()
    def _press(self) -> None:
        for button in self.buttons.values():
            if button is not self.sender():
                button.setChecked(False)
        self.chosen.emit()
