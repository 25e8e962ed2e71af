"""identify as a shop's script calls it: readings in, candidates by the schema out, a fault in one sentence."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.end2end.commands import Done, run, run_here
from xref_app.core.resources import folder

READINGS = json.loads((folder("data_schema") / "readings.schema.json").read_text(encoding="utf-8"))
ANSWER = Draft202012Validator(
    json.loads((folder("data_schema") / "identified.schema.json").read_text(encoding="utf-8"))
)


def call(kind: str, readings: object, home: Path) -> Done:
    """Carry out the command in this process; that a child process says the same is tested below."""
    return run_here("identify", kind, str(written(readings, home)))


def written(readings: object, home: Path) -> Path:
    path = home / "readings.json"
    path.write_text(json.dumps(readings, ensure_ascii=False), encoding="utf-8")
    return path


def identified(kind: str, readings: dict[str, Any], home: Path) -> Any:  # JSON
    """Return the answer, which keeps to its schema and asks only for readings that can be given."""
    done = call(kind, readings, home)
    assert (done.returncode, done.stderr) == (0, "")
    answer = json.loads(done.stdout)
    ANSWER.validate(answer)
    Draft202012Validator({**READINGS, "$ref": f"#/$defs/{kind}"}).validate(readings)
    asked = answer["next_measurement"]
    if asked is not None:
        # A circle is told apart by what goes with the face.
        assert asked["reading"] in READINGS["$defs"]["face" if kind == "circle" else kind]["properties"]
    return answer


def labels(answer: Any) -> set[str]:
    return {one["label"] for one in answer["candidates"]}


def fault(kind: str, readings: object, home: Path) -> str:
    done = call(kind, readings, home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    return done.stderr.strip()


# --- threads: sizes from ASME B1.20.1, ISO 228-1, ISO 7-1 (major diameters 21.22, 20.955, 20.955 mm; all 14 per inch)


def test_half_inch_pipe_threads_stay_open_until_taper_and_angle_are_read(tmp_path: Path) -> None:
    read: dict[str, Any] = {"gender": "male", "outside_mm": "20.93 mm", "tpi": 14}
    open_answer = identified("thread", read, tmp_path)
    assert {"G1/2", "R1/2", "1/2-14 NPT"} <= labels(open_answer)
    assert open_answer["ambiguous"] is True
    assert open_answer["next_measurement"]["reading"] in {"taper", "flank_angle_deg"}
    for taper, angle, label in ((True, 60, "1/2-14 NPT"), (True, 55, "R1/2"), (False, 55, "G1/2")):
        answer = identified("thread", {**read, "taper": taper, "flank_angle_deg": angle}, tmp_path)
        assert {one.split(" O-ring")[0] for one in labels(answer)} == {label}


def test_crests_counted_say_the_pitch(tmp_path: Path) -> None:
    # ASTM and ISO 261: M8 coarse 1.25 mm; ASME B1.1: 5/16-18 (1.411 mm) and 5/16-24 (1.058 mm).
    read: dict[str, Any] = {"gender": "male", "outside_mm": 7.88}
    assert {"M8x1.25", "5/16-18 UNC", "5/16-24 UNF"} <= labels(identified("thread", read, tmp_path))
    counted = {**read, "pitch_mm": {"crests": 11, "over_mm": "10,58 mm"}}
    assert labels(identified("thread", counted, tmp_path)) == {"5/16-24 UNF"}


def test_m22_asks_for_the_seal(tmp_path: Path) -> None:
    # Common practice, no published source: the same M22x1.5 comes with a 14 and with a 15 mm plug.
    read: dict[str, Any] = {
        "gender": "male",
        "outside_mm": 21.9,
        "pitch_mm": 1.5,
        "taper": False,
        "flank_angle_deg": 60,
    }
    answer = identified("thread", read, tmp_path)
    assert (answer["ambiguous"], answer["next_measurement"]["reading"]) == (True, "seal_mm")
    assert labels(identified("thread", {**read, "seal_mm": 15.0}, tmp_path)) == {"M22x1.5, 15 mm seal"}


# --- shafts, bores, keys: ASME B17.1 (3/4 in takes 3/16 in), ISO 773 (19 mm takes 6 mm)


def test_three_quarters_and_nineteen_are_told_apart_by_the_key_only(tmp_path: Path) -> None:
    read: dict[str, Any] = {"diameter_mm": {"value": 19.01, "doubt": 0.02}}
    both = identified("shaft", read, tmp_path)
    assert labels(both) == {"3/4 in", "19 mm"}
    assert both["next_measurement"]["reading"] == "key_width_mm"
    assert set(both["next_measurement"]["between"]) == {"3/4 in", "19 mm"}
    assert labels(identified("shaft", {**read, "key_width_mm": "3/16"}, tmp_path)) == {"3/4 in"}
    assert labels(identified("shaft", {**read, "key_width_mm": [5.98, 6.0]}, tmp_path)) == {"19 mm"}


def test_a_worn_shaft_is_said_to_be_worn_and_never_rounded(tmp_path: Path) -> None:
    answer = identified("shaft", {"diameter_mm": {"value": 18.96, "doubt": 0.02}}, tmp_path)
    assert answer["candidates"] == []
    assert any("19 mm: worn" in note for note in answer["notes"])


def test_the_keyway_settles_the_bore(tmp_path: Path) -> None:
    # design.md, section 3: a bore read as 19.05 ± 0.10 could be 19 mm or 3/4 in, but a 4.8 mm keyway settles it.
    assert labels(identified("bore", {"diameter_mm": 19.05}, tmp_path)) == {"3/4 in", "19 mm"}
    answer = identified("bore", {"diameter_mm": 19.05, "keyway_width_mm": 4.8}, tmp_path)
    assert (labels(answer), answer["ambiguous"]) == ({"3/4 in"}, False)
    assert [one["reading"] for one in answer["candidates"][0]["evidence"]] == ["diameter_mm", "keyway_width_mm"]
    assert answer["candidates"][0]["evidence"][0]["read"] == [18.95, 19.15]


def test_a_key_is_its_size_or_none(tmp_path: Path) -> None:
    assert labels(identified("key", {"width_mm": 4.75}, tmp_path)) == {"3/16 in"}
    assert labels(identified("key", {"width_mm": 4.98, "height_mm": 5.0}, tmp_path)) == {"5 mm"}
    between = identified("key", {"width_mm": {"value": 4.87, "doubt": 0.02}}, tmp_path)
    assert between["candidates"] == []
    assert len(between["notes"]) == 2


# --- circles: chords of regular polygons and triangles from school geometry


@pytest.mark.parametrize(
    ("holes", "measured", "steps"),
    [(4, "neighbouring", 1), (4, "opposite", 2), (3, "neighbouring", 1), (6, "across 2", 2), (5, "across 2", 2)],
)
@pytest.mark.parametrize(("taken", "edges"), [("centres", 0), ("near edges", -1), ("far edges", 1)])
def test_any_distance_gives_the_circle(
    holes: int, measured: str, steps: int, taken: str, edges: int, tmp_path: Path
) -> None:
    first, other = (complex(math.cos(turn), math.sin(turn)) * 46 for turn in (0.0, math.tau * steps / holes))
    read = {
        "holes": holes,
        "measured": measured,
        "taken": taken,
        "distance_mm": {"value": round(abs(first - other) + edges * 8.5, 3), "doubt": 0.05},
        "hole_mm": {"value": 8.5, "doubt": 0.01},
    }
    answer = identified("circle", read, tmp_path)
    low, high = answer["diameter_mm"]
    assert low < 92 < high < low + 0.5
    assert [math.hypot(*hole) for hole in answer["holes_xy_mm"]] == pytest.approx([(low + high) / 4] * holes)
    assert answer["holes_xy_mm"][0] == [pytest.approx((low + high) / 4), 0.0]
    assert any("equally spaced" in note for note in answer["notes"])
    assert {"92 mm"} <= labels(answer)


def test_three_unequal_sides_give_their_circle_and_the_warning(tmp_path: Path) -> None:
    # A right-angled triangle 60, 80, 100 lies on a circle as large as its longest side (Thales).
    answer = identified("circle", {"sides_mm": ["60 mm", 80, {"value": 100, "doubt": 0.1}]}, tmp_path)
    low, high = answer["diameter_mm"]
    assert low <= 100 <= high < low + 1
    one, two, three = answer["holes_xy_mm"]
    found = [math.dist(one, two), math.dist(two, three), math.dist(three, one)]
    assert found == pytest.approx([60, 80, 100], abs=0.1)
    assert any("not equally spaced" in note for note in answer["notes"])
    assert any("mirrored" in note for note in answer["notes"])
    turned = identified("circle", {"sides_mm": [60, 80, 100], "seen_from": "loose pump"}, tmp_path)
    assert turned["holes_xy_mm"][1][1] == pytest.approx(-one_up(answer), abs=0.01)


def one_up(answer: Any) -> float:
    up: float = answer["holes_xy_mm"][1][1]
    assert up > 0
    return up


def test_all_pairs_give_the_places_of_uneven_holes(tmp_path: Path) -> None:
    # A rectangle 60 x 80 with its diagonals of 100: one circle of 100, not evenly spaced.
    pairs = {"1-2": 60, "2-3": 80, "3-4": "60 mm", "1-4": 80, "1-3": 100, "2-4": [100, 100.05]}
    answer = identified("circle", {"pairs_mm": pairs, "seen_from": "engine"}, tmp_path)
    low, high = answer["diameter_mm"]
    assert low < 100 < high < low + 1
    assert sorted((abs(round(x)), abs(round(y))) for x, y in answer["holes_xy_mm"]) == [(30, 40)] * 4
    assert any("not equally spaced" in note for note in answer["notes"])
    assert not any("mirrored" in note for note in answer["notes"])


# Three corners of a square of 60 and one far out on the diagonal: no circle goes through them.
KITE = [(0.0, 0.0), (60.0, 0.0), (90.0, 90.0), (0.0, 60.0)]


def kite_pairs() -> dict[str, float]:
    numbered = list(enumerate(KITE, start=1))
    return {
        f"{one}-{other}": round(math.dist(here, there), 3)
        for one, here in numbered
        for other, there in numbered
        if one < other
    }


def test_holes_on_no_circle_are_placed_all_the_same(tmp_path: Path) -> None:
    answer = identified("circle", {"pairs_mm": kite_pairs(), "seen_from": "engine"}, tmp_path)
    assert (answer["diameter_mm"], answer["candidates"]) == (None, [])
    assert any("No one circle" in note for note in answer["notes"])
    placed = answer["holes_xy_mm"]
    assert math.dist(placed[0], placed[2]) == pytest.approx(math.dist(KITE[0], KITE[2]), abs=0.01)


def test_the_shaft_is_the_origin_where_it_was_measured(tmp_path: Path) -> None:
    side = 46 * math.sqrt(2)
    pairs: dict[str, Any] = {f"{one}-{other}": side for one, other in ((1, 2), (2, 3), (3, 4), (1, 4))}
    pairs |= {"1-3": 92, "2-4": 92} | {f"shaft-{hole}": 46 for hole in range(1, 5)}
    answer = identified("circle", {"pairs_mm": pairs, "seen_from": "loose pump"}, tmp_path)
    assert answer["holes_xy_mm"][0] == pytest.approx([46, 0], abs=0.01)
    assert answer["holes_xy_mm"][1] == pytest.approx([0, -46], abs=0.01)
    assert answer["diameter_mm"] == pytest.approx([91.8, 92.2])


# --- faces: NEMA MG 1, clause 4.4.4: 56C has four holes on 5-7/8 in about a 4-1/2 in pilot, as 143TC and 145TC have


def test_a_face_is_found_by_circle_pilot_and_shaft(tmp_path: Path) -> None:
    read: dict[str, Any] = {"holes": 4, "circle_mm": "5-7/8 in", "pilot_mm": "4 1/2"}
    open_answer = identified("face", read, tmp_path)
    assert {"56C", "143TC", "145TC"} <= labels(open_answer)
    assert open_answer["next_measurement"]["reading"] == "shaft_diameter_mm"
    assert labels(identified("face", {**read, "shaft_diameter_mm": "5/8"}, tmp_path)) == {"56C"}


def test_a_face_is_found_from_the_distance_of_its_holes(tmp_path: Path) -> None:
    read = {
        "holes": 4,
        "measured": "opposite",
        "taken": "centres",
        "distance_mm": "5.875 in",
        "shaft_diameter_mm": "5/8",
    }
    answer = identified("face", read, tmp_path)
    assert "56C" in labels(answer)
    assert len(answer["holes_xy_mm"]) == 4


def test_uneven_holes_are_no_evenly_drilled_face(tmp_path: Path) -> None:
    # A rectangle whose diagonals are 5-7/8 in, as long as the circle of 56C: sides 3 : 4 : 5.
    diagonal = 5.875 * 25.4
    short, long = round(0.6 * diagonal, 2), round(0.8 * diagonal, 2)
    pairs = {"1-2": short, "2-3": long, "3-4": short, "1-4": long, "1-3": round(diagonal, 2), "2-4": round(diagonal, 2)}
    answer = identified("face", {"pairs_mm": pairs, "shaft_diameter_mm": "5/8"}, tmp_path)
    assert answer["candidates"] == []
    assert any(note.startswith("56C") and "equally spaced" in note for note in answer["notes"])
    without_shaft = identified("face", {"pairs_mm": pairs}, tmp_path)
    assert (without_shaft["candidates"], without_shaft["next_measurement"]) == ([], None)
    on_no_circle = identified("face", {"pairs_mm": kite_pairs()}, tmp_path)
    assert (on_no_circle["diameter_mm"], on_no_circle["candidates"]) == (None, [])


# --- faults


@pytest.mark.parametrize(
    ("kind", "readings", "sentence"),
    [
        ("shaft", {}, "shaft readings: “diameter_mm” is missing – add it."),
        ("shaft", {"diameter_mm": None}, "shaft readings: “diameter_mm” is missing – measure it first."),
        (
            "shaft",
            {"diameter_mm": 0.75},
            "diameter_mm: 0.75 mm is outside 8 to 260 mm – inch or mm? Write “0.75 in” or “0.75 mm”.",
        ),
        (
            "circle",
            {"holes": 4},
            "circle readings: nothing to find the circle from – give one of: distance_mm, sides_mm, pairs_mm.",
        ),
        (
            "circle",
            {"sides_mm": [60, 60, 60], "pairs_mm": {"1-2": 60}},
            (
                "circle readings: sides_mm and pairs_mm to "
                "find the circle from – give one of: distance_mm, sides_mm, pairs_mm."
            ),
        ),
        (
            "circle",
            {"holes": 4, "sides_mm": [60, 60, 60]},
            "holes: 4 holes with three sides – give pairs_mm, or 3 holes.",
        ),
        (
            "circle",
            {"holes": 3, "measured": "opposite", "taken": "centres", "distance_mm": 60},
            "measured: 3 holes have no opposite ones – write “neighbouring”, or “across 2” for two steps.",
        ),
        (
            "circle",
            {"holes": 4, "measured": "neighbouring", "taken": "near edges", "distance_mm": 60},
            (
                "A distance over near edges needs the diameter of both holes; measure them, or take the distance over "
                "the other edges as well."
            ),
        ),
        (
            "circle",
            {"holes": 4, "measured": "neighbouring", "taken": None, "distance_mm": 60},
            "circle readings: distance_mm without “taken” – say it as well.",
        ),
        ("face", {"circle_mm": 150}, "face readings: “holes” is missing – count the holes."),
        (
            "circle",
            {"pairs_mm": {"1-2": 60, "1-3": 60}},
            "The distance from hole 2 to hole 3 is missing; measure every hole to every other.",
        ),
    ],
)
def test_a_fault_gives_one_sentence_and_exit_2(
    kind: str, readings: dict[str, Any], sentence: str, tmp_path: Path
) -> None:
    assert fault(kind, readings, tmp_path) == sentence


# --- the real command


@pytest.mark.parametrize(
    ("kind", "readings"),
    [
        ("thread", {"gender": "male", "outside_mm": "13/16", "tpi": 14}),
        ("shaft", {"diameter_mm": [19.02, "19,04 mm"]}),
        ("bore", {"diameter_mm": "3/4", "keyway_floor_mm": 21.2}),
        ("key", {"width_mm": "3/16"}),
        ("circle", {"sides_mm": ["7-11/16", "6-3/16", "6-7/16"]}),
        ("face", {"holes": 4, "circle_mm": "5 7/8 in"}),
        ("key", {"width": 5}),
    ],
)
def test_the_command_in_a_process_of_its_own_says_the_same_and_touches_no_store(
    kind: str, readings: dict[str, Any], tmp_path: Path
) -> None:
    here = call(kind, readings, tmp_path)
    child = run("identify", kind, str(written(readings, tmp_path)), home=tmp_path)
    assert (child.returncode, child.stdout, child.stderr) == (here.returncode, here.stdout, here.stderr)
    assert child.returncode == (2 if "width" in readings else 0)
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == ["readings.json"]


def test_a_missing_file_and_a_wrong_kind_give_one_sentence(tmp_path: Path) -> None:
    done = run("identify", "shaft", str(tmp_path / "none.json"), home=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        f"{tmp_path}/none.json: cannot be read (No such file or directory) – check its name and try again.\n"
    )
    done = run("identify", "bolt", "x.json", home=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "xref-app identify: argument kind: invalid choice: 'bolt' (choose from 'thread', 'shaft', 'bore', 'key', "
        "'circle', 'face') – see xref-app identify --help.\n"
    )
