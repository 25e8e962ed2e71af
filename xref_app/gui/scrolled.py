"""A column that scrolls rather than squeezes what stands in it, when the text is large or the window small."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

# One line of the largest text.
_LEAST_PX = 48


def column_above_column(pane: QWidget, object_name: str) -> tuple[QVBoxLayout, QVBoxLayout]:
    """Lay out ``pane`` and return the columns to fill: the one above scrolls where it must, the one below stands still.

    The area named ``object_name`` follows the focus up and down by itself.
    """
    area = QScrollArea(pane)
    area.setObjectName(object_name)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setMinimumHeight(_LEAST_PX)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    page = QWidget(area)
    page.setObjectName(f"{object_name}_page")
    area.setWidget(page)
    above, below, whole = QVBoxLayout(page), QVBoxLayout(), QVBoxLayout(pane)
    above.setContentsMargins(10, 8, 10, 8)
    below.setContentsMargins(10, 0, 10, 8)
    whole.setContentsMargins(1, 1, 1, 1)
    for column, gap in ((above, 6), (below, 6), (whole, 4)):
        column.setSpacing(gap)
    whole.addWidget(area, 1)
    whole.addLayout(below)
    return above, below


def indented(view: QWidget) -> QVBoxLayout:
    """Return a column that holds ``view`` so that its words begin below those of a heading."""
    column = QVBoxLayout()
    column.setContentsMargins(5, 0, 5, 0)
    column.addWidget(view)
    return column
