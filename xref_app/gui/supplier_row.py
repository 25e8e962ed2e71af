"""One row of a supplier's list: how it stands, what it tells, and what can be answered where it is open."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from xref_app.gui.choice_view import ChoiceView
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.painting import bold, paint_words, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import DOMAIN_ROLE, Index, RowsModel, named, row_width
from xref_app.gui.scrolled import column_above_column, indented
from xref_app.gui.supplier_offers import AcceptRows, AnswerCells, OfferRow, Question, TakeBack, TypeInstead, offers
from xref_app.gui.supplier_words import STANDINGS, told
from xref_app.gui.theme import Look
from xref_app.services.supplier_beside import Beside
from xref_app.services.supplier_looked import ListedRow, Looked

# House rule: looks only.
_LEAST_PX, _PAD_PX, _LIST_PX, _HEIGHT_PX = 200, 5, 48, 32
# House rule: what is typed instead of a cell is no longer than what is kept of one.
_LONGEST = 200


class OffersModel(RowsModel[OfferRow]):
    """Questions and the answers to each."""

    def words(self, row: OfferRow) -> str:
        """Return the question or the answer."""
        return row.words

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return that arrow keys pass over questions."""
        return Qt.ItemFlag.NoItemFlags if isinstance(index.data(DOMAIN_ROLE), Question) else super().flags(index)


class OffersDelegate(RowDelegate[OfferRow]):
    """Questions in bold, answers indented below."""

    @property
    def has_rule(self) -> bool:
        """Return that nothing parts an answer from its question."""
        return False

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: OfferRow) -> None:
        """Paint a question or an answer."""
        px, colours = self._look.px, self._look.colours
        indent = self._indent(row)
        place = rect.adjusted(indent, px(_PAD_PX), -px(_PAD_PX), 0)
        paint_words(painter, place, row.words, bold(font) if isinstance(row, Question) else font, colours.text)

    def _indent(self, row: OfferRow) -> int:
        return self._look.px(_PAD_PX * (1 if isinstance(row, Question) else 4))

    def row_size(self, font: QFont, row: OfferRow) -> QSize:
        """Return as much as the words take when they wrap."""
        px = self._look.px
        room = row_width(self.parent(), px(_LEAST_PX)) - self._indent(row) - px(_PAD_PX)
        height = wrapped_height(bold(font) if isinstance(row, Question) else font, row.words, room)
        return QSize(px(_LEAST_PX), height + px(2 * _PAD_PX))


class SupplierRow(QWidget):
    """Tells what was answered; Enter in the list chooses, and no answer is chosen beforehand."""

    answered = Signal(object)
    accepted = Signal(object)
    taken_back = Signal(int)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "supplier_row_page", self.tr("The chosen row"))
        self._look = look
        self._instead: TypeInstead | None = None
        self._place = -1
        self._heading = heading_label(self, "supplier_row_label", "")
        self._names = plain_label(self, "supplier_names_label")
        self._tells = quiet_label(self, "supplier_tells_label")
        self.list = named(ChoiceView(self), "supplier_answers_list", self.tr("Questions and answers"))
        self._model = OffersModel(self)
        self.list.setModel(self._model)
        self.list.setItemDelegate(OffersDelegate(look, self.list))
        self._asked = plain_label(self, "supplier_instead_label")
        self.line = named(QLineEdit(self), "supplier_instead_line", self.tr("What is meant"))
        self.line.setMaxLength(_LONGEST)
        self._lay_out()
        self.list.chosen.connect(self._choose)
        self.line.returnPressed.connect(self._type)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        besides = QWidget(self)
        besides.setObjectName("supplier_besides_box")
        told_area, _below = column_above_column(besides, "supplier_row_area")
        for label in (self._names, self._tells):
            told_area.addWidget(label)
        told_area.addStretch(1)
        typed = QVBoxLayout()
        typed.setContentsMargins(10, 0, 10, 6)
        typed.setSpacing(6)
        typed.addWidget(self._asked)
        typed.addWidget(self.line)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(2)
        self._heading.setContentsMargins(10, 8, 10, 0)
        whole.addWidget(self._heading)
        whole.addLayout(indented(self.list), 3)
        whole.addWidget(besides, 1)
        whole.addLayout(typed)
        self._show_line(None)

    @property
    def offered(self) -> tuple[OfferRow, ...]:
        """Return the questions and answers shown."""
        return self._model.rows

    def show_row(self, looked: Looked, listed: ListedRow, differing: Sequence[Beside] = ()) -> None:
        """Show this row with what is asked about it; ``differing`` are sizes that are entered otherwise."""
        row = listed.row
        number = row.number or self.tr("no number")
        standing = told(STANDINGS[listed.standing])
        words = self.tr("{number}, row {row}: {standing}")
        self._heading.setText(words.format(number=number, row=row.place + 1, standing=standing))
        self._names.setText("\n".join(self._said_besides(listed)))
        self._names.setVisible(bool(self._names.text()))
        self._tells.setText("\n".join(f"{one.field.title}: {one.shown}" for one in row.readings))
        self._tells.setVisible(bool(self._tells.text()))
        if self._place != row.place:
            self._show_line(None)
        self._place = row.place
        self._model.show_rows(offers(looked, listed, differing))
        self.list.begin_anew()
        self.list.setVisible(bool(self._model.rows))

    def _said_besides(self, listed: ListedRow) -> list[str]:
        row = listed.row
        lines = [row.texts[name] for name in ("maker", "name", "note") if row.texts.get(name)]
        if row.replaces:
            lines.append(self.tr("replaces {numbers}").format(numbers=", ".join(row.replaces)))
        if row.replaced_by:
            lines.append(self.tr("replaced by {numbers}").format(numbers=", ".join(row.replaced_by)))
        if row.entry_id:
            lines.append(self.tr("is entry {entry}").format(entry=row.entry_id))
        return lines

    def focus_answers(self) -> None:
        """Put the keys into the answers."""
        self.list.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def has_answers(self) -> bool:
        """Say whether anything can be answered."""
        return bool(self._model.rows)

    @Slot(QModelIndex)
    def _choose(self, index: QModelIndex) -> None:
        match index.data(DOMAIN_ROLE):
            case AnswerCells(answers=answers):
                self.answered.emit(answers)
            case AcceptRows(rows=rows):
                self.accepted.emit(rows)
            case TakeBack(row=row):
                self.taken_back.emit(row)
            case TypeInstead() as instead:
                self._show_line(instead)
                self.line.setFocus(Qt.FocusReason.TabFocusReason)

    def _show_line(self, instead: TypeInstead | None) -> None:
        self._instead = instead
        self._asked.setText("" if instead is None else instead.asked)
        self._asked.setVisible(instead is not None)
        self.line.clear()
        self.line.setVisible(instead is not None)

    @Slot()
    def _type(self) -> None:
        typed, instead = self.line.text().strip(), self._instead
        if instead is not None and typed:
            self._show_line(None)
            self.focus_answers()
            self.answered.emit({(instead.row, instead.column): typed})

    @Slot()
    def _resize_to_text(self) -> None:
        self.line.setMinimumHeight(self._look.px(_HEIGHT_PX))
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.list.doItemsLayout()
