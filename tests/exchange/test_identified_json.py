"""The schema of what readings can be takes an answer, and no answer that would mislead a script."""

from __future__ import annotations

import json
from typing import Any

from jsonschema import Draft202012Validator

from xref_app.core.identify.shaft import identify_shaft
from xref_app.core.quantity.range import Range
from xref_app.core.resources import folder
from xref_app.exchange.identified_json import holes_json, identified_json

SCHEMA = Draft202012Validator(
    json.loads((folder("data_schema") / "identified.schema.json").read_text(encoding="utf-8"))
)


def sent(diameter_mm: float, doubt: float) -> Any:  # JSON
    answer = identified_json(identify_shaft(Range.around(diameter_mm, doubt)), notes=("One note.",))
    return json.loads(json.dumps(answer, allow_nan=False))


def test_answers_of_every_sort_keep_to_the_schema() -> None:
    for diameter_mm in (18.5, 18.96, 19.01, 19.05, 25.4, 300.0):
        for doubt in (0.0, 0.02, 0.1):
            SCHEMA.validate(sent(diameter_mm, doubt))


def test_the_evidence_says_what_was_read_and_what_is_allowed_without_the_noise_of_sums() -> None:
    answer = sent(19.01, 0.02)
    inch = next(one for one in answer["candidates"] if one["label"] == "3/4 in")
    (evidence,) = inch["evidence"]
    assert (evidence["reading"], evidence["read"]) == ("diameter_mm", [18.99, 19.03])
    low, high = evidence["limits"]
    assert 18.95 < low < high == 19.05
    assert low == round(low, 6)
    assert answer["notes"][0] == "One note."
    assert answer["ambiguous"] is True


def test_holes_stand_beside_the_answer() -> None:
    answer = sent(19.05, 0.02) | holes_json(Range(91.8, 92.2), [(46.0, -0.0000001), (-46.0, 0.0)])
    SCHEMA.validate(answer)
    assert answer["diameter_mm"] == [91.8, 92.2]
    assert str(answer["holes_xy_mm"]) == "[[46.0, 0.0], [-46.0, 0.0]]"
    SCHEMA.validate(sent(19.05, 0.02) | holes_json(None, [(46.0, 0.0), (-46.0, 0.0)]))


def test_the_schema_refuses_what_would_mislead() -> None:
    good = sent(19.01, 0.02)
    asked = good["next_measurement"]
    assert asked is not None
    first = good["candidates"][0]
    for wrong in (
        {**good, "more": 1},
        {name: value for name, value in good.items() if name != "ambiguous"},
        {**good, "ambiguous": False},
        {**good, "next_measurement": {**asked, "between": []}},
        {**good, "candidates": [{**first, "decides": "yes"}]},
        {**good, "candidates": [{name: value for name, value in first.items() if name != "source"}]},
        {**good, "diameter_mm": [91.8, 92.2]},
        {**good, **holes_json(Range(91.8, 92.2), [(46.0, 0.0)])},
    ):
        assert list(SCHEMA.iter_errors(wrong)) != []
