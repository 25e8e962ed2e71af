"""What each command does to the window."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QCoreApplication, QObject, Qt, Slot
from PySide6.QtGui import QActionGroup
from PySide6.QtWidgets import QApplication, QWidget

from xref_app.gui.actions import REDO_TEXT, UNDO_TEXT, Command
from xref_app.gui.bench_part import step_name
from xref_app.gui.colours import ThemeName
from xref_app.gui.face_view import Zoom
from xref_app.gui.help_window import HelpWindow
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.main_window import MainWindow
from xref_app.gui.sheet_commands import sheet_effects
from xref_app.gui.sheet_part import SheetPart
from xref_app.gui.theme import TEXT_PERCENTS
from xref_app.services.undoing import UndoNames

_THEMES = {Command.LIGHT: ThemeName.LIGHT, Command.DARK: ThemeName.DARK, Command.CONTRAST: ThemeName.CONTRAST}
_ENTRY_LINE = -1
_BENCH_COMMANDS = (
    Command.UNDO,
    Command.REDO,
    Command.MEASURE,
    Command.CANNOT_REACH,
    Command.EDIT_FIELD,
    Command.ENTER_PUMP,
    Command.ENTER_MACHINE,
    Command.UNFINISHED,
    Command.SAVE_ENTRY,
    Command.VERSIONS,
)


class WindowCommands(QObject):
    """Lives with the window; joins every action to what it does."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._help: HelpWindow | None = None
        effects = self._effects()
        for command, action in window.actions_by_command.items():
            action.triggered.connect(effects[command])
        self._group_themes()
        window.actions_by_command[Command.LENGTH_FIRST].setChecked(window.memory.length_first is LengthFirst.INCH)
        window.entry.unit_pressed.connect(window.actions_by_command[Command.LENGTH_FIRST].trigger)
        window.panes.facts.measure_pressed.connect(window.actions_by_command[Command.MEASURE].trigger)
        window.closing.connect(self._close_help)

    def _effects(self) -> dict[Command, Callable[[], None]]:
        window, look = self._window, self._window.look
        candidates = window.panes.candidates
        return {
            Command.NEW_JOB: self._start_new_job,
            Command.JOB_BEFORE: window.flow.reopen_before,
            Command.QUIT: partial(self._run, window.close),
            Command.ENTRY_LINE: self._go_to_entry_line,
            Command.LEAVE: self._leave,
            Command.COPY_WHY: self._copy_why,
            **self._bench_effects(),
            **sheet_effects(window, self._say_look_only),
            Command.NEXT_CANDIDATE: partial(self._run, partial(candidates.step_open, 1)),
            Command.PREVIOUS_CANDIDATE: partial(self._run, partial(candidates.step_open, -1)),
            Command.NEXT_PANE: partial(self._run, partial(self._step_pane, 1)),
            Command.PREVIOUS_PANE: partial(self._run, partial(self._step_pane, -1)),
            Command.WHY: self._show_why,
            Command.DRAWING: self._step_drawing,
            Command.SIDE_VIEW: self._switch_view,
            Command.SAVE_DRAWING: window.drawing_saver.ask,
            Command.LENGTH_FIRST: self._switch_unit,
            Command.TEXT_LARGER: partial(self._run, partial(self._change_text, partial(look.step_text, 1))),
            Command.TEXT_SMALLER: partial(self._run, partial(self._change_text, partial(look.step_text, -1))),
            Command.TEXT_NORMAL: partial(
                self._run, partial(self._change_text, partial(look.set_text_percent, TEXT_PERCENTS[0]))
            ),
            **{command: partial(self._run, partial(self._set_theme, theme)) for command, theme in _THEMES.items()},
            Command.FULL_SCREEN: self._switch_full_screen,
            Command.HELP: self._show_help,
            Command.ALL_KEYS: self._show_keys,
        }

    def _bench_effects(self) -> dict[Command, Callable[[], None]]:
        bench = self._window.bench
        if bench is None:
            return dict.fromkeys(_BENCH_COMMANDS, self._say_look_only)
        bench.names_changed.connect(self._name_steps)
        bench.page_changed.connect(self._note_page)
        effects: dict[Command, Callable[[], object]] = {
            Command.UNDO: bench.flow.undo,
            Command.REDO: bench.flow.redo,
            Command.MEASURE: bench.measure,
            Command.CANNOT_REACH: bench.sheet.card.skip,
            Command.EDIT_FIELD: bench.measure_chosen,
            Command.ENTER_PUMP: bench.enter_pump,
            Command.ENTER_MACHINE: bench.enter_machine,
            Command.UNFINISHED: bench.reopen_unfinished,
            Command.SAVE_ENTRY: bench.sheet.save,
            Command.VERSIONS: bench.show_versions,
        }
        bench.look_for_unfinished()
        self._note_page()
        return {command: partial(self._run, effect) for command, effect in effects.items()}

    @Slot()
    def _say_look_only(self) -> None:
        self._window.message.say(self.tr("This catalog is only looked at: nothing can be entered."))

    @Slot()
    def _note_page(self) -> None:
        """Offer what the page in front can do."""
        bench, is_it = self._window.bench, self._window.is_it
        is_on_bench = bench is not None and bench.is_on_bench
        self._window.actions_by_command[Command.SAVE_ENTRY].setEnabled(is_on_bench)
        can_skip = is_on_bench or (is_it is not None and is_it.is_shown)
        self._window.actions_by_command[Command.CANNOT_REACH].setEnabled(can_skip)

    @Slot(object)
    def _name_steps(self, names: UndoNames) -> None:
        """Say in the menu and in the status line what undo and redo would do."""
        for command, text, name in ((Command.UNDO, UNDO_TEXT, names.undo), (Command.REDO, REDO_TEXT, names.redo)):
            plain = QCoreApplication.translate("actions", text)
            self._window.actions_by_command[command].setText(f"{plain} {step_name(name)}".strip())
            self._window.actions_by_command[command].setEnabled(bool(name))
        self._window.status.show_undo(step_name(names.undo) if names.undo else "")

    def _run(self, effect: Callable[[], object], _is_checked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        effect()

    def _group_themes(self) -> None:
        group = QActionGroup(self)
        for command, theme in _THEMES.items():
            action = self._window.actions_by_command[command]
            group.addAction(action)
            action.setChecked(theme is self._window.look.theme)

    @Slot()
    def _go_to_entry_line(self) -> None:
        self._window.entry.line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot()
    def _start_new_job(self) -> None:
        self._window.message.clear()
        self._window.flow.new_job()
        self._window.entry.clear()
        self._window.say_how_to_type()
        self._go_to_entry_line()

    @Slot()
    def _leave(self) -> None:
        """Undo the last thing that opened; with nothing open go to the entry line; from there begin a new job."""
        window = self._window
        if window.entry.is_dropped:
            window.entry.hide_hits()
        elif self._has_left_page():
            return
        elif window.status.is_waiting_shown:
            window.flow.stop()
        elif window.message.text:
            window.message.clear()
        elif window.jobs is not None and window.jobs.banner.is_open:
            window.jobs.banner.leave()
        elif window.panes.fit.face.view.zoom is Zoom.BIGGER:
            window.panes.fit.face.set_zoom(Zoom.FIT)
        elif not window.entry.line.hasFocus():
            self._go_to_entry_line()
        else:
            self._start_new_job()

    def _has_left_page(self) -> bool:
        """Leave what is asked, or the page in front of the work sheet; say whether there was one."""
        window, bench = self._window, self._window.bench
        if window.shelf is not None and window.shelf.bar.is_open:
            window.shelf.leave()
            return True
        for part in self._sheets:
            if part.is_shown:
                part.leave()
                return True
        if bench is not None and bench.is_on_bench:
            bench.flow.leave()
        elif bench is not None and bench.is_on_versions:
            bench.show_work()
        else:
            return False
        return True

    @Slot()
    def _copy_why(self) -> None:
        QApplication.clipboard().setText(self._window.panes.fit.why.toPlainText())

    def _step_pane(self, step: int) -> None:
        """Go round the entry line and the three panes."""
        panes, bench = self._window.panes, self._window.bench
        if bench is not None and bench.is_on_bench:
            bench.sheet.step_pane(step)
            return
        for part in self._sheets:
            if part.is_shown:
                part.sheet.step_pane(step)
                return
        here = panes.pane_with_focus_or_none()
        places = [_ENTRY_LINE, *range(len(panes.panes))]
        place = places[(places.index(_ENTRY_LINE if here is None else here) + step) % len(places)]
        if place == _ENTRY_LINE:
            self._go_to_entry_line()
        else:
            panes.focus_pane(place)

    @property
    def _sheets(self) -> tuple[SheetPart, ...]:
        """Return the sheets that may lie over the work sheet; the shelf is asked first, for its bar."""
        window = self._window
        parts = (window.shelf, window.pairs, window.fix, window.is_it, window.paper)
        records = (window.jobs, window.happened, window.health)
        data = (window.suppliers, window.catalog_file, window.export, window.copies, window.bundle)
        return tuple(part for part in (*parts, *records, *data) if part is not None)

    @Slot()
    def _show_why(self) -> None:
        self._window.panes.show_pane(2)
        self._window.panes.fit.focus_why()

    @Slot()
    def _step_drawing(self) -> None:
        self._window.panes.show_pane(2)
        self._window.panes.fit.face.step_zoom()

    @Slot()
    def _switch_view(self) -> None:
        self._window.panes.show_pane(2)
        self._window.panes.fit.face.switch_view()

    @Slot()
    def _switch_unit(self) -> None:
        memory = self._window.memory
        memory.length_first = LengthFirst.MM if memory.length_first is LengthFirst.INCH else LengthFirst.INCH
        self._window.actions_by_command[Command.LENGTH_FIRST].setChecked(memory.length_first is LengthFirst.INCH)
        self._window.show_length_first(memory.length_first)

    def _change_text(self, change: Callable[[], None]) -> None:
        change()
        self._window.memory.text_percent = self._window.look.text_percent

    def _set_theme(self, theme: ThemeName) -> None:
        self._window.look.set_theme(theme)
        self._window.memory.theme = theme

    @Slot()
    def _switch_full_screen(self) -> None:
        if self._window.isFullScreen():
            self._window.showNormal()
        else:
            self._window.showFullScreen()
        self._window.actions_by_command[Command.FULL_SCREEN].setChecked(self._window.isFullScreen())

    @Slot()
    def _show_help(self) -> None:
        focus: QWidget | None = self._window.focusWidget()
        self._open_help().show_for("" if focus is None else focus.objectName())

    @Slot()
    def _show_keys(self) -> None:
        self._open_help().show_for("")

    def _open_help(self) -> HelpWindow:
        if self._help is None:
            self._help = HelpWindow(self._window)
        self._help.show()
        self._help.raise_()
        self._help.activateWindow()
        return self._help

    @Slot()
    def _close_help(self) -> None:
        if self._help is not None:
            self._help.close()
