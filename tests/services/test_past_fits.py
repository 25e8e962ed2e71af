"""What happened before: told beside every verdict, weighed within it, and never a verdict itself."""

from __future__ import annotations

from itertools import permutations

import pytest

from tests.services.tiny import Quiet, entry, reading, tiny, tiny_rows, without
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import MachineRow, Number, OutcomeRow
from xref_app.services import judge_all as judging
from xref_app.services.answers import Candidate, RemarkKind, Standing
from xref_app.services.catalog import Catalog
from xref_app.services.desk import CatalogDesk
from xref_app.services.judge_all import judge_all
from xref_app.services.judge_candidates import judge_one
from xref_app.services.machine_side import job_values
from xref_app.services.past_fits import PastFit, past_fits, standing

ROWS = tiny_rows()
FINE, WITH_PARTS, DID_NOT_FIT, FAILED = (
    "installed and fine",
    "installed with parts",
    "did not fit",
    "failed in use",
)
# M2 has the engine of M1, M3 another.
MACHINES = (*ROWS.machines, MachineRow("M2", "Tern 40", "D1"), MachineRow("M3", "Tern 50", "D3"))
PUMPS = ("P1", "P2", "P3")


def happened(place: int, pump: str, result: str, machine: str = "M1", note: str = "", day: str = "") -> OutcomeRow:
    return OutcomeRow(f"O{place}", machine, pump, result, note, "Odrin" if day else "", day)


def catalog(*outcomes: OutcomeRow, loose: tuple[str, ...] = ()) -> Catalog:
    """Return machines and three pumps that fit M1 alike; of those ``loose`` nobody knows the bore."""
    third = tuple(
        reading("P3", row.field, row.value if row.value is not None else row.text, doubt=row.doubt)
        for row in ROWS.observations
        if row.entry_id == "P2"
    )
    observations = (*ROWS.observations, *third)
    for pump in loose:
        observations = without(observations, pump, "bore_diameter_mm")
    entries = (*ROWS.entries, entry("M2", "machine"), entry("M3", "machine"), entry("P3", "pump"))
    return tiny(
        entries=entries,
        machines=MACHINES,
        observations=observations,
        outcomes=outcomes,
        numbers=tuple(Number(pump, pump, "maker", "sheet") for pump in PUMPS),
        replaced_by=(),
    )


def rows(held: Catalog, machine: str = "M1") -> tuple[Candidate, ...]:
    return judge_all(held, job_values(held, None, machine), guessed_number=False, progress=Quiet()).rows


def order(*outcomes: OutcomeRow, loose: tuple[str, ...] = ()) -> list[str]:
    return [row.entry_id for row in rows(catalog(*outcomes, loose=loose))]


def told(pump: str, *outcomes: OutcomeRow, loose: tuple[str, ...] = ()) -> list[tuple[RemarkKind, str]]:
    (row,) = [one for one in rows(catalog(*outcomes, loose=loose)) if one.entry_id == pump]
    return [(remark.kind, str(remark.line)) for remark in row.remarks]


def test_without_a_past_the_number_decides_among_equals() -> None:
    assert order() == ["P1", "P2", "P3"]
    assert {row.judgement.verdict for row in rows(catalog())} == {Verdict.FITS}


def test_a_confirmed_fit_comes_first_and_a_failed_one_last() -> None:
    assert order(happened(1, "P2", FINE)) == ["P2", "P1", "P3"]
    assert order(happened(1, "P3", WITH_PARTS)) == ["P3", "P1", "P2"]
    assert order(happened(1, "P1", DID_NOT_FIT)) == ["P2", "P3", "P1"]
    assert order(happened(1, "P1", FAILED), happened(2, "P3", FINE)) == ["P3", "P2", "P1"]


def test_this_machine_outweighs_the_same_engine_in_another() -> None:
    assert order(happened(1, "P2", FINE, "M2"), happened(2, "P3", FINE)) == ["P3", "P2", "P1"]
    assert order(happened(1, "P1", DID_NOT_FIT), happened(2, "P2", DID_NOT_FIT, "M2")) == ["P3", "P2", "P1"]


def test_what_happened_on_another_engine_says_nothing() -> None:
    assert order(happened(1, "P1", DID_NOT_FIT, "M3"), happened(2, "P3", FINE, "M3")) == ["P1", "P2", "P3"]
    assert told("P1", happened(1, "P1", DID_NOT_FIT, "M3")) == []


@pytest.mark.parametrize("results", list(permutations((FINE, DID_NOT_FIT, WITH_PARTS))))
def test_one_failure_outweighs_good_ends_in_whatever_order_they_came(results: tuple[str, ...]) -> None:
    outcomes = [happened(place, "P1", result, day=f"2025-01-0{place}") for place, result in enumerate(results, start=1)]
    assert order(*outcomes) == ["P2", "P3", "P1"]


def test_a_failed_fit_stands_below_the_cut_of_the_list(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judging, "MOST_SHOWN", 2)
    assert order(happened(1, "P1", DID_NOT_FIT)) == ["P2", "P3"]
    assert order(happened(1, "P3", FINE)) == ["P3", "P1"]


def test_a_failed_fit_is_never_shown_as_a_plain_one() -> None:
    held = catalog(happened(1, "P2", DID_NOT_FIT, note="shaft too long", day="2025-04-16"))
    row = next(one for one in rows(held) if one.entry_id == "P2")
    alone = judge_one(held, job_values(held, None, "M1"), "P2")
    for candidate in (row, alone):
        assert candidate.judgement.verdict is Verdict.FITS
        (remark,) = candidate.remarks
        assert remark.kind is RemarkKind.WENT_WRONG
        assert str(remark.line) == "Did not fit on this machine before: shaft too long, Odrin, 2025-04-16."
        assert str(remark.further) == ("By the sizes on file it fits: measure again before you order.")


def test_a_confirmed_fit_turns_no_other_verdict_into_a_fit() -> None:
    outcomes = (happened(1, "P2", FINE),)
    held = catalog(*outcomes, loose=("P2",))
    (row,) = [one for one in rows(held) if one.entry_id == "P2"]
    assert row.judgement.verdict is Verdict.NOT_KNOWN_YET
    assert order(*outcomes, loose=("P2",)) == ["P1", "P3", "P2"]
    assert order(*outcomes, loose=("P1", "P2")) == ["P3", "P2", "P1"]
    assert [str(one.further) for one in row.remarks] == [
        "That settles nothing: the verdict rests on what is known of the sizes."
    ]


def test_the_past_changes_no_judgement() -> None:
    outcomes = [
        happened(place, pump, result)
        for place, (pump, result) in enumerate(zip(PUMPS, (FINE, DID_NOT_FIT, FAILED), strict=True))
    ]
    before = {row.entry_id: row.judgement for row in rows(catalog())}
    assert {row.entry_id: row.judgement for row in rows(catalog(*outcomes))} == before


def test_every_end_is_told_in_its_own_words() -> None:
    seen = ("short note", "2025-02-03")
    said = "short note, Odrin, 2025-02-03."
    for result, here, engine in (
        (FINE, "Put on this machine before, and fine", "Put on the same engine in Tern 40, and fine"),
        (WITH_PARTS, "Put on this machine before, with parts", "Put on the same engine in Tern 40, with parts"),
        (DID_NOT_FIT, "Did not fit on this machine before", "Did not fit on the same engine in Tern 40"),
        (FAILED, "Failed in use on this machine before", "Failed in use on the same engine in Tern 40"),
    ):
        kind = RemarkKind.WENT_WRONG if result in (DID_NOT_FIT, FAILED) else RemarkKind.CONFIRMED
        assert told("P1", happened(1, "P1", result, "M1", *seen)) == [(kind, f"{here}: {said}")]
        assert told("P1", happened(1, "P1", result, "M2", *seen)) == [(kind, f"{engine}: {said}")]


def test_an_outcome_without_note_and_day_says_that_no_more_is_known() -> None:
    assert told("P1", happened(1, "P1", FINE))[0][1] == "Put on this machine before, and fine: no more is written down."


def test_each_failure_has_its_line_and_good_ends_are_counted() -> None:
    outcomes = (
        happened(1, "P1", FINE, day="2024-01-01"),
        happened(2, "P1", FINE, day="2025-01-01"),
        happened(3, "P1", FAILED, note="seized", day="2023-01-01"),
        happened(4, "P1", DID_NOT_FIT, note="ear broke", day="2024-06-01"),
        happened(5, "P1", DID_NOT_FIT, "M2", note="hose in the way", day="2025-06-01"),
    )
    assert [line for _, line in told("P1", *outcomes)] == [
        "Did not fit on this machine before: ear broke, Odrin, 2024-06-01.",
        "Failed in use on this machine before: seized, Odrin, 2023-01-01.",
        "Did not fit on the same engine in Tern 40: hose in the way, Odrin, 2025-06-01.",
        "Put on this machine before, and fine: Odrin, 2025-01-01. In all 2 times.",
    ]


def test_builds_that_are_alike_share_their_past() -> None:
    held = catalog(happened(1, "P1", DID_NOT_FIT, "M2"))
    assert [one.machine for one in past_fits(held, ["M1"])["P1"]] == ["Tern 40"]
    assert [one.machine for one in past_fits(held, ["M1", "M2"])["P1"]] == [""]


def test_a_pump_nobody_tried_stands_between() -> None:
    assert standing(()) is Standing.UNTRIED
    ends = [PastFit(happened(1, "P1", FINE)), PastFit(happened(2, "P1", DID_NOT_FIT), "Tern 40")]
    assert standing(ends) is Standing.WRONG_ON_ENGINE
    assert sorted(Standing) == [
        Standing.FINE_HERE,
        Standing.FINE_ON_ENGINE,
        Standing.UNTRIED,
        Standing.WRONG_ON_ENGINE,
        Standing.WRONG_HERE,
    ]


def test_the_desk_tells_what_happened_on_the_machine_that_was_picked() -> None:
    desk = CatalogDesk(catalog(happened(1, "P2", DID_NOT_FIT)), "Tiny")
    job = desk.open_job(None, "M1", Quiet())
    row = next(one for one in desk.judge_all(job, Quiet()).rows if one.entry_id == "P2")
    assert [remark.kind for remark in row.remarks] == [RemarkKind.WENT_WRONG]
