"""The style sheet: edges, padding and the ring of the focus, all from the colours and the text size in use."""

from __future__ import annotations

from collections.abc import Callable
from string import Template

from xref_app.gui.colours import Colours

# Focus must show as a ring of at least 2 px at 3:1 (WCAG 2.2, 2.4.13): `accent`, where the resting edge is quieter.
_SHEET = Template("""
QMainWindow, QWidget#window_central_page { background: $window; }
QToolTip { background: $base; color: $text; border: 1px solid $edge; padding: ${p4}px; }
QMenuBar { background: $window; padding: 0 ${p4}px; }
QMenuBar::item { padding: ${p4}px ${p10}px; background: transparent; }
QMenuBar::item:selected, QMenu::item:selected { background: $selection; color: $text; }
QMenu { background: $base; border: 1px solid $edge; padding: ${p4}px 0; }
QMenu::item { padding: ${p6}px ${p24}px; }
QMenu::separator { height: 1px; background: $line; margin: ${p4}px 0; }
QStatusBar { background: $window; border-top: 1px solid $line; }
QStatusBar::item { border: 0; }
QStatusBar QLabel { color: $quiet_text; padding: 0 ${p8}px; }
QLineEdit#entry_text_line {
  background: $base; border: 2px solid $edge; border-radius: 3px; padding: 0 ${p8}px;
  selection-background-color: $selection; selection-color: $text;
}
QLineEdit#entry_text_line:focus { border-color: $accent; }
QLineEdit {
  background: $base; border: 1px solid $edge; border-radius: 3px; padding: 0 ${p6}px; margin: 1px;
  selection-background-color: $selection; selection-color: $text;
}
QLineEdit:focus { border: 2px solid $accent; margin: 0; }
QLineEdit#entry_text_line { margin: 0; }
QLineEdit[aged="true"] { color: $quiet_text; font-style: italic; }
QPushButton {
  background: $base; border: 1px solid $edge; border-radius: 3px; padding: ${p4}px ${p12}px; margin: 1px;
  min-height: ${p28}px;
}
QPushButton:hover { background: $selection; }
QPushButton:pressed, QPushButton:checked { background: $selection; }
QPushButton:checked { border: 2px solid $text; margin: 0; }
QPushButton:focus { border: 2px solid $accent; margin: 0; }
QPushButton:disabled { color: $quiet_text; border-color: $line; }
QPushButton[small="true"] { min-height: ${p22}px; padding: ${p3}px ${p10}px; }
QPushButton[chip="true"] { border-radius: ${p14}px; min-height: ${p24}px; padding: ${p2}px ${p10}px; }
QFrame[pane="true"] { background: $base; border: 1px solid $line; border-radius: 4px; }
QListView, QTableView, QTextBrowser { background: $base; border: 2px solid $base; outline: 0; }
QListView:focus, QTableView:focus, QTextBrowser:focus { border: 2px solid $accent; }
QListView#entry_hits_list { border: 2px solid $accent; border-radius: 3px; }
QHeaderView { background: $base; border: 0; }
QHeaderView::section {
  background: $base; color: $quiet_text; border: 0; border-bottom: 1px solid $edge; padding: ${p2}px ${p6}px;
}
QHeaderView::section:vertical { border: 0; border-right: 1px solid $edge; }
QTableView { gridline-color: $base; }
QLabel[quiet="true"] { color: $quiet_text; }
QLabel[heading="true"] { font-weight: 600; }
QLabel[warning="true"] {
  color: $text; font-weight: 600; border: 0; border-left: 5px solid $danger; padding: ${p3}px ${p10}px;
}
QLabel[danger="true"] {
  background: $danger_ground; color: $danger; font-weight: 600; border: 0; border-left: 5px solid $danger;
  padding: ${p6}px ${p10}px;
}
QFrame[pane="true"] QFrame[notice="true"] { border: 0; border-top: 1px solid $edge; border-left: 5px solid $accent; }
QFrame[notice="true"] { background: $base; border: 1px solid $edge; border-left: 5px solid $accent; }
QWidget#face_drawing_view { border: 2px solid $base; }
QScrollArea { background: transparent; border: 0; }
QScrollArea > QWidget > QWidget { background: transparent; }
QScrollBar:vertical { background: $base; width: ${p12}px; margin: 0; }
QScrollBar:horizontal { background: $base; height: ${p12}px; margin: 0; }
QScrollBar::handle { background: $edge; border-radius: ${p4}px; margin: ${p2}px; }
QScrollBar::handle:vertical { min-height: ${p28}px; }
QScrollBar::handle:horizontal { min-width: ${p28}px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QProgressBar { border: 1px solid $edge; border-radius: 3px; background: $base; text-align: center; }
QProgressBar::chunk { background: $selection; }
""")
_STEPS = (2, 3, 4, 6, 8, 10, 12, 14, 22, 24, 28)


def style_sheet(colours: Colours, px: Callable[[float], int]) -> str:
    """Return the style sheet of the whole program; ``px`` turns a length at 100 % text into pixels."""
    named = {name: getattr(colours, name) for name in colours.__slots__}
    return _SHEET.substitute(named, **{f"p{step}": px(step) for step in _STEPS})
