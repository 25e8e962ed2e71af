"""The copies with the keyboard alone: told first, put back, taken back, put right; none of it by a slip or a scan."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterator
from functools import partial
from itertools import count
from pathlib import Path

import pysqlite3.dbapi2 as binding
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands
from tests.gui.conftest import shown_windows
from tests.gui.test_health_sheet import focus_name, health_of
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.gui.test_what_happened import CTRL, SHIFT, cut
from tests.gui.whole_window import whole_window
from tests.services.copied_shop import LENGTH, NEW_ENTRIES, READ_ANEW, copied_shop, hurt_reading
from xref_app.gui.bundle_part import BundlePart
from xref_app.gui.copies_part import CopiesPart
from xref_app.gui.copies_words import DAMAGED, NOT_KEPT, UNREADABLE, WHY
from xref_app.gui.help_copies import COPIES_HELP
from xref_app.gui.scan_guard import event_ms
from xref_app.services.copies_told import ELSEWHERE
from xref_app.services.health_lines import LineKind
from xref_app.services.kept_copies import Kind, kept_copies
from xref_app.services.live_desk import LiveDesk
from xref_app.services.open_catalog import open_own
from xref_app.services.restore import Way, restore
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.store.engine import open_engine
from xref_app.store.writing import withdraw

OWN = [f"OWN-{one:05}" for one in range(1, NEW_ENTRIES + 1)]
Open = Callable[..., Hands]


@pytest.fixture
def open_shop(qtbot: QtBot, tmp_path: Path) -> Iterator[Open]:
    """Return a function that opens a window over the shop of this test, whose copies are older than it is."""
    with shown_windows(qtbot) as show:

        def open_one(hurt: Callable[[Path], object] | None = None, *, name: str = "") -> Hands:
            path = tmp_path / "shop.sqlite"
            if not path.exists():
                copied_shop(tmp_path)
            if hurt is not None:
                hurt(path)
            desk = LiveDesk(open_engine(path), name) if name else open_own(path)
            window = whole_window(desk, tmp_path / "window.ini")
            window.memory.who = "Ana"
            beats = count(0, 100)  # a tenth of a second apart, as a person types
            window.guard._clock = lambda _event: float(next(beats))
            show(window)
            hands = Hands(qtbot, window)
            hands.settle()
            return hands

        yield open_one


def copies_of(hands: Hands) -> CopiesPart:
    assert hands.window.copies is not None
    return hands.window.copies


def bundle_of(hands: Hands) -> BundlePart:
    assert hands.window.bundle is not None
    return hands.window.bundle


def on_sheet(open_shop: Open) -> Hands:
    hands = open_shop()
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    assert copies_of(hands).is_shown
    return hands


def there(path: Path) -> set[str]:
    """Return the shop's own entries that stand, read from the file."""
    with binding.connect(path) as store:
        rows = store.execute(
            "SELECT entry_id FROM entries WHERE entry_id LIKE 'OWN-%' AND withdrawn_on = ''"
        ).fetchall()
    store.close()
    return {row[0] for row in rows}


def is_asking(hands: Hands) -> bool:
    return hands.window.shelf is not None and hands.window.shelf.bar.is_open


def question(hands: Hands) -> str:
    assert hands.window.shelf is not None
    return hands.window.shelf.bar._question.text()


def test_a_copy_is_put_back_with_four_keys_after_what_would_vanish_was_told(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = hands.keys
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    assert focus_name() == "copies_kept_list"
    assert [one.why for one in copies_of(hands).sheet.told.lines] == ["import", "daily"]
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    told = f"Will vanish – entries: {NEW_ENTRIES}, readings: {READ_ANEW}. Come back – readings: 1."
    assert told in question(hands)
    assert there(tmp_path / "shop.sqlite") == set(OWN)
    hands.press(Qt.Key.Key_F12)
    assert hands.keys - before == 4
    assert there(tmp_path / "shop.sqlite") == set()
    assert not is_asking(hands)
    assert hands.window.message.text.endswith("Ctrl+Z takes it back.")
    assert hands.window.status.works_from_button.isVisible()


def test_ctrl_z_takes_the_restore_back_and_the_note_with_it(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_F12):
        hands.press(key)
    hands.press(Qt.Key.Key_Z, CTRL)
    assert there(tmp_path / "shop.sqlite") == set(OWN)
    assert not hands.window.status.works_from_button.isVisible()
    hands.press(Qt.Key.Key_Y, CTRL)
    assert there(tmp_path / "shop.sqlite") == set()
    assert hands.window.status.works_from_button.isVisible()


def test_the_note_stays_from_start_to_start_until_somebody_says_that_it_is_known(open_shop: Open) -> None:
    hands = on_sheet(open_shop)
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_F12):
        hands.press(key)
    for is_known in (False, True):
        hands.window.close()
        again = hands = open_shop()
        assert again.window.watch is not None
        again.window.watch.begin()
        again.settle()
        button = again.window.status.works_from_button
        assert button.isVisible() is not is_known
        if not is_known:
            assert button.text().startswith("Working from: Copy of ")
            button.setFocus()
            again.press(Qt.Key.Key_Space)
            assert not button.isVisible()


def test_a_job_that_is_open_is_judged_anew(open_shop: Open) -> None:
    hands = open_shop()
    hands.window.entry.take_scan("NX 270-25")
    hands.settle()
    before = hands.window.flow.job
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    contradictions = [len(health_of(hands).sheet.lines)]
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_F12):
        hands.press(key)
    assert before is not None
    assert hands.window.flow.job is not before
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    contradictions.append(len(health_of(hands).sheet.lines))
    assert contradictions == [4, 3]  # the length read since contradicts the sample's own


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Y, Qt.Key.Key_P])
def test_only_f12_puts_it_back(open_shop: Open, tmp_path: Path, key: Qt.Key) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    for _ in range(3):
        hands.press(key)
        hands.press(Qt.Key.Key_Tab)
        if focus_name() == "ask_leave_button":
            hands.press(Qt.Key.Key_Tab)
    assert there(tmp_path / "shop.sqlite") == set(OWN)


def test_esc_stops_it_and_nothing_was_changed(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    assert hands.window.shelf is not None
    hands.window.shelf.bar.press()
    copies_of(hands).leave()
    hands.settle()
    assert hands.window.message.text == "Stopped; nothing was changed."
    assert there(tmp_path / "shop.sqlite") == set(OWN)
    assert copies_of(hands).is_shown


def test_nobody_puts_a_copy_back_without_a_name(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_Backspace)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say who you are; it stands in the history."
    assert there(tmp_path / "shop.sqlite") == set(OWN)


def test_a_reading_withdrawn_as_wrong_is_not_what_is_missing(open_shop: Open) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    copies_of(hands).sheet.details.missing_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert hands.window.message.text == "Nothing is missing that the copy has."
    assert not is_asking(hands)


def test_what_is_missing_comes_back_and_that_alone_is_told(open_shop: Open, tmp_path: Path) -> None:
    def lose_one(path: Path) -> None:
        store = open_engine(path)
        withdraw(store, "entries", (OWN[0],), who="Ana", why="by mistake")
        store.dispose()

    hands = open_shop(lose_one)
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    copies_of(hands).sheet.details.missing_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert "Come back – entries: 1." in question(hands)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text.startswith("What was missing is back from the copy of ")
    assert there(tmp_path / "shop.sqlite") == set(OWN)


def test_what_came_between_the_question_and_the_act_is_told(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    other = open_engine(tmp_path / "shop.sqlite")
    withdraw(other, "entries", (OWN[0],), who="Ben", why="scrap")
    other.dispose()
    hands.press(Qt.Key.Key_F12)
    assert f"The catalog was changed meanwhile: Will vanish – entries: {NEW_ENTRIES - 1}, " in hands.window.message.text


def test_where_another_counter_put_it_back_first_no_act_is_told(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    line = copies_of(hands).sheet.line
    assert line is not None
    restore(tmp_path / "shop.sqlite", line.path, Way.ALL, who="Ben")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Nothing would change: the catalog is as in the copy."


def test_copy_now_adds_one_that_is_whole(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.press(Qt.Key.Key_O, CTRL | SHIFT)
    lines = copies_of(hands).sheet.told.lines
    assert [one.why for one in lines] == ["asked", "import", "daily"]
    assert all(one.good for one in lines)
    assert kept_copies(tmp_path / "shop.sqlite")[0].kind is Kind.ASKED
    assert copies_of(hands).sheet.counted.startswith("3 of 3 copies are whole, the newest is of ")


def test_a_copy_that_is_stopped_is_told_of_no_more(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    copies_of(hands).copy_now()
    assert copies_of(hands).sheet.counted.startswith("Copying")
    copies_of(hands).leave()
    hands.settle()
    assert hands.window.message.text == "Stopped; nothing was changed."
    assert copies_of(hands).sheet.counted.startswith("2 of 2 copies are whole")
    assert len(kept_copies(tmp_path / "shop.sqlite")) == 2


def test_what_is_looked_at_meanwhile_stops_no_copy(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    copies_of(hands).copy_now()
    copies_of(hands).put_all_back()
    copies_of(hands).copy_now()
    assert hands.window.message.text == "A copy is being made already; Esc stops it."
    hands.settle()
    assert len(kept_copies(tmp_path / "shop.sqlite")) == 3


def test_a_copy_goes_where_the_person_says_and_never_over_another_file(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    stick = tmp_path / "stick.sqlite"
    for said in ("The copy is made and checked: ", f"The copy “{stick}” was not made because a file of that name is"):
        copies_of(hands)._copy_to(str(stick))
        hands.settle()
        assert hands.window.message.text.startswith(said)
    with binding.connect(stick) as copy:
        assert copy.execute("SELECT count(*) FROM entries").fetchone()[0] > NEW_ENTRIES


def choose_elsewhere(hands: Hands, path: Path) -> None:
    copies_of(hands)._look_at(str(path))
    hands.settle()


def test_a_copy_from_a_stick_is_looked_at_and_put_back_like_the_others(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    stick = tmp_path / "stick.sqlite"
    stick.write_bytes(kept_copies(tmp_path / "shop.sqlite")[-1].path.read_bytes())
    choose_elsewhere(hands, stick)
    line = copies_of(hands).sheet.line
    assert line is not None
    assert (line.path, line.good) == (stick, True)
    assert "from where you chose it" in str(copies_of(hands).sheet.list.model().index(0, 0).data())
    copies_of(hands).sheet.focus_copies()
    hands.press(Qt.Key.Key_Return)
    assert f"entries: {NEW_ENTRIES}" in question(hands)
    hands.press(Qt.Key.Key_F12)
    assert there(tmp_path / "shop.sqlite") == set()


def test_a_file_that_is_no_copy_cannot_be_put_back(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    letter = tmp_path / "letter.sqlite"
    letter.write_bytes(b"a letter to somebody")
    choose_elsewhere(hands, letter)
    line = copies_of(hands).sheet.line
    assert line is not None
    assert (line.path, line.good, line.holds) == (letter, False, None)
    assert not copies_of(hands).sheet.details.all_button.isEnabled()


def test_a_question_that_is_open_is_not_replaced_by_a_late_one(open_shop: Open) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    before = question(hands)
    copies_of(hands).bring_back_missing()
    copies_of(hands).put_all_back()
    hands.settle()
    assert question(hands) == before
    assert hands.window.message.text == "Answer the question above first, then ask again."


def test_while_one_is_put_back_no_daily_copy_drops_another(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop(lose_copies)
    copies_of(hands).count()
    assert hands.window.watch is not None
    assert copies_of(hands).is_working
    hands.window.watch.look()
    hands.settle()
    assert kept_copies(tmp_path / "shop.sqlite") == ()
    hands.window.watch.look()
    hands.settle()
    assert len(kept_copies(tmp_path / "shop.sqlite")) == 1


def lose_copies(path: Path) -> None:
    for one in kept_copies(path):
        one.path.unlink()


def flip_middle(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(bytes(content))


def test_a_damaged_copy_is_told_and_is_not_the_one_that_is_chosen(open_shop: Open) -> None:
    def hurt(path: Path) -> None:
        newest, oldest = kept_copies(path)
        flip_middle(newest.path)
        oldest.path.write_bytes(b"a letter to somebody")

    hands = open_shop(hurt)
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    sheet = copies_of(hands).sheet
    assert [one.good for one in sheet.told.lines] == [False, False]
    words = [sheet.list.model().index(row, 0).data() for row in range(2)]
    assert all(DAMAGED in str(one) for one in words)
    assert UNREADABLE in str(words[1])
    assert sheet.counted.startswith("2 copies, none of them whole: make one now.")
    hands.press(Qt.Key.Key_End)
    assert not sheet.details.all_button.isEnabled()
    hands.press(Qt.Key.Key_Return)
    assert hands.window.message.text == "Choose a copy that can be read."


def test_damaged_rows_are_put_right_from_the_newest_whole_copy(open_shop: Open) -> None:
    hands = open_shop(hurt_reading)
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    lines = health_of(hands).sheet.lines
    assert [one.kind for one in lines][-1] is LineKind.DAMAGED
    assert health_of(hands).sheet._copies.text().startswith("2 of 2 copies are whole")
    hands.press(Qt.Key.Key_End)
    health_of(hands).sheet.details.mend_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert "Damaged or lost rows that come back as they stood: 1." in question(hands)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Done. Damaged or lost rows that come back as they stood: 1."
    assert LineKind.DAMAGED not in [one.kind for one in health_of(hands).sheet.lines]
    hands.press(Qt.Key.Key_Y, CTRL | SHIFT)
    assert hands.window.message.text.startswith("Nothing to put right: either no row is damaged or lost, or no whole ")


def break_history(path: Path) -> None:
    with binding.connect(path) as store:
        store.execute("DROP TRIGGER history_keeps_UPDATE")
        store.execute("UPDATE history SET who = 'nobody' WHERE serial = 2")
    store.close()


def test_a_catalog_beyond_single_rows_closes_for_a_whole_copy(open_shop: Open, qtbot: QtBot) -> None:
    hands = open_shop(break_history)
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    sheet = copies_of(hands).sheet
    assert "too badly damaged to add anything" in sheet.counted
    assert not sheet.details.missing_button.isEnabled()
    hands.press(Qt.Key.Key_Return)
    assert "The window closes and opens again" in question(hands)
    hands.press(Qt.Key.Key_Backspace)
    with qtbot.assertNotEmitted(copies_of(hands).put_in_place):
        hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say who you are; it stands in the history."
    hands.type("Ana")
    with qtbot.waitSignal(copies_of(hands).put_in_place) as asked:
        hands.press(Qt.Key.Key_F12)
    assert asked.args == [sheet.told.lines[0].path, "Ana"]


def test_the_day_s_copy_is_made_once_and_the_status_says_so(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop(lose_copies)
    watch = hands.window.watch
    assert watch is not None
    for _ in range(2):
        watch.look()
        hands.settle()
        assert [one.kind for one in kept_copies(tmp_path / "shop.sqlite")] == [Kind.DAILY]
        assert hands.window.status._copy.text() == "Copy: today"


def test_a_copy_that_cannot_be_made_is_told_in_the_window(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    for one in (tmp_path / "copies").iterdir():
        one.unlink()
    (tmp_path / "copies").rmdir()
    (tmp_path / "copies").write_text("a file where the folder should be")
    assert hands.window.watch is not None
    hands.window.watch.look()
    hands.settle()
    assert hands.window.status._copy.text() == "NO COPY TODAY"
    assert "was not made because" in hands.window.message.text


def test_of_made_up_data_no_copies_are_kept(open_shop: Open) -> None:
    hands = open_shop(name=SAMPLE_NAME)
    hands.press(Qt.Key.Key_K, CTRL | SHIFT)
    assert copies_of(hands).sheet.counted == NOT_KEPT
    assert not copies_of(hands).sheet.details.now_button.isEnabled()
    hands.press(Qt.Key.Key_Return)
    assert not is_asking(hands)
    hands.press(Qt.Key.Key_O, CTRL | SHIFT)
    assert hands.window.message.text == NOT_KEPT


def test_the_bundle_shows_what_it_holds_and_saves_just_that(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.press(Qt.Key.Key_B, CTRL | SHIFT)
    sheet = bundle_of(hands).sheet
    shown = sheet.contents.toPlainText()
    assert "Ana" not in shown
    sheet.names_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert "Ana" in sheet.contents.toPlainText()
    hands.press(Qt.Key.Key_Space)
    assert sheet.contents.toPlainText() == shown
    bundle_of(hands)._save(sheet.parts, str(tmp_path / "help.zip"))
    hands.settle()
    assert hands.window.message.text == f"The help bundle is saved: {tmp_path / 'help.zip'}"
    with zipfile.ZipFile(tmp_path / "help.zip") as file:
        assert set(file.namelist()) == {"contents.txt", *(one.name for one in sheet.parts)}
        for one in sheet.parts:
            assert file.read(one.name).decode().rstrip() in shown
    hands.press(Qt.Key.Key_Escape)
    assert not bundle_of(hands).is_shown


def test_a_bundle_that_is_stopped_is_not_waited_for(open_shop: Open) -> None:
    hands = open_shop()
    bundle_of(hands).show()
    bundle_of(hands).leave()
    hands.settle()
    assert bundle_of(hands).sheet.contents.toPlainText() == "Stopped; no bundle was made."
    assert not bundle_of(hands).sheet.save_button.isEnabled()


def test_every_reason_for_a_copy_has_words() -> None:
    assert {*Kind, "upgrade", "set aside", ELSEWHERE} == set(WHY)


def test_a_scan_over_the_sheets_changes_nothing(open_shop: Open, tmp_path: Path) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_Down)
    hands.window.guard._clock = event_ms
    keyboard = Keyboard()
    details = copies_of(hands).sheet.details
    buttons = (details.all_button, details.missing_button, details.now_button, details.leave_button)
    for place in (copies_of(hands).sheet.list, *buttons):
        place.setFocus()
        keyboard.type("4002 9123", gap_ms=8, end=Qt.Key.Key_Return)
        hands.settle()
        assert copies_of(hands).is_shown, place.objectName()
        assert not is_asking(hands), place.objectName()
    copies_of(hands).put_all_back()
    hands.settle()
    for _ in range(3):
        keyboard.type("4002 9123", gap_ms=8, end=Qt.Key.Key_Return)
        hands.settle()
    assert there(tmp_path / "shop.sqlite") == set(OWN)
    assert len(copies_of(hands).sheet.told.lines) == 2


def test_every_place_has_a_name_and_a_paragraph_of_help(open_shop: Open) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_B, CTRL | SHIFT)
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    assert not unnamed(hands.window)
    names = [one.objectName() for one in controls(hands.window)]
    assert len(names) == len(set(names))
    assert {one for one in names if one.startswith(("copies_", "bundle_"))} == set(COPIES_HELP)


def test_f6_and_tab_reach_everything(open_shop: Open) -> None:
    hands = on_sheet(open_shop)
    hands.press(Qt.Key.Key_F6)
    seen = [focus_name()]
    assert seen == ["copies_all_button"]
    while focus_name() != "copies_kept_list":
        hands.press(Qt.Key.Key_Tab)
        assert focus_name() not in seen, "a trap"
        seen.append(focus_name())
    details = ("all", "missing", "now", "elsewhere", "from", "bundle", "leave")
    assert {f"copies_{one}_button" for one in details} <= set(seen)


def is_whole(hands: Hands, prefix: str) -> bool:
    return not cut(hands, prefix)


@pytest.mark.parametrize(("height", "percent"), [(690, 100), (642, 150), (690, 200)])
def test_nothing_is_cut_and_the_window_stays(open_shop: Open, qtbot: QtBot, height: int, percent: int) -> None:
    hands = open_shop()
    width = 1366 if height == 690 else 1280
    hands.window.resize(width, height)
    hands.window.look.set_text_percent(percent)
    for key, prefix in ((Qt.Key.Key_K, "copies_"), (Qt.Key.Key_B, "bundle_")):
        hands.press(key, CTRL | SHIFT)
        qtbot.waitUntil(partial(is_whole, hands, prefix))
        assert (hands.window.width(), hands.window.height()) == (width, height)
    assert QApplication.focusWidget() is not None


def test_the_reading_written_since_is_the_one_of_the_shop() -> None:
    assert (LENGTH.entry_id, LENGTH.field) == ("P-001", "pump_length_mm")
