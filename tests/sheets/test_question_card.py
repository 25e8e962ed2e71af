"""The question card: what it asks of whom, each with its unit, how it is measured, and a line."""

from __future__ import annotations

from dataclasses import replace

from tests.gui.desk_for_tests import judged
from tests.sheets.paper_for_tests import OWN, PLAIN, reckoned
from xref_app.core.fields.fields import Side, all_fields
from xref_app.core.fit.finding import Judgement
from xref_app.sheets.blocks import Blank, Sheet
from xref_app.sheets.page import Paper
from xref_app.sheets.question_card import CardCase, fields_to_ask, question_card
from xref_app.sheets.sheet_pages import sheet_pages


def card(judgement: Judgement) -> Sheet:
    return question_card(CardCase("D2427", "D2427 Lowmarsh", judgement, "118"), OWN, PLAIN)


def text_of(judgement: Judgement) -> str:
    return "\n".join(one.text for one in sheet_pages(card(judgement), Paper.A4, reckoned, PLAIN))


def asked(judgement: Judgement) -> list[str]:
    return [one.title for one in card(judgement).blocks if isinstance(one, Blank)]


def test_every_size_of_the_pump_that_an_open_check_asks_for_is_asked_once() -> None:
    judgement = judged("D2427")
    wanted = [all_fields()[one] for one in fields_to_ask(judgement)]
    theirs = [one.title for one in wanted if one.side is Side.PUMP]
    assert theirs
    assert asked(judgement) == [*theirs, "Name, day and telephone"]


def test_sizes_of_our_own_machine_are_named_and_never_asked_of_a_supplier() -> None:
    judgement = judged("D2427")
    ours = [all_fields()[one].title for one in fields_to_ask(judgement) if all_fields()[one].side is Side.MACHINE]
    assert ours == ["Shaft diameter"]
    assert not set(ours) & set(asked(judgement))
    assert "To be measured on our own machine, not by the supplier\nShaft diameter" in text_of(judgement)


def test_what_is_claimed_is_to_be_confirmed() -> None:
    judgement = replace(judged("D2427"), claims=("bore_depth_mm", "shaft_diameter_mm"))
    assert "Claimed: please confirm by measuring\nBore depth" in text_of(judgement)
    assert "Shaft diameter" not in asked(judgement)


def test_a_question_has_its_unit_how_it_is_measured_and_the_words_to_choose_from() -> None:
    blanks = {one.title: one for one in card(judged("D2431")).blocks if isinstance(one, Blank)}
    assert all(blanks[title].how_to for title in blanks if title != "Name, day and telephone")
    direction = blanks["Outlet points to"]
    assert direction.unit == "°"


def test_number_and_reference_stand_on_top_and_nothing_open_is_said() -> None:
    lines = text_of(judged("K4872-20")).splitlines()
    assert "Questions about part number D2427" in lines[1]
    assert lines[2] == "D2427 Lowmarsh. Our reference: 118"
    assert "Nothing is left to ask: every check that needs a size of this pump has it." in lines
