"""The fit sheet, word for word: a pump that fits with parts, one not known yet, one that does not fit.

The texts in ``golden`` were read by eye against the judgements; a change of any word is seen here. Write them anew
with ``python -m tests.sheets.test_fit_sheet`` and read them again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from tests.gui.desk_for_tests import PUMPS, judged
from tests.sheets.paper_for_tests import MADE_UP, OWN, PLAIN, reckoned, whole_text
from xref_app.core.fit.finding import Need, Outcome, Verdict
from xref_app.core.fit.seat import FEEL_AGAIN
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.sentence import Sentence
from xref_app.sheets.assembly_steps import assembly_steps
from xref_app.sheets.blocks import CautionBlock, Steps, Ticks
from xref_app.sheets.fit_sheet import FitCase, fit_sheet
from xref_app.sheets.page import Paper
from xref_app.sheets.shapes import Circle, Drawing, Line
from xref_app.sheets.sheet_pages import sheet_pages

GOLDEN = Path(__file__).parent / "golden"
# The pumps of the tests' desk, by the verdict they get on the machine of design.md section 10.
NUMBERS: Mapping[str, str] = {"parts": "B2700-34", "unknown": "D2427", "fails": "S1450"}
VERDICTS: Mapping[str, Verdict] = {
    "parts": Verdict.FITS_WITH_PARTS,
    "unknown": Verdict.NOT_KNOWN_YET,
    "fails": Verdict.DOES_NOT_FIT,
}
ROUND = Drawing((Circle(0.0, 0.0, 40.0, Line.PART),))


def case(number: str) -> FitCase:
    return FitCase(f"{number} Lowmarsh", "Tern 27", judged(number), "118", drawings=(ROUND,))


def text_of(name: str) -> str:
    sheet = fit_sheet(case(NUMBERS[name]), OWN, PLAIN)
    return whole_text(sheet_pages(replace(sheet, drawings=()), Paper.A4, reckoned, PLAIN))


@pytest.mark.parametrize("name", NUMBERS)
def test_a_sheet_reads_word_for_word(name: str) -> None:
    assert judged(NUMBERS[name]).verdict is VERDICTS[name]
    assert text_of(name) == (GOLDEN / f"fit_{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("number", PUMPS)
def test_only_a_sheet_that_says_fits_tells_how_to_build_and_shows_drawings(number: str) -> None:
    sheet = fit_sheet(case(number), OWN, PLAIN)
    fits = judged(number).verdict in {Verdict.FITS, Verdict.FITS_WITH_PARTS}
    assert any(isinstance(one, Steps) for one in sheet.blocks) is fits
    assert bool(sheet.drawings) is fits


@pytest.mark.parametrize("number", PUMPS)
def test_whoever_has_to_touch_the_machine_reads_every_caution(number: str) -> None:
    judgement = judged(number)
    blocks = fit_sheet(case(number), OWN, PLAIN).blocks
    said = [one.items for one in blocks if isinstance(one, CautionBlock)]
    wanted = [] if judgement.verdict is Verdict.DOES_NOT_FIT else [tuple(map(str, judgement.cautions))]
    assert said == wanted


def test_every_piece_that_is_needed_stands_on_page_one_and_in_a_step_or_a_drawing() -> None:
    judgement = judged(NUMBERS["parts"])
    sheet = fit_sheet(case(NUMBERS["parts"]), OWN, PLAIN)
    steps = " ".join(one for block in sheet.blocks if isinstance(block, Steps) for one in block.steps)
    assert judgement.needs
    for need in judgement.needs:
        assert str(need.what) in steps


@pytest.mark.parametrize("number", PUMPS)
def test_every_note_of_every_check_stands_on_the_sheet(number: str) -> None:
    pages = sheet_pages(fit_sheet(case(number), OWN, PLAIN), Paper.A4, reckoned, PLAIN)
    whole = " ".join("".join(page.text for page in pages).replace("\n", "").split()).replace(" ", "")
    noted = [note for one in judged(number).findings for note in one.notes]
    assert noted
    assert not [str(one) for one in noted if str(one).replace(" ", "") not in whole]


def test_the_leg_that_stands_off_gets_its_spacer_and_is_felt_again() -> None:
    judgement = judged("K4872-20")
    need = Need(Sentence("Spacer 2.00 mm under one leg"), 1, Part(PartKind.SPACER, count=6, bin="A1"))
    again = Sentence(FEEL_AGAIN, {"allowed": 0.15})
    spaced_seat = [
        replace(one, outcome=Outcome.BY_PARTS, needs=(need,), notes=(again,)) if one.check == "seat" else one
        for one in judgement.findings
    ]
    judgement = replace(judgement, findings=tuple(spaced_seat), needs=(need,))
    steps = list(map(str, assembly_steps(judgement)))
    (spaced,) = (place for place, one in enumerate(steps) if one.startswith("Put its spacer under the leg"))
    (felt,) = (place for place, one in enumerate(steps) if "try the feeler again" in one)
    (tight,) = (place for place, one in enumerate(steps) if one.startswith("Then tighten them crosswise"))
    assert spaced < felt < tight


def test_what_is_only_claimed_is_to_be_measured_before_anything_is_bolted() -> None:
    claimed = replace(judged("K4872-20"), claims=("bore_diameter_mm",))
    blocks = fit_sheet(FitCase("K4872-20", "Tern 27", claimed), OWN, PLAIN).blocks
    (ticks,) = (one for one in blocks if isinstance(one, Ticks))
    assert ticks.items[0][0] == "Bore diameter"
    steps = next(one for one in blocks if isinstance(one, Steps)).steps
    assert steps[3] == (
        "Measure what is only claimed, and tick it on page 1. If one size differs, stop: judge it anew."
    )


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
@pytest.mark.parametrize("name", NUMBERS)
def test_every_page_of_made_up_data_says_so_and_no_other_does(name: str, paper: Paper) -> None:
    for foot in (MADE_UP, OWN):
        pages = sheet_pages(fit_sheet(case(NUMBERS[name]), foot, PLAIN), paper, reckoned, PLAIN)
        assert [("SAMPLE: made-up data, not for work" in page.text) for page in pages] == [foot.is_sample] * len(pages)


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
@pytest.mark.parametrize("number", PUMPS)
def test_nothing_of_a_sheet_lies_outside_its_page_or_on_its_foot(number: str, paper: Paper) -> None:
    pages = sheet_pages(fit_sheet(case(number), MADE_UP, PLAIN), paper, reckoned, PLAIN)
    for place, page in enumerate(pages, start=1):
        left, bottom, right, top = page.content.box
        assert min(left, bottom) >= 8.0
        assert right <= page.width_mm - 8.0
        assert top <= page.height_mm - 8.0
        assert f"Page {place} of {len(pages)}" in page.text
        in_the_way = [one for one in page.content.words if one.box[1] < 15.0 and one.y_mm > 11.0]
        assert not in_the_way


def test_a_name_too_long_for_its_line_is_cut_and_runs_into_nothing() -> None:
    foot = replace(MADE_UP, name="Fit sheet · " + "K4872-20 " * 20, catalog="A catalog of a very long name " * 8)
    page = sheet_pages(fit_sheet(case("K4872-20"), foot, PLAIN), Paper.LETTER, reckoned, PLAIN)[0]
    for y in {one.y_mm for one in page.content.words if one.text.endswith("…")}:
        line = sorted((one.box for one in page.content.words if one.y_mm == y), key=lambda box: box[0])
        assert len(line) == 2
        assert line[0][2] < line[1][0]
    assert sum(one.text.endswith("…") for one in page.content.words) == 2


def test_words_of_the_records_stand_below_the_verdict() -> None:
    told = replace(case("K4872-20"), remarks=(Sentence("Put on this machine before, and it leaked."),))
    page = sheet_pages(fit_sheet(told, OWN, PLAIN), Paper.A4, reckoned, PLAIN)[0]
    lines = page.text.splitlines()
    assert lines.index("Put on this machine before, and it leaked.") < lines.index("What you need")


if __name__ == "__main__":
    for each in NUMBERS:
        (GOLDEN / f"fit_{each}.txt").write_text(text_of(each), encoding="utf-8")
