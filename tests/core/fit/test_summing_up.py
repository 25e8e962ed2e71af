"""What the findings add up to: shelf counted, versions, hints, alternatives, verdict."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from tests.core.fit.cases import case_with, found, said
from tests.core.fit.test_mutations import changed, judged
from xref_app.core.fit.alternatives import Alternative, settled
from xref_app.core.fit.finding import Finding, Need, Outcome, Verdict
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.question import FieldNames
from xref_app.core.fit.shortage import with_shelf_counted
from xref_app.core.fit.versions import agreed
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, Fact, How, Pattern, Seats
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.plan.judge import CHECKS, judge, judge_each, verdict_of
from xref_app.core.sentence import Sentence

LAST = Part(PartKind.SPACER, count=4, name="Spacer 3.2")


def finding(check: str, outcome: Outcome, reason: str = "so it is", **more: Any) -> Finding:  # Finding's own fields
    return Finding(check, outcome, Sentence(reason), "source", **more)


def by_parts(check: str, what: str, quantity: int, part: Part = LAST) -> Finding:
    return finding(check, Outcome.BY_PARTS, needs=(Need(Sentence(what), quantity, part),))


# --- the shelf


def test_two_findings_that_ask_for_one_piece_in_the_same_words_share_it() -> None:
    both = (by_parts("reach", "one under every bolt", 4), by_parts("pilot", "one under every bolt", 4))
    assert with_shelf_counted(both) == both


def test_the_second_of_two_findings_that_want_the_last_piece_goes_without() -> None:
    first, second = with_shelf_counted((by_parts("reach", "under every bolt", 4), by_parts("seat", "under a leg", 1)))
    assert first.outcome is Outcome.BY_PARTS
    assert said(second) == ("fail", "Spacer 3.2: 5 pieces are needed in all and 4 are there.")
    assert second.needs == ()


def test_a_piece_without_a_name_is_called_by_its_kind() -> None:
    (short,) = with_shelf_counted((by_parts("seat", "under a leg", 2, Part(PartKind.SHIM, count=1)),))
    assert said(short) == ("fail", "shim: 2 pieces are needed in all and 1 are there.")


def test_standard_pieces_to_order_are_never_short() -> None:
    bolts = finding("bolts", Outcome.BY_PARTS, needs=(Need(Sentence("a bolt"), 400),))
    assert with_shelf_counted((bolts,)) == (bolts,)


def test_a_finding_that_went_without_leaves_its_other_pieces_to_the_next() -> None:
    other = Part(PartKind.SHIM, count=1)
    greedy = finding("seat", Outcome.BY_PARTS, needs=(Need(Sentence("leg"), 9, LAST), Need(Sentence("leg"), 1, other)))
    _, after = with_shelf_counted((greedy, by_parts("bolts", "under a head", 1, other)))
    assert after.outcome is Outcome.BY_PARTS


# --- versions


def test_versions_that_say_the_same_give_that() -> None:
    one = finding("reach", Outcome.PASS)
    assert agreed((one, one)) is one


def test_versions_that_agree_in_outcome_say_that_two_were_judged() -> None:
    kept = agreed((finding("reach", Outcome.PASS, "a"), finding("reach", Outcome.PASS, "b")))
    assert said(kept) == ("pass", "a")
    assert [str(note) for note in kept.notes] == ["Two versions of a size were judged; both give this."]


def test_versions_that_ask_for_different_parts_do_not_agree() -> None:
    kept = agreed((by_parts("reach", "thick", 4), by_parts("reach", "thin", 4)), ("bore_depth_mm",))
    assert kept.outcome is Outcome.UNKNOWN
    assert kept.needs == ()


def test_versions_that_disagree_ask_for_what_they_rest_on_and_keep_the_danger() -> None:
    danger = Sentence("Danger: it breaks.")
    good = finding("seat", Outcome.PASS, "flush", used=(("face_seat_heights_mm", How.MEASURED),))
    bad = finding("seat", Outcome.FAIL, "stands off", danger=danger, measure=("oil",))
    kept = agreed((good, bad), ("face_seat_heights_mm", "oil"))
    assert said(kept) == (
        "unknown",
        "Two versions of a size disagree: pass (flush) / fail (stands off). Measure it and settle which holds.",
    )
    assert kept.measure == ("face_seat_heights_mm",)
    assert kept.danger is danger
    assert agreed((good, bad)).measure == ("oil",)


def test_judging_one_version_is_judging_it() -> None:
    case = case_with({})
    assert judge_each((case,)) == judge(case)
    assert judge_each((case, case)) == judge(case)


# --- hints


def test_nothing_typical_is_left_at_any_depth() -> None:
    case = case_with(
        {
            "machine.shaft.diameter_mm": {"value": 19.03, "how": "typical"},
            "machine.water.supply.flow_lpm": {"value": 19, "how": "typical"},
            "machine.face.holes_xy_mm": {"value": [[46, 0], [0, 46], [-46, 0], [0, -46]], "how": "typical"},
            "machine.face.seat_heights_mm": {"value": [0, 0, 0, 0], "how": "typical"},
            "pump.ports.outlet.gender": {"value": "male", "how": "typical"},
            "pump.oil": {"value": "sealed", "how": "claimed"},
            "old_pump.has.unloader": {"value": True, "how": "typical"},
        }
    )
    bare = without_hints(case)
    assert How.TYPICAL in set(hows(case))
    assert How.TYPICAL not in set(hows(bare))
    assert bare.pump.oil == case.pump.oil
    assert bare.old_has.unloader is None
    assert len(list(hows(case))) - len(list(hows(bare))) == 6


def test_a_case_without_hints_stays_the_same_object() -> None:
    case = case_with({})
    assert without_hints(case) is case
    assert without_hints(Case) is Case


def hows(value: object) -> list[How]:
    """Walk everything known by hand."""
    if isinstance(value, Dimension | Fact | Pattern | Seats):
        return [value.how]
    if is_dataclass(value):
        return [how for field in fields(value) for how in hows(getattr(value, field.name))]
    return []


# --- alternatives


def test_one_label_is_noted_and_two_are_not() -> None:
    good = finding("bore", Outcome.PASS)
    one = settled([Alternative("3/4 in", good), Alternative("3/4 in", good)], measure=())
    assert [str(note) for note in one.notes] == ["Taken as 3/4 in."]
    assert settled([Alternative("3/4 in", good), Alternative("19 mm", good)], measure=()).notes == ()
    assert settled([Alternative("", good)], measure=()) == good


def test_alternatives_that_differ_decide_nothing_and_name_what_parts_them() -> None:
    good = finding("bore", Outcome.PASS)
    bad = by_parts("bore", "sleeve", 1)
    open_ = settled([Alternative("", bad), Alternative("19 mm", good)], measure=("bore_diameter_mm",))
    assert said(open_) == ("unknown", "That depends on what the reading is: as read: by parts; 19 mm: pass.")
    assert open_.measure == ("bore_diameter_mm",)
    assert open_.needs == ()


# --- verdict


@pytest.mark.parametrize(
    ("outcomes", "verdict"),
    [
        ((Outcome.PASS, Outcome.PASS), Verdict.FITS),
        ((Outcome.PASS, Outcome.BY_PARTS), Verdict.FITS_WITH_PARTS),
        ((Outcome.BY_PARTS, Outcome.UNKNOWN), Verdict.NOT_KNOWN_YET),
        ((Outcome.UNKNOWN, Outcome.FAIL, Outcome.PASS), Verdict.DOES_NOT_FIT),
        ((), Verdict.NOT_KNOWN_YET),
    ],
)
def test_the_worst_finding_decides(outcomes: tuple[Outcome, ...], verdict: Verdict) -> None:
    assert verdict_of(finding("reach", outcome) for outcome in outcomes) is verdict


def test_an_unknown_on_arrival_blocks_nothing_and_a_failure_on_arrival_does() -> None:
    assert verdict_of([finding("room", Outcome.UNKNOWN, on_arrival=True)]) is Verdict.FITS
    assert verdict_of([finding("room", Outcome.FAIL, on_arrival=True)]) is Verdict.DOES_NOT_FIT
    blocking = [
        finding("room", outcome, on_arrival=arrival).blocks
        for outcome in (Outcome.UNKNOWN, Outcome.FAIL, Outcome.PASS)
        for arrival in (True, False)
    ]
    assert blocking == [False, True, True, True, False, False]


def test_what_is_looked_at_on_arrival_is_never_asked_for() -> None:
    judgement = judged(
        changed({"machine.room.length_mm": None, "machine.room.outlet_free_deg": None, "pump.oil": None})
    )
    assert judgement.verdict is Verdict.FITS
    assert judgement.measure_next == ()


def test_the_order_of_the_checks_does_not_matter() -> None:
    case = case_with({})
    assert judge(case, reversed(CHECKS)) == judge(case)


def test_what_most_findings_wait_for_is_asked_for_first() -> None:
    judgement = judged(changed({"pump.bore.depth_mm": None, "machine.shaft.diameter_mm": None}))
    assert judgement.measure_next[0] == "shaft_diameter_mm"
    assert set(judgement.measure_next) == {"shaft_diameter_mm", "bore_depth_mm"}


def test_claims_a_verdict_rests_on_are_named_once() -> None:
    judgement = judged(changed({"pump.bore.diameter_mm": {"value": 19.05, "how": "claimed"}}))
    assert judgement.claims == ("bore_diameter_mm",)


def test_a_guessed_character_leaves_the_identity_open() -> None:
    assert said(found("identity", {})) == ("pass", "The number was read whole.")
    guessed = judged(changed({"guessed_number": True}))
    assert guessed.verdict is Verdict.NOT_KNOWN_YET
    assert guessed.measure_next == ("bore_diameter_mm", "bore_depth_mm", "flange_holes_xy_mm")


def test_field_names_read_in_a_sentence_and_take_a_format() -> None:
    assert f"{FieldNames(('bore_diameter_mm', 'oil')):s}" == str(FieldNames(("bore_diameter_mm", "oil")))


def test_a_case_that_knows_nothing_is_not_known_yet_and_asks() -> None:
    judgement = judge(Case())
    assert judgement.verdict is Verdict.NOT_KNOWN_YET
    assert judgement.measure_next
    assert {one.outcome for one in judgement.findings} == {Outcome.PASS, Outcome.UNKNOWN}
    assert [one.check for one in judgement.findings if one.outcome is Outcome.PASS] == ["identity"]
