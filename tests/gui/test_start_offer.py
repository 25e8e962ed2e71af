"""A catalog that cannot be opened: the newest whole copy is offered in its place, and opened in the same window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pysqlite3.dbapi2 as binding
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.gui.conftest import shown_windows
from tests.services.copied_shop import copied_shop
from xref_app.app import Opening, offer_copy
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import first_window
from xref_app.gui.start_offer import StartOffer
from xref_app.gui.window_start import WindowStart
from xref_app.services.kept_copies import kept_copies
from xref_app.store.place import own_store_path

Begin = Callable[[], tuple[MainWindow, WindowStart]]


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the path of the shop's own store on this machine, with copies, open nowhere."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    path = own_store_path()
    assert path.is_relative_to(tmp_path)
    made = copied_shop(path.parent)
    assert made == path, "the tests' store and the program's have one name"
    return path


@pytest.fixture
def begin(qtbot: QtBot, tmp_path: Path) -> Iterator[Begin]:
    """Return a function that starts the program as ``run_window`` does."""
    openings: list[Opening] = []
    with shown_windows(qtbot) as show:

        def begin_one() -> tuple[MainWindow, WindowStart]:
            window = first_window(tmp_path / "window.ini")
            opening = Opening(window, sample=False)
            openings.append(opening)
            start = WindowStart(window, opening.bring)
            start.failed.connect(lambda sentence: offer_copy(window, start, opening, sentence))
            show(window)
            return window, start

        yield begin_one
    for one in openings:
        one.close()


def offer_in(window: MainWindow) -> StartOffer:
    found = window.findChildren(StartOffer)
    assert len(found) == 1
    return found[0]


def wait_for_offer(qtbot: QtBot, window: MainWindow) -> StartOffer:
    qtbot.waitUntil(lambda: any(one.bar for one in window.findChildren(StartOffer)), timeout=20_000)
    return offer_in(window)


DAMAGES: dict[str, Callable[[Path], object]] = {
    "gone": lambda path: path.unlink(),
    "no store": lambda path: path.write_bytes(b"a letter to somebody " * 100),
    "empty": lambda path: path.write_bytes(b""),
    "head gone": lambda path: path.write_bytes(bytes(100) + path.read_bytes()[100:]),
}


@pytest.mark.parametrize("kind", DAMAGES)
def test_two_keys_put_the_newest_copy_in_place_and_open_it(shop: Path, begin: Begin, qtbot: QtBot, kind: str) -> None:
    DAMAGES[kind](shop)
    lay_there = shop.read_bytes() if shop.exists() else None
    window, start = begin()
    offer = wait_for_offer(qtbot, window)
    assert start.fault
    assert window.message.text == start.fault
    assert offer.bar is not None
    assert "It is of " in offer.bar._question.text()
    assert "194 entries" in offer.bar._question.text()
    QTest.keyClick(offer.bar.lines["who"], Qt.Key.Key_F12)
    assert window.message.text == "Say who you are; it stands in the history."
    QTest.keyClicks(offer.bar.lines["who"], "Ana")
    with qtbot.waitSignal(start.done, timeout=20_000):
        QTest.keyClick(offer.bar.lines["who"], Qt.Key.Key_F12)
    assert not start.fault
    assert window.is_whole
    assert not window.message.text
    qtbot.waitUntil(lambda: not window.is_working, timeout=20_000)
    window.entry.take_scan("NX 270-25")
    qtbot.waitUntil(lambda: window.flow.job is not None, timeout=20_000)
    assert window.status.works_from_button.isVisible()
    aside = list((shop.parent / "copies").glob("*.aside.*"))
    assert [one.read_bytes() for one in aside] == ([] if lay_there is None else [lay_there])


def test_escape_leaves_everything_as_it_lies(shop: Path, begin: Begin, qtbot: QtBot) -> None:
    DAMAGES["no store"](shop)
    before = shop.read_bytes()
    window, start = begin()
    offer = wait_for_offer(qtbot, window)
    QTest.keyClick(window, Qt.Key.Key_Escape)
    assert offer.bar is None
    assert start.fault
    assert not window.is_whole
    assert shop.read_bytes() == before


def test_enter_space_and_letters_put_nothing_back(shop: Path, begin: Begin, qtbot: QtBot) -> None:
    DAMAGES["no store"](shop)
    before = shop.read_bytes()
    window, _start = begin()
    offer = wait_for_offer(qtbot, window)
    assert offer.bar is not None
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Space, Qt.Key.Key_Y, Qt.Key.Key_Tab, Qt.Key.Key_Return):
        QTest.keyClick(window.focusWidget(), key)
    assert shop.read_bytes() == before
    assert not window.is_whole


def test_nothing_is_offered_where_no_copy_is_whole(shop: Path, begin: Begin, qtbot: QtBot) -> None:
    for one in kept_copies(shop):
        one.path.write_bytes(b"a letter")
    DAMAGES["no store"](shop)
    window, start = begin()
    qtbot.waitUntil(lambda: bool(start.fault) and window.tasks.running == 0, timeout=20_000)
    assert offer_in(window).bar is None


def test_nothing_older_is_offered_for_a_catalog_of_a_later_program(shop: Path, begin: Begin, qtbot: QtBot) -> None:
    with binding.connect(shop) as store:
        store.execute("UPDATE alembic_version SET version_num = '9999'")
    store.close()
    window, start = begin()
    qtbot.waitUntil(lambda: bool(start.fault) and window.tasks.running == 0, timeout=20_000)
    assert "open it with the newer version of the program" in start.fault
    assert offer_in(window).bar is None


@pytest.mark.usefixtures("shop")
def test_nothing_is_offered_for_a_catalog_that_only_cannot_be_written(
    begin: Begin, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    # As root every file can be written, so the system is asked in other words.
    monkeypatch.setattr("xref_app.store.engine.os.access", lambda _path, _mode: False)
    window, start = begin()
    qtbot.waitUntil(lambda: bool(start.fault) and window.tasks.running == 0, timeout=20_000)
    assert "cannot be written" in start.fault
    assert offer_in(window).bar is None
