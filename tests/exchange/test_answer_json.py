"""The judge's answer as JSON is what finding.schema.json describes, for many seeded cases."""

from __future__ import annotations

import json

import pytest
from jsonschema import Draft202012Validator

from tests.core.fit.test_mutations import changed, judged
from tests.soundness.cases import seeded_case
from xref_app.core.fit.checks import CHECKS
from xref_app.core.resources import folder
from xref_app.exchange.answer_json import answer_json
from xref_app.exchange.case_errors import CaseError

SCHEMA = Draft202012Validator(json.loads((folder("data_schema") / "finding.schema.json").read_text(encoding="utf-8")))


def test_answers_to_seeded_cases_are_what_the_schema_describes() -> None:
    verdicts: list[str] = []
    for seed in range(120):
        try:
            answer = answer_json(judged(seeded_case(seed).shown))
        except CaseError:  # the reader refuses what no machine can have; a few of the random cases are like that
            continue
        sent = json.loads(json.dumps(answer, allow_nan=False))
        faults = [fault.message for fault in SCHEMA.iter_errors(sent)]
        assert faults == [], seed
        verdicts.append(sent["verdict"])
    assert len(verdicts) >= 100
    assert set(verdicts) == {"Fits as is", "Fits with parts", "Not known yet", "Does not fit"}


def test_the_schema_refuses_an_answer_that_is_none() -> None:
    answer = answer_json(judged(changed({})))
    assert list(SCHEMA.iter_errors(json.loads(json.dumps(answer)))) == []
    for wrong in ({**answer, "verdict": "Maybe"}, {**answer, "checks": []}, {**answer, "more": 1}):
        assert list(SCHEMA.iter_errors(json.loads(json.dumps(wrong)))) != []


def test_every_check_is_answered_in_order_with_its_source() -> None:
    answer = json.loads(json.dumps(answer_json(judged(changed({})))))
    assert [one["check"] for one in answer["checks"]] == [check.question.check for check in CHECKS]
    assert all(one["source"] and one["reason"] for one in answer["checks"])
    assert answer["clocking_deg"] == pytest.approx(0, abs=1e-6) or answer["clocking_deg"] == pytest.approx(360)


def test_quantities_words_parts_and_claims_are_written_out() -> None:
    changes = {
        "pump.bore.depth_mm": {"value": 59.0, "how": "claimed"},
        "shelf": [
            {
                "kind": "spacer",
                "part_id": "T-6",
                "name": "Six",
                "bin": "A1",
                "thickness_mm": 6.0,
                "count": 4,
                "cost": 0.4,
            }
        ],
    }
    answer = json.loads(json.dumps(answer_json(judged(changed(changes)))))
    reach = next(one for one in answer["checks"] if one["check"] == "reach")
    assert reach["needed"] == {"low": 1.6, "high": 1.6, "unit": "mm"}
    assert reach["offered"] == {"low": -3.2, "high": -2.7, "unit": "mm"}
    assert reach["known_by"]["bore_depth_mm"] == "claimed"
    assert answer["claims"] == ["bore_depth_mm"]
    assert answer["parts"][0] == {
        "what": "Spacer 6.00 mm, one under every bolt",
        "quantity": 4,
        "listed": True,
        "to_make": False,
        "part_id": "T-6",
        "name": "Six",
        "bin": "A1",
        "cost": 0.4,
    }
    assert answer["parts"][1]["listed"] is False
    axis = next(one for one in answer["checks"] if one["check"] == "axis")
    assert (axis["needed"], axis["gap"]) == ("horizontal", None)


def test_danger_and_what_would_change_it_are_written_out() -> None:
    answer = json.loads(
        json.dumps(answer_json(judged(changed({"pump.bore.turn": "cw", "pump.bore.axis": "vertical"}))))
    )
    turn = next(one for one in answer["checks"] if one["check"] == "turn")
    assert turn["danger"] == "Danger: wrong turning direction for this pump."
    assert answer["danger"] == [turn["danger"]]
    axis = next(one for one in answer["checks"] if one["check"] == "axis")
    assert axis["change"] == "A pump made for a horizontal shaft is needed."


def test_a_seeded_case_that_is_damaged_is_refused_not_judged() -> None:
    case = seeded_case(0).shown
    case["machine"]["shaft"]["form"] = "bent"
    with pytest.raises(CaseError):
        judged(case)
