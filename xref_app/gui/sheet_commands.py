"""What the commands of the sheets do: those that lie over the work sheet, and where two share a command, which acts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from xref_app.gui.actions import Command
from xref_app.gui.copies_part import CopiesPart
from xref_app.gui.main_window import MainWindow
from xref_app.gui.pair_part import PairPart
from xref_app.gui.shelf_part import ShelfPart

Effect = Callable[[], object]

_SHELF_COMMANDS = (
    Command.SHELF,
    Command.RESERVE,
    Command.RELEASE,
    Command.TAKE_OUT,
    Command.PUT_IN,
    Command.COUNT_AGAIN,
    Command.LOW_MARK,
    Command.MOVE_BIN,
    Command.LOW_ONLY,
    Command.DO_IT,
)
_PAIR_COMMANDS = (Command.PAIR_UP, Command.PAIR_SURELY, Command.PAIR_NEVER, Command.PAIR_FILTER)
_IS_IT_COMMANDS = (Command.IS_IT_THE_PUMP, Command.CLEAR_ANSWERS, Command.CANNOT_REACH)
_OTHER_COMMANDS = (
    Command.FIX,
    Command.JOBS,
    Command.PRINT_SHEET,
    Command.WHAT_HAPPENED,
    Command.HEALTH,
)
_DATA_COMMANDS = (
    Command.SUPPLIER_FILE,
    Command.READ_CATALOG,
    Command.EXPORT_CATALOG,
    Command.COPIES,
    Command.COPY_NOW,
    Command.PUT_RIGHT,
    Command.HELP_BUNDLE,
)
_SHEET_COMMANDS = frozenset((*_SHELF_COMMANDS, *_PAIR_COMMANDS, *_IS_IT_COMMANDS, *_OTHER_COMMANDS, *_DATA_COMMANDS))


def sheet_effects(window: MainWindow, look_only: Effect) -> dict[Command, Callable[[], None]]:
    """Return what each command of a sheet does; ``look_only`` is done where there is no such sheet."""
    effects: Mapping[Command, Effect] = {
        **dict.fromkeys(_SHEET_COMMANDS, look_only),
        **_shelf_effects(window),
        **_pair_effects(window),
        **_is_it_effects(window),
        **_other_effects(window),
        **_data_effects(window),
    }
    return {command: partial(_run, effect) for command, effect in effects.items()}


def _run(effect: Effect, _is_checked: bool = False) -> None:  # noqa: FBT001, FBT002 - the signal's own argument
    effect()


def _shelf_effects(window: MainWindow) -> dict[Command, Effect]:
    shelf, pairs = window.shelf, window.pairs
    if shelf is None:
        return {}
    effects: tuple[Effect, ...] = (
        shelf.show,
        partial(_reserve, shelf, pairs),
        partial(_release, shelf, pairs),
        shelf.take_out,
        shelf.put_in,
        shelf.count_again,
        shelf.set_low_mark,
        shelf.move,
        shelf.switch_low_only,
        partial(_do_it, window, shelf),
    )
    return dict(zip(_SHELF_COMMANDS, effects, strict=True))


def _reserve(shelf: ShelfPart, pairs: PairPart | None) -> None:
    (pairs.reserve if pairs is not None and pairs.is_shown else shelf.reserve)()


def _release(shelf: ShelfPart, pairs: PairPart | None) -> None:
    (pairs.release if pairs is not None and pairs.is_shown else shelf.release)()


def _do_it(window: MainWindow, shelf: ShelfPart) -> None:
    """Do what is asked; where nothing is, do what the sheet in front asks first."""
    happened, suppliers, catalog = window.happened, window.suppliers, window.catalog_file
    if shelf.bar.is_open:
        shelf.bar.press()
    elif happened is not None and happened.is_shown:
        happened.write_down()
    elif suppliers is not None and suppliers.is_shown:
        suppliers.take()
    elif catalog is not None and catalog.is_shown:
        catalog.ask()
    else:
        shelf.bar.press()


def _pair_effects(window: MainWindow) -> dict[Command, Effect]:
    pairs = window.pairs
    if pairs is None:
        return {}
    return dict(zip(_PAIR_COMMANDS, (pairs.show, pairs.force, pairs.forbid, pairs.step_filter), strict=True))


def _is_it_effects(window: MainWindow) -> dict[Command, Effect]:
    is_it, bench = window.is_it, window.bench
    if is_it is None or bench is None:
        return {}
    effects: tuple[Effect, ...] = (is_it.show, is_it.clear, partial(is_it.skip, bench.sheet.card.skip))
    return dict(zip(_IS_IT_COMMANDS, effects, strict=True))


def _other_effects(window: MainWindow) -> dict[Command, Effect]:
    effects: dict[Command, Effect] = {}
    if window.fix is not None:
        effects[Command.FIX] = window.fix.show
    if window.jobs is not None:
        effects[Command.JOBS] = window.jobs.show
    if window.paper is not None:
        effects[Command.PRINT_SHEET] = partial(_print, window)
    if window.happened is not None:
        effects[Command.WHAT_HAPPENED] = window.happened.show
    if window.health is not None:
        effects[Command.HEALTH] = window.health.show
    return effects


def _data_effects(window: MainWindow) -> dict[Command, Effect]:
    """Return what brings data in and out, and keeps it."""
    effects: dict[Command, Effect] = {}
    if window.copies is not None:
        effects[Command.COPIES] = window.copies.show
        effects[Command.COPY_NOW] = partial(_copy_now, window.copies)
    if window.mending is not None:
        effects[Command.PUT_RIGHT] = window.mending.put_right
    if window.bundle is not None:
        effects[Command.HELP_BUNDLE] = window.bundle.show
    if window.suppliers is not None:
        effects[Command.SUPPLIER_FILE] = window.suppliers.show
    if window.catalog_file is not None:
        effects[Command.READ_CATALOG] = window.catalog_file.show
    if window.export is not None:
        effects[Command.EXPORT_CATALOG] = window.export.show
    return effects


def _copy_now(copies: CopiesPart) -> None:
    copies.show()
    copies.copy_now()


def _print(window: MainWindow) -> None:
    """Show the label of the chosen bin where the shelf is in front, else the sheets of the job."""
    paper, shelf = window.paper, window.shelf
    if shelf is not None and shelf.is_shown:
        shelf.press_label()
    elif paper is not None:
        paper.show()
