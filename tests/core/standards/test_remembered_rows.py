"""What a table only remembers decides nothing: the judge decides the same with it altered, nearly right, or taken out.

``tests/core/fit/test_hints_never_decide.py`` holds that a typical value counts as none, field by field, and that wild
numbers leave every finding alone. Here: what remembered rows say of a machine; values that would not fit; remembered
cells nearly right; remembered rows missing; and the controls: a table altered where it is sure changes findings.
"""

from __future__ import annotations

import ast
import csv
import re
import sys
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from tests.core.fit.mutations import MUTATIONS, Mutation
from tests.core.fit.test_mutations import changed, example, judged
from tests.core.remembered import REMEMBERED_COLUMNS
from xref_app.core.fit.finding import Judgement
from xref_app.core.plan import judge as fit_judge
from xref_app.core.standards import table_files
from xref_app.core.standards.engine_faces import engine_faces
from xref_app.core.standards.exact import as_fraction, as_printed
from xref_app.core.standards.faces import published_faces
from xref_app.core.standards.limits import ZONES
from xref_app.core.standards.shafts_engine import engine_shafts
from xref_app.core.standards.threads import thread_rows

Json = dict[str, Any]  # JSON
Row = Mapping[str, str]
Alter = Callable[[str, Row], Row | None]
TABLES = files("xref_app.core.standards") / "tables"
NAMES = sorted(item.name.removesuffix(".csv") for item in TABLES.iterdir() if item.name.endswith(".csv"))
# Columns that are words about a row, or its name, and no value.
WORDS = {
    "source",
    "checked_against",
    "confidence",
    "note",
    "designation",
    "variant",
    "system",
    "name",
    "frame",
    "mount",
}


def rows_of(table: str) -> list[dict[str, str]]:
    return list(csv.DictReader((TABLES / f"{table}.csv").read_text(encoding="utf-8").splitlines()))


def remembered_columns(table: str, row: Row) -> set[str]:
    """Return the columns of ``row`` that are from memory: all its values where the row as a whole is."""
    if row["confidence"].startswith(table_files.FROM_MEMORY):
        return set(row) - WORDS
    said = [
        columns for (name, words), columns in REMEMBERED_COLUMNS.items() if name == table and words in row["confidence"]
    ]
    return {column for column in row for columns in said if re.fullmatch(columns, column)}


# --- What remembered rows say of a machine, and what would not fit, counts as not known where it is typical.


def as_typical(value: Any) -> Json:  # JSON
    given = value if isinstance(value, dict) else {"value": value}
    return {**given, "how": "typical"}


def habits(mutation: Mutation) -> Json:
    """Return the values that ``mutation`` gives to machine and pump, without those it takes away or gives twice."""
    return {
        path: value
        for path, value in mutation.changes.items()
        if path.startswith(("machine.", "pump.")) and value is not None and "either" not in repr(value)
    }


@pytest.mark.parametrize("mutation", [one for one in MUTATIONS if habits(one)], ids=lambda one: one.why[:60])
def test_a_value_that_would_not_fit_counts_as_not_known_where_it_is_typical(mutation: Mutation) -> None:
    habit = habits(mutation)
    hinted = judged(changed({**mutation.changes, **{path: as_typical(value) for path, value in habit.items()}}))
    assert hinted == judged(changed({**mutation.changes, **dict.fromkeys(habit)}))


def holes(radius_mm: float, count: int) -> list[list[float]]:
    corners = ((1, 0), (0, 1), (-1, 0), (0, -1))[:count]
    return [[radius_mm * x, radius_mm * y] for x, y in corners]


def remembered_values() -> Iterator[tuple[str, Json]]:
    """Yield what each row from memory would say of a machine, by path in a case."""
    for shaft in engine_shafts():
        shaft_end = {
            "diameter_mm": shaft.diameter_mm,
            "projection_mm": shaft.length_mm,
            "key_width_mm": shaft.key_width_mm,
        }
        yield f"engine shaft {shaft.label}", {f"machine.shaft.{name}": size for name, size in shaft_end.items()}
    for face in [face for face in published_faces() if not face.decides]:
        yield (
            face.name,
            {
                "machine.shaft.diameter_mm": face.shaft_diameter_mm,
                "machine.shaft.projection_mm": face.shaft_projection_mm,
                "machine.face.holes_xy_mm": [list(hole) for hole in face.holes_xy_mm],
                "machine.face.pilot_mm": face.pilot_mm.middle,
            },
        )
    for engine in engine_faces():
        seats, circle = [0] * engine.bolt_count, holes(engine.bolt_circle_mm / 2, engine.bolt_count)
        yield engine.name, {"machine.face.holes_xy_mm": circle, "machine.face.seat_heights_mm": seats}
    for thread in [row for row in thread_rows() if not row.decides]:
        called = thread.designation
        yield called, {"machine.face.bolt": called, "machine.water.supply.thread": called}


@pytest.mark.parametrize(("row", "values"), list(remembered_values()))
def test_what_a_row_from_memory_says_of_the_machine_counts_as_not_known(row: str, values: Json) -> None:
    hinted = judged(changed({path: as_typical(value) for path, value in values.items()}))
    assert hinted == judged(changed(dict.fromkeys(values))), row


# --- Tables altered where they only remember.


def scaled(text: str, factor: Fraction) -> str:
    """Return a printed value altered: numbers times ``factor``, another zone for a zone, words as they are."""
    if text in ZONES:
        return ZONES[(ZONES.index(text) + int(factor * 4)) % len(ZONES)]
    if re.fullmatch(r"-?\d+", text):
        return str(round(int(text) * factor) or 1)
    if re.fullmatch(r"\d*\.\d+", text):
        return f"{float(text) * factor:.6f}"
    if re.fullmatch(r"(\d+-)?\d+/\d+", text):
        return as_printed(as_fraction(text) * factor)
    return text


def times(factor: Fraction) -> Alter:
    def alter(table: str, row: Row) -> Row:
        return {**row, **{column: scaled(row[column], factor) for column in remembered_columns(table, row)}}

    return alter


def without_remembered_rows(_table: str, row: Row) -> Row | None:
    return None if row["confidence"].startswith(table_files.FROM_MEMORY) else row


ALTERATIONS: dict[str, Alter] = {
    "tripled": times(Fraction(3)),
    "halved": times(Fraction(1, 2)),
    "nearly right": times(Fraction(101, 100)),
    "taken out": without_remembered_rows,
}


def forget_tables() -> None:
    """Empty every cache of the core that may hold a table, so that the next look reads the tables anew.

    What is read from data_schema stays: tests that run later compare fields by identity.
    """
    modules = [module for name, module in list(sys.modules.items()) if name.startswith("xref_app.core.")]
    for value in [value for module in modules for value in list(vars(module).values())]:
        if hasattr(value, "cache_clear") and not value.__module__.startswith("xref_app.core.fields."):
            value.cache_clear()


def write_tables(folder: Path, alter: Alter) -> int:
    """Write every table with its rows altered into ``folder``; return how many rows are no longer the same."""
    touched = 0
    (folder / "tables").mkdir()
    for table in NAMES:
        kept = [(row, alter(table, row)) for row in rows_of(table)]
        touched += sum(row != new for row, new in kept)
        with (folder / "tables" / f"{table}.csv").open("w", encoding="utf-8", newline="") as out:
            writer = csv.DictWriter(out, list(kept[0][0]), lineterminator="\n")
            writer.writeheader()
            writer.writerows(new for _, new in kept if new is not None)
    return touched


@pytest.fixture
def use_tables(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Alter], int]]:
    """Yield a function that makes the program read altered tables, from real files, until the test ends."""

    def use(alter: Alter) -> int:
        touched = write_tables(tmp_path, alter)
        monkeypatch.setattr(table_files, "files", lambda _package: tmp_path)
        forget_tables()
        return touched

    yield use
    monkeypatch.undo()
    forget_tables()


METRIC_DRIVE: Json = {
    "machine.shaft.diameter_mm": {"value": 24.0, "doubt": 0.02},
    "machine.shaft.key_width_mm": 7.98,
    "machine.shaft.key_top_mm": 26.9,
    "pump.bore.diameter_mm": 24.02,
    "pump.bore.keyway_width_mm": 8.02,
    "pump.bore.keyway_floor_mm": 27.35,
}


def cases() -> list[Json]:
    """Return the example case, every single change of it, a metric drive, and bolts of several sizes and lengths."""
    found = [example(), changed(METRIC_DRIVE), *(changed(dict(mutation.changes)) for mutation in MUTATIONS)]
    # A small bolt in iron behind a thin flange: the only one that a remembered length (1/2 in) would serve.
    thin = {"machine.face.material": "iron", "pump.flange.thickness_mm": 3, "machine.face.bolt_length_mm": None}
    found.append(changed({**thin, "machine.face.bolt": "1/4-20"}))
    # A bore 0.20 mm wider than the shaft: too loose by IT9 as printed, and not by three times as much.
    found.append(changed({"pump.bore.diameter_mm": {"value": 19.23, "doubt": 0.005}}))
    for bolt in ("5/16-18", "3/8-16", "M8x1.25", "M10x1.5", "M20x2.5"):
        new_bolt = {"machine.face.bolt": bolt, "machine.face.bolt_length_mm": None}
        found += [changed({**new_bolt, "pump.flange.thickness_mm": flange}) for flange in (3, 5, 9, 14, 20, 26)]
    return found


def decided(judgement: Judgement) -> object:
    """Return what a judgement decides and asks for, without the words and numbers shown beside it."""
    findings = [(one.check, one.outcome, one.measure, one.needs, one.danger) for one in judgement.findings]
    return judgement.verdict, findings, judgement.needs, judgement.measure_next, judgement.danger


@pytest.fixture(scope="module")
def true_decisions() -> list[object]:
    """Return what is decided of every case by the tables as they are."""
    return [decided(judged(case)) for case in cases()]


@pytest.mark.parametrize("alteration", ALTERATIONS)
def test_no_remembered_value_changes_what_is_decided(
    alteration: str, true_decisions: list[object], use_tables: Callable[[Alter], int]
) -> None:
    assert use_tables(ALTERATIONS[alteration]) > 50
    for case, was in zip(cases(), true_decisions, strict=True):
        assert decided(judged(case)) == was, case


@pytest.mark.parametrize("zone", ["h6", "h11", "D10"])
def test_the_remembered_zone_of_a_metric_key_stands_in_no_finding(
    zone: str, use_tables: Callable[[Alter], int]
) -> None:
    # The table's heights of an 8 x 7 key in a 24 mm shaft: floor 19.8 to 20, key top up to 27, keyway floor from 27.3.
    readings = [
        {"machine.shaft.key_top_mm": {"value": top, "doubt": doubt}, "pump.bore.keyway_floor_mm": floor}
        for top in (26.6, 26.7, 26.75, 26.8, 27.1)
        for floor in (26.7, 26.9, 27.1, 27.3, 27.5)
        for doubt in (0.02, 0.1)
    ]
    before = [judged(changed({**METRIC_DRIVE, **heights})) for heights in readings]
    use_tables(lambda table, row: {**row, "key_height_zone": zone} if table == "keys_metric" else row)
    assert [judged(changed({**METRIC_DRIVE, **heights})) for heights in readings] == before


# --- Controls: altering what a table is sure of is seen, and the checks look up no table of hints.


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("keys_inch_ranges", "key_width_in"),
        ("bolt_lengths", "length"),
        ("threads", "major_basic"),
        ("iso286_grades", "it9_um"),
    ],
)
def test_altering_what_a_table_is_sure_of_does_change_findings(
    table: str, column: str, true_decisions: list[object], use_tables: Callable[[Alter], int]
) -> None:
    use_tables(lambda name, row: {**row, column: scaled(row[column], Fraction(3))} if name == table else row)
    assert [decided(judged(case)) for case in cases()] != true_decisions


def test_checks_look_up_no_table_of_hints() -> None:
    # Modules that hold only or mostly hints; what the checks do look up is altered above, cell by cell.
    hinting = {"engine_faces", "faces", "shafts_engine", "shafts_nema", "near_misses", "trade_practice", "bolt_torques"}
    imported = {
        (node.module or "").rpartition(".")[2]
        for package in ("fit", "parts", "plan")
        for path in (Path(fit_judge.__file__).parents[1] / package).glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("xref_app.core.standards.")
    }
    assert "keys" in imported
    assert not imported & hinting


@pytest.mark.parametrize("table", NAMES)
def test_every_memory_that_a_table_admits_is_known_here(table: str) -> None:
    for rest in {row["confidence"] for row in rows_of(table)}:
        if not rest.startswith(table_files.FROM_MEMORY):
            for words in [words for name, words in REMEMBERED_COLUMNS if name == table]:
                rest = rest.replace(words, "")  # noqa: PLW2901 - what is left of the words
            assert table_files.FROM_MEMORY not in rest
