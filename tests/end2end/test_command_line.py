"""The command line as a shop's script would call it: exit codes, JSON by its schema, one sentence per fault."""

from __future__ import annotations

import csv
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.end2end.commands import run, run_here
from xref_app.core.resources import folder

EXAMPLE = Path(__file__).parents[1] / "core" / "fit" / "example_case.json"


def answer(*arguments: str, home: Path) -> Any:  # JSON
    done = run(*arguments, home=home)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return json.loads(done.stdout)


def test_the_example_case_fits_as_is_and_the_answer_keeps_to_its_schema(tmp_path: Path) -> None:
    found = answer("judge", str(EXAMPLE), home=tmp_path)
    schema = json.loads((folder("data_schema") / "finding.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(found)
    assert found["verdict"] == "Fits as is"


def test_what_happened_before_is_told_beside_the_verdict_on_two_named_entries(tmp_path: Path) -> None:
    found = answer("--sample", "judge", "--machine", "M-001", "--pump", "P-004", home=tmp_path)
    schema = json.loads((folder("data_schema") / "finding.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(found)
    with Path(str(folder("sample_catalog") / "outcomes.csv")).open(encoding="utf-8", newline="") as file:
        row = next(one for one in csv.DictReader(file) if (one["machine_id"], one["pump_id"]) == ("M-001", "P-004"))
    assert found["outcomes"] == [
        {
            "outcome": row["outcome_id"],
            "machine": "M-001",
            "same_machine": True,
            "result": "did not fit",
            "note": row["note"],
            "seen_by": row["seen_by"],
            "seen_on": row["seen_on"],
        }
    ]
    assert "outcomes" not in answer("judge", str(EXAMPLE), home=tmp_path)


def test_find_answers_with_matched_and_guessed_positions(tmp_path: Path) -> None:
    whole = answer("--sample", "find", "*", "--limit", "1", home=tmp_path)["hits"][0]["number"]
    worn = whole[:-1] + "?"
    hits = answer("--sample", "find", worn, home=tmp_path)["hits"]
    hit = next(one for one in hits if one["number"] == whole)
    assert hit["guessed"] == [len(whole) - 1]
    assert {"entry", "number", "matched", "guessed", "score"} <= hit.keys()


def test_the_shelf_tells_what_is_free_and_who_has_the_rest(tmp_path: Path) -> None:
    with Path(str(folder("sample_catalog") / "reservations.csv")).open(encoding="utf-8", newline="") as file:
        held = next(csv.DictReader(file))
    rows = answer("--sample", "shelf", held["job"], home=tmp_path)
    row = next(one for one in rows if one["place"] == held["shelf_id"])
    reserved = {"job": held["job"], "by": held["reserved_by"], "since": held["reserved_on"]}
    assert row["reserved"] == [reserved | {"pieces": int(held["quantity"])}]
    assert row["free"] == row["count"] - int(held["quantity"])
    everything = answer("--sample", "shelf", home=tmp_path)
    low = answer("--sample", "shelf", "--low", home=tmp_path)
    assert low == [one for one in everything if one["low_at"] is not None and one["count"] <= one["low_at"]]
    assert 0 < len(low) < len(everything)


def test_health_tells_contradictions_and_that_every_row_is_what_was_written(tmp_path: Path) -> None:
    found = answer("--sample", "health", home=tmp_path)
    assert found["lines"][0] == {
        "kind": "contradiction",
        "told": "Readings of VW-473-87R (P-058) contradict each other.",
        "sizes": ["Bore depth: 84 mm (3.3071 in) / 92 mm (3.622 in)"],
        "machine": None,
        "pump": "P-058",
        "blamed": [],
    }
    rows = 0
    for table in Path(str(folder("sample_catalog"))).glob("*.csv"):
        with table.open(encoding="utf-8", newline="") as file:
            rows += sum(1 for _ in csv.DictReader(file))
    assert found["check"] == {
        "whole": True,
        "rows": rows,
        "damaged_rows": 0,
        "lost_tables": [],
        "history_whole": True,
        "complaints": [],
    }


BAD_CASES = {
    "missing file": (None, "missing.json: cannot be read (No such file or directory) – check its name and try again."),
    "no JSON": ("{not json", "case.json: is not JSON"),
    "a list": ("[]", "case.json: holds no case – it must start with { and name machine and pump."),
    "unknown field": (
        '{"machine": {"shaft": {"diametre_mm": 19}}, "pump": {}}',
        "machine.shaft: “diametre_mm” is no field there – did you mean “diameter_mm”.",
    ),
    "inches by name": (
        '{"machine": {"shaft": {"diameter_in": 0.75}}, "pump": {}}',
        "machine.shaft: “diameter_in” is no field there – did you mean “diameter_mm”.",
    ),
    "unit in the value": (
        '{"machine": {"shaft": {"diameter_mm": "3/4 in"}}, "pump": {}}',
        'machine.shaft.diameter_mm: "3/4 in" stands there – wanted: a size in the unit its name ends in',
    ),
    "off by 25.4": (
        '{"machine": {"shaft": {"diameter_mm": 0.75}}, "pump": {}}',
        "machine.shaft.diameter_mm: 0.75 mm is outside",
    ),
    "no pump": ('{"machine": {}}', "case: “pump” is missing – add it."),
    "a wrong word": (
        '{"machine": {"shaft": {"axis": "upright"}}, "pump": {}}',
        'machine.shaft.axis: "upright" stands there – write one of: horizontal, vertical',
    ),
    "not a number": ('{"machine": {"shaft": {"diameter_mm": NaN}}, "pump": {}}', "case: the number NaN"),
    "speeds that contradict": (
        '{"machine": {}, "pump": {"rating": {"speed_rpm": 3400, "max_speed_rpm": 1750}}}',
        "pump.rating.max_speed_rpm: 1750 rpm is below the rated 3400 rpm – read both off the plate again.",
    ),
    "heights without holes": (
        '{"machine": {"face": {"holes_xy_mm": [[1, 2], [3, 4]], "seat_heights_mm": [0]}}, "pump": {}}',
        "machine.face.seat_heights_mm: 1 heights for 2 holes – give one height for each hole, in the order of the",
    ),
}


@pytest.mark.parametrize("name", BAD_CASES)
def test_a_bad_case_gives_one_sentence_and_exit_2(name: str, tmp_path: Path) -> None:
    text, sentence = BAD_CASES[name]
    case = tmp_path / "case.json"
    if text is not None:
        case.write_text(text, encoding="utf-8")
    done = run("judge", str(case if text is not None else tmp_path / "missing.json"), home=tmp_path)
    assert done.returncode == 2
    assert done.stdout == ""
    assert sentence in done.stderr
    assert done.stderr.count("\n") == 1


def test_a_damaged_catalog_folder_changes_nothing_in_the_store(tmp_path: Path) -> None:
    sample = tmp_path / "package"
    shutil.copytree(str(folder("sample_catalog")), sample)
    answer("import", str(sample), home=tmp_path)
    stores = [path for path in (tmp_path / "data").rglob("*") if path.is_file()]
    before = {path: path.read_bytes() for path in stores}
    table = sample / "entries.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("pump", "pmup", 1), encoding="utf-8")
    done = run("import", str(sample), home=tmp_path)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "entries" in done.stderr
    assert {path: path.read_bytes() for path in stores} == before


def test_a_missing_catalog_folder_gives_one_sentence(tmp_path: Path) -> None:
    done = run("import", str(tmp_path / "nowhere"), home=tmp_path)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1


def test_the_sample_never_touches_the_shops_own_store(tmp_path: Path) -> None:
    answer("import", str(folder("sample_catalog")), home=tmp_path)
    own = [path for path in (tmp_path / "data").rglob("*") if path.is_file()]
    before = {path: path.read_bytes() for path in own}
    answer("--sample", "find", "*", "--limit", "1", home=tmp_path)
    assert {path: path.read_bytes() for path in own} == before


def test_names_that_are_in_no_entry_give_one_sentence(tmp_path: Path) -> None:
    done = run("--sample", "judge", "--machine", "nobody's", "--pump", "none", home=tmp_path)
    assert (done.returncode, done.stderr) == (
        2,
        "machine “nobody's” is in no entry of the catalog – look it up with find.\n",
    )


@pytest.mark.parametrize("view", ["face", "side"])
@pytest.mark.parametrize("ending", ["svg", "dxf"])
def test_a_case_is_drawn_into_a_file(tmp_path: Path, view: str, ending: str) -> None:
    out = tmp_path / f"drawing.{ending}"
    told = answer("draw", str(EXAMPLE), "--view", view, "--out", str(out), home=tmp_path)
    assert told["saved"] == str(out)
    assert told["not_known"] == []
    assert ("bottom clearance 2.8 to 3.3 mm" in out.read_text(encoding="utf-8")) == (view == "side")


def test_spacers_to_make_are_drawn_and_where_none_are_one_sentence_says_so(tmp_path: Path) -> None:
    out = tmp_path / "spacers.svg"
    arguments = ("--view", "spacer", "--out", str(out))
    done = run("draw", str(EXAMPLE), *arguments, home=tmp_path)
    assert (done.returncode, done.stderr) == (
        2,
        "No spacer has to be made for this pump on this machine – judge it to see what is planned.\n",
    )
    case = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    case["machine"]["face"].update(seat_heights_mm=None, seat_kind="flat face")
    case["pump"]["flange"]["seat_heights_mm"] = [0, 0, -1, -2]
    case["shelf"] = []
    uneven = tmp_path / "uneven.json"
    uneven.write_text(json.dumps(case), encoding="utf-8")
    answer("draw", str(uneven), *arguments, home=tmp_path)
    assert "2.00 ± 0.02" in out.read_text(encoding="utf-8")


def test_a_pump_of_the_catalog_is_drawn_on_a_machine_of_it(tmp_path: Path) -> None:
    with (folder("sample_catalog") / "machines.csv").open(encoding="utf-8") as file:
        first = next(csv.DictReader(file))
    out = tmp_path / "faces.svg"
    arguments = ("draw", "--machine", first["entry_id"], "--pump", first["pump_id"], "--out", str(out))
    answer("--sample", *arguments, home=tmp_path)
    assert out.read_text(encoding="utf-8").startswith("<?xml")


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("faces.pdf", "“faces.pdf” names no kind of drawing – let its name end in .svg or .dxf.\n"),
        ("nowhere/faces.svg", "“faces.svg” is not saved: there is no such folder – choose another folder.\n"),
    ],
)
def test_a_drawing_that_cannot_be_saved_gives_one_sentence(tmp_path: Path, name: str, sentence: str) -> None:
    done = run("draw", str(EXAMPLE), "--out", str(tmp_path / name), home=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (2, "", sentence)
    assert not list(tmp_path.rglob("faces*"))


WRONG_LINES: dict[str, tuple[list[str], str]] = {
    "no such command": (
        ["fnd", "x"],
        (
            "xref-app: argument {find,judge,draw,identify,shelf,health,import,export,catalog-file,supplier-file,copy,"
            "copies,restore,"
            "mend,help-bundle}: invalid choice: 'fnd' (choose from 'find', 'judge', 'draw', 'identify', 'shelf', "
            "'health', 'import', 'export', 'catalog-file', 'supplier-file', 'copy', 'copies', 'restore', 'mend', "
            "'help-bundle') – see "
            "xref-app --help."
        ),
    ),
    "nothing to find": (
        ["find"],
        "xref-app find: the following arguments are required: text – see xref-app find --help.",
    ),
    "a word too many": (
        ["find", "x", "y\nz"],
        "xref-app: unrecognized arguments: y z – see xref-app --help.",
    ),
    "no number": (
        ["find", "x", "--limit", "many"],
        "xref-app find: argument --limit: invalid int value: 'many' – see xref-app find --help.",
    ),
    "no hits wanted": (["find", "x", "--limit", "0"], "--limit 0: no hits would be shown – give 1 or more."),
    "nothing to judge": (["judge"], "judge: no case and no names – give CASE.json, or --machine and --pump."),
    "no pump": (
        ["judge", "--machine", "M-1"],
        "judge: machine “M-1” and no pump – name the pump with --pump as well.",
    ),
    "no machine": (
        ["judge", "--pump", "P-1"],
        "judge: pump “P-1” and no machine – name the machine with --machine as well.",
    ),
    "a case and a name": (
        ["judge", "case.json", "--pump", "P-1"],
        "judge: a case and names from the catalog – give one or the other.",
    ),
    "an empty catalog to judge from": (
        ["judge", "--machine", "M-1", "--pump", "P-1"],
        "The shop's own catalog is empty – read one in with import FOLDER, or take the made-up one with --sample.",
    ),
    "an empty catalog with no shelf": (
        ["shelf"],
        "The shop's own catalog is empty – read one in with import FOLDER, or take the made-up one with --sample.",
    ),
    "an empty catalog with no health": (
        ["health"],
        "The shop's own catalog is empty – read one in with import FOLDER, or take the made-up one with --sample.",
    ),
    "an empty catalog to find in": (
        ["find", "x"],
        "The shop's own catalog is empty – read one in with import FOLDER, or take the made-up one with --sample.",
    ),
}


@pytest.mark.parametrize("name", WRONG_LINES)
def test_a_command_line_that_is_none_gives_one_sentence_and_exit_2(name: str, tmp_path: Path) -> None:
    arguments, sentence = WRONG_LINES[name]
    opens_a_catalog = name.startswith("an empty catalog")
    done = run(*arguments, home=tmp_path) if opens_a_catalog else run_here(*arguments)
    assert (done.returncode, done.stdout, done.stderr) == (2, "", f"{sentence}\n")


def test_help_is_still_shown(tmp_path: Path) -> None:
    done = run("identify", "--help", home=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("usage: xref-app identify")


def test_a_name_given_with_the_wrong_option_is_said_to_be_so(tmp_path: Path) -> None:
    entries = _sample_entries()
    pump, machine, engine = (entries[kind] for kind in ("pump", "machine", "driver"))
    for machine_given, pump_given, sentence in (
        (pump, pump, f"--machine “{pump}” is a pump – give it with --pump, and the machine with --machine."),
        (machine, machine, f"--pump “{machine}” is a machine – give it with --machine, and the pump with --pump."),
        (engine, pump, f"--machine “{engine}” is an engine or motor – give the machine there; look it up with find."),
    ):
        done = run("--sample", "judge", "--machine", machine_given, "--pump", pump_given, home=tmp_path)
        assert (done.returncode, done.stdout, done.stderr) == (2, "", f"{sentence}\n")


def _sample_entries() -> dict[str, str]:
    """Return one entry of each kind of the sample catalog."""
    with Path(str(folder("sample_catalog") / "entries.csv")).open(encoding="utf-8", newline="") as file:
        return {row["kind"]: row["entry_id"] for row in csv.DictReader(file)}


def test_no_path_opens_a_socket(tmp_path: Path) -> None:
    watch = tmp_path / "watch"
    watch.mkdir()
    (watch / "sitecustomize.py").write_text(
        "import sys\n"
        "def hook(event, args):\n"
        "    if event.startswith('socket.') and event not in {'socket.gethostname'}:\n"
        "        raise RuntimeError(f'socket opened: {event} {args}')\n"
        "sys.addaudithook(hook)\n",
        encoding="utf-8",
    )
    key = tmp_path / "key.json"
    key.write_text('{"width_mm": 4.75}', encoding="utf-8")
    places = {"HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path / "data"), "PYTHONPATH": str(watch)}
    for arguments in (
        ["judge", str(EXAMPLE)],
        ["identify", "key", str(key)],
        ["--sample", "find", "*"],
        ["import", str(folder("sample_catalog"))],
        ["find", "*"],
    ):
        done = subprocess.run(
            [sys.executable, "-m", "xref_app", *arguments],
            capture_output=True,
            text=True,
            check=False,
            env={**os.environ, **places},
        )
        assert done.returncode == 0, done.stderr
