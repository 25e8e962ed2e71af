"""A column that scrolls rather than squeezes what stands in it, when the text is large or the window small."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

# One line of the largest text.
_LEAST_PX = 48


def scrolled_column(parent: QWidget, object_name: str) -> tuple[QScrollArea, QVBoxLayout]:
    """Return the area to lay out and the column to fill; the area follows the focus up and down by itself."""
    area = QScrollArea(parent)
    area.setObjectName(object_name)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setMinimumHeight(_LEAST_PX)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    page = QWidget(area)
    page.setObjectName(f"{object_name}_page")
    column = QVBoxLayout(page)
    column.setContentsMargins(10, 8, 10, 8)
    column.setSpacing(6)
    area.setWidget(page)
    return area, column
