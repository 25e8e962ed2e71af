"""The models keep Qt's contract and show what the answers say."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtTest import QAbstractItemModelTester

from tests.gui.desk_for_tests import BUILDS, FACTS, DeskForTests
from xref_app.core.fit.finding import Finding, Need, Outcome, Quantity
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.progress import Progress
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence
from xref_app.gui.candidates_model import CandidatesModel
from xref_app.gui.choices_model import ChoicesModel
from xref_app.gui.facts_model import FactsModel
from xref_app.gui.findings_model import FindingsColumn, FindingsModel
from xref_app.gui.hits_model import HitsModel
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import both_units_text, quantity_text
from xref_app.gui.needs_model import NeedsColumn, NeedsModel
from xref_app.gui.rows import DOMAIN_ROLE
from xref_app.services.answers import Hit


class _NoProgress:
    def step(self, done: int, total: int) -> None:
        """Go on."""


PROGRESS: Progress = _NoProgress()
REACH = Finding(
    "reach",
    Outcome.BY_PARTS,
    Sentence("Up to {mm:.1f} mm too long.", {"mm": 5.0}),
    "common practice, no published source",
    needed=Quantity(Range.around(62.0, 0.5), "mm"),
    offered=Quantity(Range.exactly(57.0), "mm"),
    gap=Quantity(Range.exactly(5.0), "mm"),
)
OPEN = Finding("key", Outcome.UNKNOWN, Sentence("Not known yet: keyway width."), "ASME B17.1")
FAIL = Finding("bore", Outcome.FAIL, Sentence("Too loose."), "ISO 286", needed="3/4 in", offered="1 in")
PASS = Finding("axis", Outcome.PASS, Sentence("Both horizontal."), "geometry", needed="horizontal", offered="both")


def test_every_model_keeps_the_contract_of_qt() -> None:
    desk = DeskForTests()
    job = desk.open_job("K4872-20", None, PROGRESS)
    facts, hits, choices, candidates = FactsModel(), HitsModel(), ChoicesModel(), CandidatesModel()
    findings, needs = FindingsModel(), NeedsModel()
    models: list[QAbstractItemModel] = [facts, hits, choices, candidates, findings, needs]
    testers = [QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal) for model in models]
    rows = desk.judge_all(job, PROGRESS).rows
    for _ in range(2):
        facts.show_rows(FACTS)
        hits.show_rows(desk.find("K4?7", PROGRESS).hits)
        choices.show_rows(BUILDS)
        candidates.show_rows(rows)
        findings.show_findings(rows[2].judgement.findings)
        needs.show_needs(rows[2].judgement.needs)
        findings.show_first(LengthFirst.INCH)
    assert [model.rowCount() for model in models] == [13, 2, 3, 9, 24, 2]
    candidates.show_rows(())
    assert candidates.rowCount() == 0
    assert len(testers) == len(models)


def test_the_domain_object_lies_under_one_role() -> None:
    model = FindingsModel()
    model.show_findings((REACH,))
    for column in FindingsColumn:
        assert model.index(0, column).data(DOMAIN_ROLE) is REACH


def test_findings_that_stand_in_the_way_come_first() -> None:
    model = FindingsModel()
    model.show_findings((PASS, REACH, OPEN, FAIL))
    assert [one.check for one in model.findings] == ["bore", "key", "reach", "axis"]


def test_a_finding_shows_needed_offered_and_gap_in_the_wanted_unit() -> None:
    model = FindingsModel()
    model.show_findings((REACH,))
    assert [model.index(0, column).data() for column in FindingsColumn] == ["Reach", "62 ± 0.5 mm", "57 mm", "5.00 mm"]
    model.show_first(LengthFirst.INCH)
    # 25.4 mm to the inch (exact since 1959): 62 / 25.4 = 2.441, 57 / 25.4 = 2.244, 5 / 25.4 = 0.197.
    assert [model.index(0, column).data() for column in FindingsColumn] == [
        "Reach",
        "2.441 ± 0.02 in",
        "2.244 in",
        "0.197 in",
    ]


def test_a_cell_is_spoken_whole() -> None:
    model = FindingsModel()
    model.show_findings((REACH, OPEN))
    spoken = Qt.ItemDataRole.AccessibleTextRole
    assert model.index(1, FindingsColumn.GAP).data(spoken) == "check reach, by parts, gap 5.00 mm"
    assert model.index(0, FindingsColumn.NEEDED).data(spoken) == "check key, unknown, Not known yet: keyway width."


def test_a_check_without_sizes_tells_its_reason_in_the_row() -> None:
    model = FindingsModel()
    model.show_findings((OPEN,))
    assert model.index(0, FindingsColumn.NEEDED).data() == "Not known yet: keyway width."


def test_unknown_is_said_in_words_and_two_versions_are_both_shown() -> None:
    model = FactsModel()
    model.show_rows(FACTS)
    by_title = {row.title: model.value_text(row) for row in FACTS}
    assert by_title["Tapped depth"] == "? not known"
    assert by_title["Bolt holes"] == "≠ two versions: 4 on 92 mm (3.622 in) / 4 on 88.9 mm (3 1/2 in)"
    model.show_first(LengthFirst.INCH)
    assert model.value_text(FACTS[0]) == "3/4 in (19.05 mm)"


@pytest.mark.parametrize(
    ("low", "high", "unit", "text"),
    [
        (19.05, 19.05, "mm", "19.05 mm"),
        (61.5, 62.5, "mm", "62 ± 0.5 mm"),
        (0.0, 0.104, "mm", "0 to 0.1 mm"),
        (-1.1, -0.7, "mm", "−1.1 to −0.7 mm"),
        (-0.0001, -0.0001, "mm", "0 mm"),
        (3400, 3400, "rpm", "3,400 rpm"),
        (1.6, float("inf"), "mm", "at least 1.6 mm"),
        (float("-inf"), 8, "bar", "at most 8 bar"),
        (90, 90, "deg", "90°"),
        (3.5, 3.5, "", "3.5"),
    ],
)
def test_a_range_is_told_so_that_its_limits_can_be_seen(low: float, high: float, unit: str, text: str) -> None:
    assert quantity_text(Quantity(Range(low, high), unit)) == text


@pytest.mark.parametrize("shown", ["ccw", "4.1 kW (5.5 hp)", "5/16-24 UNF", "0, 0, -2 mm"])
def test_only_lengths_change_places(shown: str) -> None:
    assert both_units_text(shown, LengthFirst.INCH) == shown


def test_a_range_of_lengths_changes_places_as_a_whole() -> None:
    assert both_units_text("18.876 to 19.18 mm (0.7431 to 0.7551 in)", LengthFirst.INCH) == (
        "0.7431 to 0.7551 in (18.876 to 19.18 mm)"
    )


def test_changing_places_twice_gives_the_text_back() -> None:
    shown = "4 on 92 mm (3.622 in) / 4 on 88.9 mm (3 1/2 in)"
    turned = both_units_text(shown, LengthFirst.INCH)
    assert turned == "4 on 3.622 in (92 mm) / 4 on 3 1/2 in (88.9 mm)"
    assert both_units_text(turned, LengthFirst.MM) == shown


def test_a_need_says_whether_the_shelf_has_it() -> None:
    spacer = Part(PartKind.SPACER, count=4, cost=0.4, bin="C3")
    model = NeedsModel()
    model.show_needs(
        (Need(Sentence("Spacer"), 4, spacer), Need(Sentence("Spacer"), 6, spacer), Need(Sentence("Bolt"), 2))
    )
    shelf = [model.index(row, NeedsColumn.SHELF).data() for row in range(3)]
    cost = [model.index(row, NeedsColumn.COST).data() for row in range(3)]
    assert shelf == ["yes, bin C3", "4 of 6", "to order"]
    assert cost == ["1.60", "2.40", "not known"]


def test_a_need_to_order_says_what_of_it_lies_there_or_is_reserved() -> None:
    part = Part(PartKind.SPACER, count=24, part_id="S", bin="C3, D1", to_order=True, lying=3)
    held = replace(part, part_id="T", reserved=3, reserved_bin="C3")
    model = NeedsModel()
    model.show_needs((Need(Sentence("Spacer"), 4, part), Need(Sentence("Shim"), 4, held), Need(Sentence("x"), 2, part)))
    shelf = [model.index(row, NeedsColumn.SHELF).data() for row in range(3)]
    assert shelf == ["3 in bin C3, D1\n1 to order", "3 reserved, bin C3\n1 to order", "to order"]
    spoken = model.index(1, NeedsColumn.SHELF).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Shelf: 3 reserved, bin C3, 1 to order"


def test_a_hit_says_what_was_guessed() -> None:
    hit = Hit("e1", "pump", "K4872", "Lowmarsh", "", matched=(0, 1, 3), guessed=(2,), score=80, route=("K1",))
    hit = replace(hit, claim=Sentence("said to replace {old} (claimed)", {"old": "K1"}))
    assert HitsModel().words(hit) == "K4872, pump Lowmarsh, said to replace K1 (claimed), guessed: 8"
