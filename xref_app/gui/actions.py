"""Every command and its keys, declared once: menus, buttons, the list of keys and the tests are built from here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenuBar

from xref_app.core.sentence import marked


class Command(StrEnum):
    """The name of each command; its QAction's objectName is ``action_`` and this."""

    NEW_JOB = "new_job"
    JOB_BEFORE = "job_before"
    READ_CATALOG = "read_catalog"
    EXPORT_CATALOG = "export_catalog"
    SAVE_DRAWING = "save_drawing"
    PRINT_SHEET = "print_sheet"
    SUPPLIER_FILE = "supplier_file"
    QUIT = "quit"
    ENTRY_LINE = "entry_line"
    LEAVE = "leave"
    UNDO = "undo"
    REDO = "redo"
    COPY_WHY = "copy_why"
    MEASURE = "measure"
    FIX = "fix"
    CANNOT_REACH = "cannot_reach"
    EDIT_FIELD = "edit_field"
    ENTER_PUMP = "enter_pump"
    ENTER_MACHINE = "enter_machine"
    UNFINISHED = "unfinished"
    SAVE_ENTRY = "save_entry"
    VERSIONS = "versions"
    IS_IT_THE_PUMP = "is_it_the_pump"
    CLEAR_ANSWERS = "clear_answers"
    SHELF = "shelf"
    RESERVE = "reserve"
    RELEASE = "release"
    TAKE_OUT = "take_out"
    PUT_IN = "put_in"
    COUNT_AGAIN = "count_again"
    LOW_MARK = "low_mark"
    MOVE_BIN = "move_bin"
    LOW_ONLY = "low_only"
    JOBS = "jobs"
    PAIR_UP = "pair_up"
    PAIR_SURELY = "pair_surely"
    PAIR_NEVER = "pair_never"
    PAIR_FILTER = "pair_filter"
    WHAT_HAPPENED = "what_happened"
    HEALTH = "health"
    COPIES = "copies"
    COPY_NOW = "copy_now"
    PUT_RIGHT = "put_right"
    HELP_BUNDLE = "help_bundle"
    DO_IT = "do_it"
    NEXT_CANDIDATE = "next_candidate"
    PREVIOUS_CANDIDATE = "previous_candidate"
    NEXT_PANE = "next_pane"
    PREVIOUS_PANE = "previous_pane"
    WHY = "why"
    DRAWING = "drawing"
    SIDE_VIEW = "side_view"
    LENGTH_FIRST = "length_first"
    TEXT_LARGER = "text_larger"
    TEXT_SMALLER = "text_smaller"
    TEXT_NORMAL = "text_normal"
    LIGHT = "light"
    DARK = "dark"
    CONTRAST = "contrast"
    FULL_SCREEN = "full_screen"
    HELP = "help"
    ALL_KEYS = "all_keys"


class Menu(StrEnum):
    """The menus that have something to do, in their order on the bar."""

    FILE = "file"
    EDIT = "edit"
    VIEW = "view"
    RECORDS = "records"
    HEALTH = "health"
    HELP = "help"


MENU_TITLES: Mapping[Menu, str] = {
    Menu.FILE: marked("actions", "&File"),
    Menu.EDIT: marked("actions", "&Edit"),
    Menu.VIEW: marked("actions", "&View"),
    Menu.RECORDS: marked("actions", "&Records"),
    Menu.HEALTH: marked("actions", "Hea&lth"),
    Menu.HELP: marked("actions", "&Help"),
}


UNDO_TEXT, REDO_TEXT = marked("actions", "&Undo"), marked("actions", "Re&do")


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One command: where it hangs, what it is called, its keys, and whether a line parts it from what is above."""

    command: Command
    menu: Menu
    text: str
    keys: tuple[str, ...] = ()
    is_checkable: bool = False
    starts_group: bool = False


SPECS: tuple[ActionSpec, ...] = (
    ActionSpec(Command.NEW_JOB, Menu.FILE, marked("actions", "&New job"), ("Ctrl+N",)),
    ActionSpec(Command.JOB_BEFORE, Menu.FILE, marked("actions", "&Job before this one"), ("Ctrl+Tab",)),
    ActionSpec(Command.JOBS, Menu.FILE, marked("actions", "Jobs &kept"), ("Ctrl+Shift+J",)),
    ActionSpec(
        Command.SAVE_DRAWING,
        Menu.FILE,
        marked("actions", "&Save the drawing…"),
        ("Ctrl+Shift+S",),
        starts_group=True,
    ),
    ActionSpec(Command.PRINT_SHEET, Menu.FILE, marked("actions", "&Print sheet"), ("Ctrl+P",)),
    ActionSpec(
        Command.SUPPLIER_FILE,
        Menu.FILE,
        marked("actions", "&Read supplier file…"),
        ("Ctrl+Shift+R",),
        starts_group=True,
    ),
    ActionSpec(Command.READ_CATALOG, Menu.FILE, marked("actions", "Read &catalog file…"), ("Ctrl+Shift+G",)),
    ActionSpec(Command.EXPORT_CATALOG, Menu.FILE, marked("actions", "E&xport the catalog…"), ("Ctrl+Shift+T",)),
    ActionSpec(Command.QUIT, Menu.FILE, marked("actions", "&Quit"), ("Ctrl+Q",), starts_group=True),
    ActionSpec(Command.ENTRY_LINE, Menu.EDIT, marked("actions", "Go to the &entry line"), ("Ctrl+L",)),
    ActionSpec(Command.LEAVE, Menu.EDIT, marked("actions", "&Leave, twice for a new job"), ("Esc",)),
    ActionSpec(Command.UNDO, Menu.EDIT, UNDO_TEXT, ("Ctrl+Z",), starts_group=True),
    ActionSpec(Command.REDO, Menu.EDIT, REDO_TEXT, ("Ctrl+Y", "Ctrl+Shift+Z")),
    ActionSpec(
        Command.COPY_WHY, Menu.EDIT, marked("actions", "&Copy the reason"), ("Ctrl+Shift+C",), starts_group=True
    ),
    ActionSpec(
        Command.IS_IT_THE_PUMP, Menu.EDIT, marked("actions", "Is it the &pump?"), ("Ctrl+Shift+D",), starts_group=True
    ),
    ActionSpec(Command.CLEAR_ANSWERS, Menu.EDIT, marked("actions", "Clear the &answers"), ("Ctrl+Shift+A",)),
    ActionSpec(Command.NEXT_CANDIDATE, Menu.VIEW, marked("actions", "&Next pump not ruled out"), ("F3",)),
    ActionSpec(Command.PREVIOUS_CANDIDATE, Menu.VIEW, marked("actions", "&Pump before, not ruled out"), ("Shift+F3",)),
    ActionSpec(Command.NEXT_PANE, Menu.VIEW, marked("actions", "Ne&xt pane"), ("F6",)),
    ActionSpec(Command.PREVIOUS_PANE, Menu.VIEW, marked("actions", "Pane &before"), ("Shift+F6",)),
    ActionSpec(Command.WHY, Menu.VIEW, marked("actions", "&Why"), ("Ctrl+E",), starts_group=True),
    ActionSpec(Command.DRAWING, Menu.VIEW, marked("actions", "&Drawing: fit, 1:1, bigger"), ("Ctrl+D",)),
    ActionSpec(Command.SIDE_VIEW, Menu.VIEW, marked("actions", "Drawing: &faces or side"), ("F9",)),
    ActionSpec(Command.LENGTH_FIRST, Menu.VIEW, marked("actions", "&Inch first"), ("Ctrl+U",), is_checkable=True),
    ActionSpec(
        Command.TEXT_LARGER, Menu.VIEW, marked("actions", "Text &larger"), ("Ctrl++", "Ctrl+="), starts_group=True
    ),
    ActionSpec(Command.TEXT_SMALLER, Menu.VIEW, marked("actions", "Text &smaller"), ("Ctrl+-",)),
    ActionSpec(Command.TEXT_NORMAL, Menu.VIEW, marked("actions", "Text at &100 %"), ("Ctrl+0",)),
    ActionSpec(Command.LIGHT, Menu.VIEW, marked("actions", "Li&ght"), is_checkable=True, starts_group=True),
    ActionSpec(Command.DARK, Menu.VIEW, marked("actions", "D&ark"), is_checkable=True),
    ActionSpec(Command.CONTRAST, Menu.VIEW, marked("actions", "High &contrast"), is_checkable=True),
    ActionSpec(
        Command.FULL_SCREEN,
        Menu.VIEW,
        marked("actions", "F&ull screen"),
        ("F11",),
        is_checkable=True,
        starts_group=True,
    ),
    ActionSpec(Command.MEASURE, Menu.RECORDS, marked("actions", "&Measure"), ("F7",)),
    ActionSpec(Command.EDIT_FIELD, Menu.RECORDS, marked("actions", "Measure the &chosen field"), ("F2",)),
    ActionSpec(Command.CANNOT_REACH, Menu.RECORDS, marked("actions", "Cannot &reach it"), ("F4",)),
    ActionSpec(Command.SAVE_ENTRY, Menu.RECORDS, marked("actions", "&Save entry"), ("Ctrl+S",)),
    ActionSpec(
        Command.ENTER_PUMP, Menu.RECORDS, marked("actions", "&Enter a pump"), ("Ctrl+Shift+P",), starts_group=True
    ),
    ActionSpec(Command.ENTER_MACHINE, Menu.RECORDS, marked("actions", "Enter a m&achine"), ("Ctrl+Shift+M",)),
    ActionSpec(Command.UNFINISHED, Menu.RECORDS, marked("actions", "&Unfinished entry"), ("Ctrl+Shift+N",)),
    ActionSpec(Command.VERSIONS, Menu.RECORDS, marked("actions", "&Both versions"), ("Ctrl+B",), starts_group=True),
    ActionSpec(Command.FIX, Menu.RECORDS, marked("actions", "&Fix or replace"), ("F8",)),
    ActionSpec(Command.SHELF, Menu.RECORDS, marked("actions", "S&helf"), ("Ctrl+Shift+H",), starts_group=True),
    ActionSpec(Command.RESERVE, Menu.RECORDS, marked("actions", "Reserve for a &job"), ("Ctrl+R",)),
    ActionSpec(Command.RELEASE, Menu.RECORDS, marked("actions", "Release what is reser&ved"), ("Ctrl+G",)),
    ActionSpec(Command.TAKE_OUT, Menu.RECORDS, marked("actions", "&Take out of the bin"), ("Ctrl+T",)),
    ActionSpec(Command.PUT_IN, Menu.RECORDS, marked("actions", "Put &into the bin"), ("Ctrl+I",)),
    ActionSpec(Command.COUNT_AGAIN, Menu.RECORDS, marked("actions", "Count a&gain"), ("Ctrl+K",)),
    ActionSpec(Command.LOW_MARK, Menu.RECORDS, marked("actions", "Low mar&k"), ("Ctrl+M",)),
    ActionSpec(Command.MOVE_BIN, Menu.RECORDS, marked("actions", "Move to another bi&n"), ("Ctrl+J",)),
    ActionSpec(Command.LOW_ONLY, Menu.RECORDS, marked("actions", "&Low bins only"), ("Ctrl+Shift+L",)),
    ActionSpec(Command.PAIR_UP, Menu.RECORDS, marked("actions", "&Pair up"), ("Ctrl+Shift+U",), starts_group=True),
    ActionSpec(Command.PAIR_SURELY, Menu.RECORDS, marked("actions", "Pair these two surel&y"), ("Ctrl+Shift+F",)),
    ActionSpec(Command.PAIR_NEVER, Menu.RECORDS, marked("actions", "Never pair these tw&o"), ("Ctrl+Shift+X",)),
    ActionSpec(Command.PAIR_FILTER, Menu.RECORDS, marked("actions", "Which pairs: ne&xt kind"), ("Ctrl+Shift+V",)),
    ActionSpec(
        Command.WHAT_HAPPENED, Menu.RECORDS, marked("actions", "&What happened"), ("Ctrl+Shift+W",), starts_group=True
    ),
    ActionSpec(Command.DO_IT, Menu.RECORDS, marked("actions", "&Do what is asked"), ("F12",)),
    ActionSpec(Command.HEALTH, Menu.HEALTH, marked("actions", "&Health of the catalog"), ("Ctrl+Shift+E",)),
    ActionSpec(
        Command.COPIES, Menu.HEALTH, marked("actions", "&Copies, put one back"), ("Ctrl+Shift+K",), starts_group=True
    ),
    ActionSpec(Command.COPY_NOW, Menu.HEALTH, marked("actions", "Copy &now"), ("Ctrl+Shift+O",)),
    ActionSpec(Command.PUT_RIGHT, Menu.HEALTH, marked("actions", "Put damaged rows &right…"), ("Ctrl+Shift+Y",)),
    ActionSpec(
        Command.HELP_BUNDLE,
        Menu.HEALTH,
        marked("actions", "Make a help &bundle…"),
        ("Ctrl+Shift+B",),
        starts_group=True,
    ),
    ActionSpec(Command.HELP, Menu.HELP, marked("actions", "&Help on this place"), ("F1",)),
    ActionSpec(Command.ALL_KEYS, Menu.HELP, marked("actions", "All &keys"), ("Ctrl+/",)),
)


def spec_of(command: Command) -> ActionSpec:
    """Return how a command was declared."""
    return next(spec for spec in SPECS if spec.command is command)


def plain_text(spec: ActionSpec) -> str:
    """Return what the command is called, translated, without the mark of its menu letter."""
    return str(QCoreApplication.translate("actions", spec.text)).replace("&&", "\0").replace("&", "").replace("\0", "&")


def keys_text(spec: ActionSpec) -> str:
    """Return the keys of the command as the platform writes them."""
    native = QKeySequence.SequenceFormat.NativeText
    return ", ".join(QKeySequence(keys).toString(native) for keys in spec.keys)


def build_actions(window: QMainWindow) -> dict[Command, QAction]:
    """Return one action per command, owned by ``window`` and working from anywhere in it."""
    actions: dict[Command, QAction] = {}
    for spec in SPECS:
        action = QAction(str(QCoreApplication.translate("actions", spec.text)), window)
        action.setObjectName(f"action_{spec.command}")
        action.setShortcuts([QKeySequence(keys) for keys in spec.keys])
        action.setShortcutContext(Qt.ShortcutContext.WindowShortcut)
        action.setCheckable(spec.is_checkable)
        # A key that is held down must not answer the question that its first press asked.
        action.setAutoRepeat(spec.command is not Command.DO_IT)
        window.addAction(action)
        actions[spec.command] = action
    return actions


def fill_menu_bar(bar: QMenuBar, actions: Mapping[Command, QAction]) -> None:
    """Hang every action into its menu."""
    for menu_name, title in MENU_TITLES.items():
        menu = bar.addMenu(str(QCoreApplication.translate("actions", title)))
        menu.setObjectName(f"menu_{menu_name}_menu")
        menu.setAccessibleName(menu.title().replace("&", ""))
        for spec in SPECS:
            if spec.menu is not menu_name:
                continue
            if spec.starts_group:
                menu.addSeparator()
            menu.addAction(actions[spec.command])
