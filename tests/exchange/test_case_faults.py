"""Every fault of a case file is one whole sentence: where, what stands there, what to do."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.core.fit.test_mutations import changed, example
from xref_app.core.errors import XrefError
from xref_app.core.model.known import Dimension, Fact, How, Pattern
from xref_app.core.model.shelf import PartEnd
from xref_app.core.model.words import Gender, PartKind
from xref_app.exchange.case_errors import CaseError
from xref_app.exchange.case_file import MOST_BYTES, load_case, read_case, read_case_file


def fault_of(data: dict[str, Any]) -> CaseError:
    with pytest.raises(CaseError) as caught:
        read_case(data)
    return caught.value


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        (
            {"machine.shaft.diametre_mm": 19},
            "machine.shaft: “diametre_mm” is no field there – did you mean “diameter_mm”.",
        ),
        (
            {"machine.shaft.axis": "slanted"},
            'machine.shaft.axis: "slanted" stands there – write one of: horizontal, vertical, both.',
        ),
        (
            {"machine.shaft.diameter_mm": "19"},
            (
                'machine.shaft.diameter_mm: "19" stands there – wanted: '
                "a size in the unit its name ends in, with how it is known; null is not known."
            ),
        ),
        (
            {"machine.shaft.diameter_mm": 900},
            "machine.shaft.diameter_mm: 900 mm is outside 8 to 60 mm – check the number and its unit.",
        ),
        (
            {"machine.water.nozzle_number": 0.5},
            "machine.water.nozzle_number: 0.5 is outside 1 to 40 – check the number and its unit.",
        ),
        (
            {"pump.rating.max_speed_rpm": 1750},
            "pump.rating.max_speed_rpm: 1750 rpm is below the rated 3400 rpm – read both off the plate again.",
        ),
        (
            {"pump.flange.seat_heights_mm": [0, 0, 0]},
            (
                "pump.flange.seat_heights_mm: 3 heights for 4 holes – give one height for each hole, in the order of "
                "the holes."
            ),
        ),
        (
            {"machine.face.seat_heights_mm": [0, 0, 0, 0, 0]},
            (
                "machine.face.seat_heights_mm: 5 heights for 4 holes – give one height for each hole, in the order of "
                "the holes."
            ),
        ),
        (
            {"shelf": [{"kind": "gasket"}]},
            (
                'shelf.0.kind: "gasket" stands there – write one of: spacer, shim, bolt, key, stepped key, sleeve, '
                "coupling, plate, fitting, unloader, thermal relief valve, chemical inlet, inlet screen, nozzle."
            ),
        ),
        (
            {"shelf": [{"kind": "spacer", "count": -1}]},
            "shelf.0.count: -1 stands there – the schema wants minimum 0.",
        ),
    ],
)
def test_a_fault_inside_a_case_is_one_whole_sentence(changes: dict[str, Any], message: str) -> None:
    assert str(fault_of(changed(changes))) == message


def test_a_missing_side_is_named() -> None:
    case = example()
    del case["pump"]
    error = fault_of(case)
    assert str(error) == "case: “pump” is missing – add it."
    assert (error.where, error.found, error.advice) == ("case", "“pump” is missing", "add it")
    assert isinstance(error, XrefError)


def test_a_name_like_no_other_is_answered_with_all_of_them() -> None:
    case = example()
    case["zzzzz"] = 1
    known = "machine, pump, old_pump, shelf, guessed_number"
    assert str(fault_of(case)) == f"case: “zzzzz” is no field there – take one of: {known}."


def test_more_versions_than_can_be_judged_are_refused() -> None:
    fields = ("depth_mm", "recess_mm", "keyway_from_mm", "keyway_to_mm")
    changes: dict[str, Any] = {f"pump.bore.{name}": {"either": [10, 11, 12]} for name in fields}
    named = ", ".join(f"pump.bore.{name}" for name in fields)
    assert str(fault_of(changed(changes))) == (
        f"{named}: 81 combinations of versions – settle some of them first; at most 64 are judged."
    )


def test_a_long_value_is_shown_short() -> None:
    error = fault_of(changed({"machine.shaft.axis": "x" * 300}))
    assert len(str(error)) < 200
    assert "..." in error.found


# --- files


def test_a_file_that_is_not_there_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "case.json"
    with pytest.raises(CaseError) as caught:
        load_case(path)
    assert str(caught.value) == f"{path}: cannot be read (No such file or directory) – check its name and try again."


@pytest.mark.parametrize(
    ("content", "found", "advice"),
    [
        (b" " * (MOST_BYTES + 1), f"{MOST_BYTES + 1} bytes", "that is no case; a case is a page of numbers"),
        (b"[]", "holds no case", "it must start with { and name machine and pump"),
        (b"", "is not JSON (Expecting value: line 1 column 1 (char 0))", "write it anew, in UTF-8"),
        (b"{", "is not JSON", "write it anew, in UTF-8"),
        (b"\xff\xfe{", "is not JSON", "write it anew, in UTF-8"),
        (b"[" * 100_000, "is not JSON", "write it anew, in UTF-8"),
    ],
    ids=["large", "list", "empty", "cut off", "not UTF-8", "deep"],
)
def test_a_file_that_is_no_case_is_one_sentence(tmp_path: Path, content: bytes, found: str, advice: str) -> None:
    path = tmp_path / "case.json"
    path.write_bytes(content)
    with pytest.raises(CaseError) as caught:
        load_case(path)
    assert caught.value.where == str(path)
    assert caught.value.found.startswith(found)
    assert caught.value.advice == advice
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("constant", ["NaN", "Infinity", "-Infinity"])
def test_a_number_that_is_none_is_refused(tmp_path: Path, constant: str) -> None:
    path = tmp_path / "case.json"
    path.write_text(f'{{"machine": {{"room": {{"length_mm": {constant}}}}}, "pump": {{}}}}', encoding="utf-8")
    with pytest.raises(CaseError) as caught:
        load_case(path)
    assert str(caught.value) == f"case: the number {constant} – leave out what is not known, or write null."


def test_a_file_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "case.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(example()).encode())
    assert load_case(path) == read_case_file(example())


# --- what is read


def test_values_are_read_with_their_doubt_and_how() -> None:
    (case,) = read_case(
        changed(
            {
                "pump.bore.depth_mm": {"value": 64.5, "doubt": 0.3, "how": "claimed"},
                "pump.bore.axis": {"value": "vertical", "how": "sheet"},
                "pump.flange.holes_xy_mm": {
                    "value": [[46, 0], [0, 46, 8, 90], [1, 1], [2, 2]],
                    "doubt": 0.2,
                    "how": "plate",
                },
                "old_pump.has.unloader": {"value": False, "how": "claimed"},
            }
        )
    )
    assert case.pump.bore.depth_mm == Dimension(64.5, 0.3, How.CLAIMED)
    assert case.pump.bore.axis == Fact("vertical", How.SHEET)
    assert isinstance(case.pump.flange.holes_xy_mm, Pattern)
    assert (case.pump.flange.holes_xy_mm.doubt_mm, case.pump.flange.holes_xy_mm.how) == (0.2, How.PLATE)
    assert case.pump.flange.holes_xy_mm.holes[1].slot_mm == 8
    assert case.old_has.unloader == Fact(value=False, how=How.CLAIMED)


def test_null_is_not_known_and_versions_make_cases() -> None:
    read = read_case_file(
        changed(
            {
                "pump.bore.depth_mm": {"either": [65, {"value": 66, "doubt": 0.3}, None]},
                "pump.oil": {"either": ["sealed", "vented for both"]},
                "pump.length_mm": None,
            }
        )
    )
    assert read.contradicted == ("bore_depth_mm", "oil")
    assert len(read.cases) == 4
    assert {case.pump.length_mm for case in read.cases} == {None}


def test_the_shelf_is_read_with_its_ends() -> None:
    (case,) = read_case(example())
    spacer, fitting = case.shelf
    assert (spacer.kind, spacer.thickness_mm, spacer.count, spacer.cost) == (PartKind.SPACER, 3.2, 4, 0.4)
    assert fitting.ends == (PartEnd("3/8-18 NPT", Gender.MALE), PartEnd("M22x1.5", Gender.MALE, 14.0))


def test_a_guessed_number_and_an_empty_case_are_read() -> None:
    (case,) = read_case({"machine": {}, "pump": {}, "guessed_number": True, "shelf": []})
    assert case.guessed_number
    assert case.machine.shaft.diameter_mm is None
