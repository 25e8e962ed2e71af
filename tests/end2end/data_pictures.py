"""The pictures of the README about data: a supplier's list, a catalog file, a copy put back; on stores of their own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.gui import take_copies_pictures as copies
from tests.gui import take_stick_pictures as stick
from tests.gui import take_supplier_pictures as supplier
from tests.gui.signed_files import trust
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_store
from tests.services.copied_shop import copied_shop
from xref_app.gui.main_window import MainWindow
from xref_app.services.live_desk import LiveDesk
from xref_app.services.open_catalog import OWN_NAME, open_own

Save = Callable[[MainWindow, Path, str], None]


def take_data(folder: Path, settings: Path, save: Save) -> None:
    """Take the pictures into ``folder``; the stores lie in ``settings``."""
    with _window(settings / "list") as (window, _desk, place):
        supplier.SCENES["84_supplier_both_readings"](window, place)
        save(window, folder, "supplier_file")
    with _window(settings / "stick") as (window, desk, place):
        stick.SCENES["82_stick_update"](window, desk, place)
        save(window, folder, "catalog_file")
    place = settings / "copies"
    with pictured_window(open_own(copied_shop(place)), place / "window.ini") as window:
        window.memory.who = "Ilvane"
        copies.SCENES["81_asked"][0](window)
        save(window, folder, "copies")


@contextmanager
def _window(place: Path) -> Iterator[tuple[MainWindow, LiveDesk, Path]]:
    place.mkdir()
    store = sample_store(place)
    trust(store)
    desk = LiveDesk(store, OWN_NAME)
    with pictured_window(desk, place / "window.ini") as window:
        window.memory.who = "Ilvane"
        yield window, desk, place
