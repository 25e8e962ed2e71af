"""Everything one can reach has a name: for tests, for style, and for a screen reader."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QHeaderView, QLineEdit, QTextBrowser, QWidget

from tests.gui.conftest import Open
from xref_app.gui.help_shelf import SHELF_HELP
from xref_app.gui.help_texts import HELP
from xref_app.gui.main_window import MainWindow

# Roles a person can act on or read cell by cell.
_SPOKEN_ROLES = {
    QAccessible.Role.Button,
    QAccessible.Role.EditableText,
    QAccessible.Role.List,
    QAccessible.Role.ListItem,
    QAccessible.Role.Table,
    QAccessible.Role.Cell,
    QAccessible.Role.MenuItem,
}


def controls(window: MainWindow) -> list[QWidget]:
    kinds = (QLineEdit, QAbstractButton, QAbstractItemView, QTextBrowser)
    found = [
        widget
        for widget in window.findChildren(QWidget)
        if isinstance(widget, kinds) and not isinstance(widget, QHeaderView)
    ]
    return [widget for widget in found if not widget.objectName().startswith("qt_")]


def unnamed(window: MainWindow) -> list[str]:
    return [
        f"{type(widget).__name__} {widget.objectName()!r}"
        for widget in controls(window)
        if widget.objectName().count("_") < 2 or not widget.accessibleName()
    ]


@pytest.mark.parametrize("text", ["", "K4872-20", "Tern 27"])
def test_every_control_has_an_object_name_and_an_accessible_name(open_window: Open, text: str) -> None:
    window = open_window(text=text)
    assert len(controls(window)) >= 12
    assert not unnamed(window)


def test_the_walk_finds_an_unnamed_control(open_window: Open) -> None:
    window = open_window()
    QLineEdit(window.centralWidget())
    assert len(unnamed(window)) == 1


def test_no_object_name_is_used_twice(open_window: Open) -> None:
    names = [widget.objectName() for widget in controls(open_window(text="K4872-20"))]
    assert len(names) == len(set(names))


def test_the_accessible_tree_holds_no_unnamed_control(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    silent: list[str] = []
    spoken = 0

    def walk(interface: QAccessibleInterface, depth: int = 0) -> None:
        nonlocal spoken
        for number in range(interface.childCount()):
            child: QAccessibleInterface | None = interface.child(number)
            if child is None or child.state().invisible:
                continue
            if child.role() in _SPOKEN_ROLES:
                spoken += 1
                if not child.text(QAccessible.Text.Name):
                    silent.append(f"{child.role()} at depth {depth}")
            walk(child, depth + 1)

    walk(QAccessible.queryAccessibleInterface(window))
    assert spoken > 40
    assert not silent


def test_a_cell_says_check_outcome_and_value(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    window.panes.candidates.view.setCurrentIndex(window.panes.candidates.view.model().index(2, 0))
    interface = QAccessible.queryAccessibleInterface(window.panes.fit.table)
    names = {
        interface.child(number).text(QAccessible.Text.Name)
        for number in range(interface.childCount())
        if interface.child(number) is not None
    }
    assert "check reach, by parts, gap −1.20 to −0.70 mm" in names
    assert "check reach, by parts" in names


def test_help_has_a_paragraph_for_every_place_the_focus_can_be(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    places = {widget.objectName() for widget in controls(window)}
    places.add("face_drawing_view")
    unreachable = {"entry_hits_list"}
    assert places - unreachable <= {*HELP, *SHELF_HELP, "help_text_view"}
    dead = set(HELP) - places - {"chips_machine_button"}
    assert not dead
