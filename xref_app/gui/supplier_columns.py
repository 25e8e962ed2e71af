"""The columns of a supplier's list as a list, the list as a whole above them; and what a column can be taken as."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QWidget

from xref_app.gui.painting import bold, paint_line, small
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import QuietListView, RowsModel
from xref_app.gui.supplier_words import (
    LEFT_OUT,
    UNIT_IN_CELL,
    column_notes,
    heading_text,
    in_unit_text,
    samples_text,
    target_text,
    told,
)
from xref_app.gui.theme import Look
from xref_app.services.supplier_columns import Column, SheetKind, targets_of, units_of
from xref_app.services.supplier_looked import ListedColumn

# House rule: looks only.
_LEAST_PX, _PAD_PX = 240, 6
# Of the width, for heading and samples; what it is taken as stands beside.
_HEADING_SHARE = 0.46  # house rule: looks only


@dataclass(frozen=True, slots=True)
class WholeList:
    """The first row: the list as a whole; ``told`` says whose it is."""

    title: str
    told: str


@dataclass(frozen=True, slots=True)
class ColumnRow:
    """A column, in a list of ``kind``."""

    listed: ListedColumn
    kind: SheetKind


@dataclass(frozen=True, slots=True)
class TakenAs:
    """One thing a column can be: its target (empty: left out), the unit of its bare numbers, and both in words."""

    target: str
    unit: str
    words: str


ListRow = WholeList | ColumnRow


class SupplierColumnsModel(RowsModel[ListRow]):
    """The list as a whole, then its columns from left to right."""

    def words(self, row: ListRow) -> str:
        """Return the whole row as one line."""
        if isinstance(row, WholeList):
            return f"{row.title}: {row.told}"
        parts = (target_text(row.listed.column, row.kind), samples_text(row.listed), column_notes(row.listed))
        return f"{heading_text(row.listed.column)}: {', '.join(one for one in parts if one)}"


class SupplierColumnDelegate(RowDelegate[ListRow]):
    """On the left the heading and some cells; on the right what the column is taken as and what is to be known."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: ListRow) -> None:
        """Paint one column, or the list as a whole."""
        px, colours = self._look.px, self._look.colours
        height = QFontMetrics(font).height()
        top, left, room = rect.top() + px(_PAD_PX), rect.left() + px(2 * _PAD_PX), rect.width() - px(4 * _PAD_PX)
        text, quiet = self._look.ink(colours.text), self._look.ink(colours.quiet_text)
        if isinstance(row, WholeList):
            paint_line(painter, QRect(left, top, room, height), row.title, bold(font), text)
            paint_line(painter, QRect(left, top + height, room, height), row.told, font, text)
            return
        column = row.listed.column
        width = int(room * _HEADING_SHARE)
        beside, rest = left + width + px(8), room - width - px(8)
        paint_line(painter, QRect(left, top, width, height), heading_text(column), bold(font), text)
        paint_line(painter, QRect(left, top + height, width, height), samples_text(row.listed), small(font), quiet)
        taken_as = f"→ {target_text(column, row.kind)}" if column.target else told(LEFT_OUT)
        paint_line(painter, QRect(beside, top, rest, height), taken_as, font, text if column.target else quiet)
        paint_line(painter, QRect(beside, top + height, rest, height), column_notes(row.listed), small(font), quiet)

    def row_size(self, font: QFont, row: ListRow) -> QSize:  # noqa: ARG002 - all are of one height
        """Return two lines, whatever stands in them."""
        px = self._look.px
        return QSize(px(_LEAST_PX), 2 * QFontMetrics(font).height() + px(2 * _PAD_PX))


class SupplierColumnsView(QuietListView):
    """A list of columns that are all of one height."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setUniformItemSizes(True)
        self.columns_model = SupplierColumnsModel(self)
        self.setModel(self.columns_model)
        self.setItemDelegate(SupplierColumnDelegate(look, self))


class TakenAsModel(RowsModel[TakenAs]):
    """What a column can be taken as."""

    def words(self, row: TakenAs) -> str:
        """Return it in words."""
        return row.words


class TakenAsDelegate(RowDelegate[TakenAs]):
    """One line each, as high as a finger is wide."""

    @property
    def has_rule(self) -> bool:
        """Return that nothing parts one from the next."""
        return False

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: TakenAs) -> None:
        """Paint what a column can be."""
        pad = self._look.px(_PAD_PX)
        paint_line(painter, rect.adjusted(pad, 0, -pad, 0), row.words, font, self._look.ink(self._look.colours.text))

    def row_size(self, font: QFont, row: TakenAs) -> QSize:  # noqa: ARG002 - all are of one height
        """Return one line with room above and below."""
        px = self._look.px
        return QSize(px(_LEAST_PX), QFontMetrics(font).height() + px(2 * _PAD_PX))


def all_taken_as(column: Column, kind: SheetKind) -> tuple[TakenAs, ...]:
    """Return what a column can be taken as: in other units first, then left out, then everything else."""
    own = tuple(_in_each_unit(column.target, targets_of(kind)[column.target])) if column.target else ()
    others = (
        one for name, title in targets_of(kind).items() if name != column.target for one in _in_each_unit(name, title)
    )
    return (*own, TakenAs("", "", told(LEFT_OUT)), *others)


def _in_each_unit(target: str, title: str) -> tuple[TakenAs, ...]:
    units = units_of(target)
    if len(units) < 2:
        return (TakenAs(target, units[0].symbol if units else "", title),)
    united = tuple(TakenAs(target, one.symbol, in_unit_text(title, one.symbol)) for one in units)
    return (*united, TakenAs(target, "", told(UNIT_IN_CELL, title=title)))


def holding(offered: tuple[TakenAs, ...], typed: str) -> tuple[TakenAs, ...]:
    """Return those of ``offered`` in whose words everything typed stands, in any order."""
    wanted = typed.casefold().split()
    return tuple(one for one in offered if all(word in one.words.casefold() for word in wanted))
