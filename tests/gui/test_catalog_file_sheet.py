"""A supplier's catalog file with the keyboard alone: looked at, taken and taken back, refused in one sentence."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.catalog_hands import (
    CTRL,
    SHIFT,
    Open,
    bar_is_open,
    choose,
    close_box,
    files_of,
    focus_name,
    lines,
    open_shop,
    press,
    rows_of,
    sheet_of,
    status,
    take,
)
from tests.gui.conftest import shown_windows
from tests.gui.signed_files import (
    CHANGED_PUMP,
    GONE_PUMP,
    NEW_PUMP,
    SUPPLIER,
    key_folder,
    next_edition,
    sample_rows,
    trust,
    write_file,
    write_update,
)
from tests.gui.test_what_happened import MACHINE, chosen, with_job
from tests.gui.whole_window import whole_window
from tests.services.bench_store import sample_store
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import Entry
from xref_app.exchange.signing_keys import load_supplier
from xref_app.gui.actions import Command
from xref_app.gui.messages import say
from xref_app.services.catalog_file_lines import LineKind
from xref_app.services.kept_copies import Kind, is_good, kept_copies
from xref_app.services.live_desk import LiveDesk
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.history import read_history

__all__ = ["open_bench", "open_shop"]

OLDER = (
    "The catalog file has number 41, and number 42 was taken already; nothing was changed: ask for a newer one, or "
    "take it all the same."
)


# -- looking


def test_a_file_is_chosen_and_told_and_nothing_is_changed(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    sheet = sheet_of(hands)
    fingerprint = load_supplier(key_folder() / "public.pem", "").fingerprint
    assert sheet.title == f"Spring list, number 42 of {SUPPLIER}"
    assert sheet.about.splitlines() == [
        f"Signed by {SUPPLIER}; the signature is right. Number 42; no file of this supplier was taken before.",
        # The shelf and the used units of the sample are no supplier's to say.
        "Rows: 3 new, 1 changed, 4,272 stand here already; 258 left out, not the supplier's to say.",
        f"Fingerprint {fingerprint}",
    ]
    assert focus_name() == "catalog_lines_table"
    assert lines(hands) == [
        (LineKind.OUTCOME, "Pellawin KO7-4410 (P-002) on Frostlindel FL-54C3 (M-001): installed with parts"),
        (LineKind.OUTCOME, "Pellawin PL36V50 (P-004) on Frostlindel FL-54C3 (M-001): did not fit"),
        (LineKind.WITHDRAWN, "Pellawin PL36V50 (P-004)"),
        (LineKind.CHANGED, "Pellawin KO7-4410 (P-002)"),
        (LineKind.ADDED, "Pellawin PL77C02 (P-900)"),
    ]
    assert rows_of(tmp_path) == before
    assert status(hands) == "Catalog: Sample"


def test_a_changed_value_stands_beside_the_old_one(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    for _ in range(3):
        hands.press(Qt.Key.Key_Down)
    line = sheet_of(hands).line
    assert line is not None
    assert [say(one) for one in line.words()] == ["Bore diameter: .876 in → 28.0 mm"]
    assert "Bore diameter: .876 in → 28.0 mm" in sheet_of(hands).details.view.toPlainText()
    hands.press(Qt.Key.Key_Down)
    assert sheet_of(hands).details.view.toPlainText().splitlines() == [
        "Added: Pellawin PL77C02 (P-900)",
        "Pump: Pellawin, Pump vertical 7/8 in",
        "Number PL77C02: maker, sheet",
        "Bore diameter: 22.23 mm, sheet",
    ]


def test_a_button_leaves_one_kind_and_once_more_shows_all(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    texts = [one.text() for one in sheet_of(hands).filter.buttons.values()]
    assert texts == ["Ours 2", "Withdrawn 1", "Changed 1", "Added 1"]
    press(hands, "catalog_withdrawn_button")
    assert [kind for kind, _called in lines(hands)] == [LineKind.WITHDRAWN]
    press(hands, "catalog_ours_button")
    assert [kind for kind, _called in lines(hands)] == [LineKind.OUTCOME] * 2
    press(hands, "catalog_ours_button")
    assert len(lines(hands)) == 5


def test_a_job_that_the_file_touches_is_listed_and_opened(open_shop: Open, tmp_path: Path) -> None:
    hands = with_job(open_shop)
    hands.window.flow.set_reference("4711")
    assert hands.window.jobs is not None
    hands.window.jobs.keeper.keep_now()
    hands.settle()
    hands.press(Qt.Key.Key_N, CTRL)
    choose(hands, write_update(tmp_path))
    first = sheet_of(hands).line
    assert first is not None
    assert (first.kind, first.job is not None) == (LineKind.JOB, True)
    assert [say(one) for one in first.words()] == [
        "Pump chosen: KO7-4410",
        "Touched by the file: Pellawin KO7-4410 (P-002)",
    ]
    assert sheet_of(hands).state == (
        "It touches what you wrote down yourselves: kept jobs: 1, outcomes: 2. Look at these first."
    )
    hands.press(Qt.Key.Key_Return)
    assert hands.window.panes.isVisible()
    assert hands.window.flow.reference == "4711"


# -- taking


def test_a_file_is_taken_with_two_keys_and_ctrl_z_takes_it_back(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert bar_is_open(hands)
    assert hands.window.shelf is not None
    assert hands.window.shelf.bar._question.text() == (
        f"Take catalog file 42 of {SUPPLIER}? 1 added, 1 changed, 1 withdrawn. "
        "A copy is made first; Ctrl+Z takes it back."
    )
    assert rows_of(tmp_path) == before
    hands.press(Qt.Key.Key_F12)
    copies = kept_copies(tmp_path / "shop.sqlite")
    assert [(one.kind, is_good(one)) for one in copies] == [(Kind.CATALOG, True)]
    assert hands.window.message.text == (
        f"Catalog file 42 of {SUPPLIER} is taken: 1 added, 1 changed, 1 withdrawn. "
        f"Copy made before: {copies[0].path.name}. "
        "Ctrl+Z takes it back."
    )
    now = rows_of(tmp_path)
    assert {one.entry_id for one in now.entries} - {one.entry_id for one in before.entries} == {NEW_PUMP}
    assert [one.entry_id for one in now.entries if one.withdrawn_on] == [GONE_PUMP]
    assert status(hands) == f"Catalog: Sample, {SUPPLIER} no. 42"
    assert hands.window.status._undo.text() == f"Undo: Spring list ({SUPPLIER}, 42)  Ctrl+Z"
    hands.press(Qt.Key.Key_Z, CTRL)
    back = rows_of(tmp_path)
    assert [one for one in back.entries if not one.withdrawn_on] == list(before.entries)
    assert [one for one in back.observations if one.entry_id != NEW_PUMP] == list(before.observations)
    assert hands.window.message.text == f"Taken back: Spring list ({SUPPLIER}, 42)."
    hands.press(Qt.Key.Key_Y, CTRL)
    assert rows_of(tmp_path) == now


def test_f12_twice_in_the_bar_takes_it_once(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    for _ in range(3):
        QTest.keyClick(hands.window, Qt.Key.Key_F12)
    hands.settle()
    assert len(kept_copies(tmp_path / "shop.sqlite")) == 1
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert hands.window.message.text == "Choose a good catalog file first: Ctrl+Shift+G."


def test_leaving_the_bar_takes_nothing(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_Escape)
    assert not bar_is_open(hands)
    assert files_of(hands).is_shown
    hands.press(Qt.Key.Key_Escape)
    assert hands.window.panes.isVisible()
    assert rows_of(tmp_path) == before


def test_what_was_done_otherwise_than_shown_is_said(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    other = sample_store(tmp_path)
    here = Entry("OWN-0001", "pump", "Quenna", "Ours")
    save_edits(other, lambda _numbers: [RowEdit("entries", None, here)], name="x", who="B", why="x", save_id="1")
    other.dispose()
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_F12)
    assert "the catalog was changed meanwhile, so it was compared anew; rows changed: 5." in hands.window.message.text
    assert sheet_of(hands).state.startswith("Taken. The catalog was changed meanwhile: ")


def test_only_f12_takes_it(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Space, Qt.Key.Key_Tab, Qt.Key.Key_Return):
        hands.press(key)
    assert rows_of(tmp_path) == before


def test_a_key_held_down_does_not_answer_what_it_asked(open_shop: Open) -> None:
    assert not open_shop().window.actions_by_command[Command.DO_IT].autoRepeat()


def test_after_a_mistake_of_the_program_the_sheet_can_be_left(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    files_of(hands)._is_taking = True
    files_of(hands)._takes.crashed.emit()
    hands.settle()
    files_of(hands).leave()
    assert not files_of(hands).is_shown


def test_nobody_takes_it_namelessly(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert hands.window.shelf is not None
    hands.window.shelf.bar.lines["who"].clear()
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say who takes the file; nothing was changed."
    assert rows_of(tmp_path) == before
    hands.type("Odrin")
    hands.press(Qt.Key.Key_F12)
    store = sample_store(tmp_path)
    assert read_history(store, limit=1)[0].change.who == "Odrin"
    store.dispose()


def test_the_job_on_screen_is_judged_anew(open_shop: Open, tmp_path: Path) -> None:
    hands = with_job(open_shop)
    assert chosen_verdict(hands) is Verdict.FITS_WITH_PARTS
    take(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_Escape)
    assert chosen_verdict(hands) is Verdict.DOES_NOT_FIT
    hands.press(Qt.Key.Key_Z, CTRL)
    hands.window.panes.candidates.choose(CHANGED_PUMP)
    hands.settle()
    assert chosen_verdict(hands) is Verdict.FITS_WITH_PARTS


def chosen_verdict(hands: Hands) -> Verdict:
    assert chosen(hands).entry_id == CHANGED_PUMP
    return chosen(hands).judgement.verdict


def test_a_job_about_what_is_withdrawn_goes_on_without_it(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.window.entry.take_scan("PL36V50")
    hands.settle()
    assert [one.entry_id for one in hands.window.flow.facts] == [GONE_PUMP]
    take(hands, write_update(tmp_path))
    assert not hands.window.flow.facts
    assert hands.window.message.text.endswith("The job goes on without PL36V50, withdrawn.")


def test_the_first_file_of_an_empty_shop_is_a_catalog(qtbot: QtBot, tmp_path: Path) -> None:
    store = open_engine(tmp_path / "shop.sqlite")
    trust(store)
    with shown_windows(qtbot) as show:
        window = whole_window(LiveDesk(store, "Own catalog"), tmp_path / "window.ini")
        show(window)
        hands = Hands(qtbot, window)
        hands.settle()
        assert window.message.text.startswith("No catalog yet. Read a supplier's catalog file: Ctrl+Shift+G.")
        assert status(hands) == "No catalog"
        window.memory.who = "Ilvane"
        path = write_file(tmp_path, sample_rows(), 1)
        choose(hands, path)
        hands.press(Qt.Key.Key_F12)
        assert window.shelf is not None
        # There is nothing yet to copy.
        assert (
            window.shelf.bar._question.text() == f"Take catalog file 1 of {SUPPLIER}? 440 added. Ctrl+Z takes it back."
        )
        hands.press(Qt.Key.Key_F12)
        assert window.message.text == f"Catalog file 1 of {SUPPLIER} is taken: 440 added. Ctrl+Z takes it back."
        assert status(hands) == f"Catalog: Own catalog, {SUPPLIER} no. 1"
        window.entry.take_scan(MACHINE)
        hands.settle()
        assert hands.window.flow.facts
        hands.press(Qt.Key.Key_Z, CTRL)
        assert status(hands) == "No catalog"
    store.dispose()


def test_what_is_the_shops_own_is_never_overwritten(open_shop: Open, tmp_path: Path) -> None:
    store = sample_store(tmp_path)
    own = Entry("OWN-0001", "pump", "Quenna", "Ours")
    save_edits(store, lambda _numbers: [RowEdit("entries", None, own)], name="Ours", who="A", why="x", save_id="1")
    store.dispose()
    hands = open_shop()
    rows = next_edition()
    hostile = Entry("OWN-0001", "pump", "Harnwick", "Theirs")
    path = write_file(tmp_path, type(rows)(entries=(*rows.entries, hostile)), 50)
    choose(hands, path)
    assert not any("OWN-0001" in called for _kind, called in lines(hands))
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_F12)
    assert own in rows_of(tmp_path).entries


def test_a_file_too_large_for_ctrl_z_says_that_the_copy_is_the_way_back(
    open_shop: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("xref_app.store.catalog_plan.MOST_UNDONE_ROWS", 3)
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert hands.window.shelf is not None
    assert hands.window.shelf.bar._question.text().endswith(
        "A copy is made first: it is the way back, for so many rows are too many for Ctrl+Z."
    )
    hands.press(Qt.Key.Key_F12)
    assert "Ctrl+Z" not in hands.window.message.text
    assert kept_copies(tmp_path / "shop.sqlite")[0].path.name in hands.window.message.text


# -- refused


def test_an_older_number_is_refused_and_taken_only_as_an_act_of_its_own(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    take(hands, write_update(tmp_path))
    after = rows_of(tmp_path)
    choose(hands, write_file(tmp_path, sample_rows(), 41))
    assert sheet_of(hands).state == OLDER
    assert not sheet_of(hands).details.take_button.isEnabled()
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert hands.window.message.text == OLDER
    press(hands, "catalog_although_button")
    assert bar_is_open(hands)
    assert rows_of(tmp_path) == after
    hands.press(Qt.Key.Key_F12)
    assert rows_of(tmp_path) != after
    store = sample_store(tmp_path)
    assert read_history(store, limit=1)[0].change.why.endswith("; taken though number 42 was taken before")
    store.dispose()
    assert status(hands).endswith(f"{SUPPLIER} no. 42")


def test_the_same_file_again_has_nothing_to_take(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    path = write_update(tmp_path)
    take(hands, path)
    choose(hands, path)
    assert sheet_of(hands).state == "This very file was taken before: there is nothing left to change."
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert hands.window.message.text == "There is nothing left to take of this file."


def test_a_damaged_file_is_one_sentence(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    path = write_update(tmp_path)
    path.write_bytes(path.read_bytes()[:-40_000])
    choose(hands, path)
    assert sheet_of(hands).state == (
        "The catalog file “list-42.xrefcat” is damaged in its part “observations.csv”; nothing was changed: copy it "
        "anew from where it came."
    )
    assert not sheet_of(hands).shown
    assert sheet_of(hands).details.trust_button.isHidden()
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert rows_of(tmp_path) == before


def test_a_stick_that_was_pulled_is_one_sentence(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    files_of(hands).read(str(tmp_path / "gone.xrefcat"))
    hands.settle()
    assert "cannot be read" in sheet_of(hands).state


def test_esc_stops_the_reading(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.press(Qt.Key.Key_G, CTRL | SHIFT)
    close_box(hands)
    files_of(hands).read(str(write_update(tmp_path)))
    files_of(hands).leave()
    hands.settle()
    assert sheet_of(hands).state == "Stopped; nothing was changed. Ctrl+Shift+G chooses a file."
    assert not sheet_of(hands).shown
    assert files_of(hands).is_shown


def test_esc_stops_the_take_and_nothing_was_changed(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert hands.window.shelf is not None
    hands.window.shelf.bar.press()
    assert not bar_is_open(hands), "the next Esc would close the question and not stop the take"
    QTest.keyClick(hands.window, Qt.Key.Key_Escape)
    hands.settle()
    assert hands.window.message.text == "Stopped; nothing was changed."
    assert rows_of(tmp_path) == before
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_F12)
    assert rows_of(tmp_path) != before


def test_what_was_reckoned_before_something_was_taken_back_is_reckoned_anew(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    path = write_update(tmp_path)
    take(hands, path)
    choose(hands, write_file(tmp_path, sample_rows(), 50))
    assert sheet_of(hands).filter.buttons["changed"].text() == "Changed 1"
    hands.press(Qt.Key.Key_Z, CTRL)
    assert files_of(hands).is_shown
    assert sheet_of(hands).filter.buttons["changed"].text() == "Changed 0"


def test_leaving_lets_go_of_the_file(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_Escape)
    assert hands.window.panes.isVisible()
    assert not sheet_of(hands).shown
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
