"""case.schema.json takes the case of the design, holds exactly the fields of sizes, and refuses anything else."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator, Mapping
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.core.fields.schema_files import schema_file
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.model import words
from xref_app.core.model.known import How

# Any: JSON as the json module gives it.
CASE_SCHEMA: Mapping[str, Any] = schema_file("case")
CASE = Draft202012Validator(CASE_SCHEMA)
FINDING_SCHEMA: Mapping[str, Any] = schema_file("finding")
FINDING = Draft202012Validator(FINDING_SCHEMA)
MINIMAL: dict[str, Any] = {"machine": {"shaft": {"diameter_mm": 19.05}}, "pump": {"bore": {"diameter_mm": 19.05}}}
PLAIN: Mapping[Kind, object] = {
    Kind.NUMBER: 5,
    Kind.THREAD: "M22x1.5",
    Kind.HOLES: [[46, 0], [0, 46, 4, 90]],
    Kind.HEIGHTS: [0, -2],
    Kind.SECTORS: [[0, 360]],
    Kind.YES_NO: True,
}


def _resolved(node: Mapping[str, Any]) -> Mapping[str, Any]:
    reference = node.get("$ref", "")
    found: Mapping[str, Any] = CASE_SCHEMA["$defs"][reference.removeprefix("#/$defs/")] if reference else node
    return found


def _leaves(node: Mapping[str, Any], path: str) -> Iterator[str]:
    properties = _resolved(node).get("properties")
    if properties is None:
        yield path
    for name, child in (properties or {}).items():
        yield from _leaves(child, f"{path}.{name}")


def _case_with(path: str, value: object) -> dict[str, Any]:
    case: dict[str, Any] = {"machine": {}, "pump": {}}
    *way, last = path.split(".")
    node = case
    for name in way:
        node = node.setdefault(name, {})
    node[last] = value
    return case


def test_both_are_json_schemas() -> None:
    Draft202012Validator.check_schema(CASE_SCHEMA)
    Draft202012Validator.check_schema(FINDING_SCHEMA)


def test_a_case_holds_exactly_the_fields_of_sizes() -> None:
    sides = CASE_SCHEMA["properties"]
    held = [path for side in ("machine", "pump") for path in _leaves(sides[side], side)]
    assert sorted(held) == sorted(field.case_field for field in all_fields().values())


@pytest.mark.parametrize("field", all_fields().values(), ids=lambda field: field.field_id)
def test_every_field_takes_a_plain_value_one_with_how_versions_and_null(field: Field) -> None:
    plain = field.choices[0] if field.kind is Kind.WORD else PLAIN[field.kind]
    known = {"value": plain, "how": "claimed"}
    for value in (plain, known, {"either": [plain, known]}, None):
        assert CASE.is_valid(_case_with(field.case_field, value)), value


@pytest.mark.parametrize("field", all_fields().values(), ids=lambda field: field.field_id)
def test_no_field_takes_what_it_cannot_mean(field: Field) -> None:
    refused: tuple[object, ...] = (
        {"value": {}},
        {"values": 5},
        {"either": []},
        {"value": 5, "how": "guessed"},
        {},
        [[]],
    )
    for value in refused:
        assert not CASE.is_valid(_case_with(field.case_field, value)), value
    wrong = 5 if field.kind is not Kind.NUMBER else "5 mm"
    assert not CASE.is_valid(_case_with(field.case_field, wrong))


@pytest.mark.parametrize(
    "change",
    [
        lambda case: case.pop("machine"),
        lambda case: case.update(surprise=1),
        lambda case: case["machine"].update(colour="red"),
        lambda case: case["machine"]["shaft"].update(diameter_in=0.75),
        lambda case: case["machine"]["shaft"].update(diameter_mm={"value": 19, "doubt": -1}),
        lambda case: case.update(shelf=[{"kind": "string"}]),
        lambda case: case.update(shelf=[{"kind": "spacer", "thickness_mm": "3"}]),
        lambda case: case.update(shelf=[{"kind": "fitting", "ends": [{"thread": "G3/8"}]}]),
        lambda case: case.update(old_pump={"bore": {}}),
        lambda case: case.update(guessed_number="yes"),
    ],
)
def test_anything_else_is_refused(change: Callable[[dict[str, Any]], object]) -> None:
    case = copy.deepcopy(MINIMAL)
    assert CASE.is_valid(case)
    change(case)
    assert not CASE.is_valid(case)


def test_words_are_those_of_the_program() -> None:
    assert CASE_SCHEMA["$defs"]["how"]["enum"] == [how.word for how in How]
    assert CASE_SCHEMA["$defs"]["part"]["properties"]["kind"]["enum"] == list(words.PartKind)
    assert FINDING_SCHEMA["properties"]["verdict"]["enum"] == list(Verdict)
    check = FINDING_SCHEMA["properties"]["checks"]["items"]["properties"]
    assert check["finding"]["enum"] == [outcome.word for outcome in Outcome]


def test_an_answer_needs_its_reason() -> None:
    check = {
        "check": "bore",
        "finding": "pass",
        "needed": None,
        "offered": "x",
        "gap": None,
        "reason": "r",
        "source": "s",
    }
    answer: dict[str, Any] = {"verdict": "Fits as is", "checks": [check], "parts": [], "measure_next": []}
    answer |= {"danger": [], "cautions": []}
    assert FINDING.is_valid(answer)
    del check["reason"]
    assert not FINDING.is_valid(answer)
