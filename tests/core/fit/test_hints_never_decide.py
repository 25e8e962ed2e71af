"""No hint decides: neither a value that is only typical nor a number of a table that is only remembered.

Left as they are: names (a thread's designation, a frame), which are what is asked for and no measure; and the numbers
of ISO 286 that were recalled and then checked against outside libraries (``check_with_isofits.py``, run by CI), which
no longer rest on memory. Of ISO 286 only the zone N9 does.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from importlib.resources import files
from typing import Any

import pytest

from tests.core.fit.test_mutations import changed, example, judged
from tests.core.fit.test_planted_values import GIVEN, plain_value
from tests.core.remembered import REMEMBERED_COLUMNS
from tests.soundness.cases import seeded_case
from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Field
from xref_app.core.fit.finding import Judgement
from xref_app.core.quantity import thread_table
from xref_app.core.standards import table_files
from xref_app.core.standards.keys import keyed_pairs
from xref_app.core.standards.limits import limits_mm
from xref_app.core.standards.threads import thread_rows

SEEDS = range(50)
MOST_REFUSED = 5

Row = Mapping[str, str]

TABLES = sorted(
    item.name.removesuffix(".csv")
    for item in (files("xref_app.core.standards") / "tables").iterdir()
    if item.name.endswith(".csv")
)
# The one table that lies elsewhere, and every table that admits to some memory.
PITCHES = "thread_pitches"
MEMORY_TABLES = [
    PITCHES,
    *(
        table
        for table in TABLES
        if any(table_files.FROM_MEMORY in row["confidence"] for row in table_files.table_rows(table))
    ),
]
# Altered apart from each other, so that a failure says which: those the judge reads by themselves.
READ_BY_THE_JUDGE = ("keys_metric", "threads", "bolt_lengths", "iso286_upper_deviations")
GROUPS = [
    *((table,) for table in READ_BY_THE_JUDGE),
    tuple(table for table in MEMORY_TABLES if table not in READ_BY_THE_JUDGE),
]
REMEMBERED_BOLTS = [row.designation for row in thread_rows() if row.family == "metric" and not row.decides]
# What a row is looked up by and what is said about it: no measure.
NAMES = {
    "designation", "variant", "nominal", "system", "unit", "frame", "mount", "flange", "name", "axis", "topic",
    "item", "item_a", "item_b", "kind", "what", "note", "source", "checked_against", "confidence", "female_forms",
    "seals", "taper", "taper_a", "taper_b", "form", "pilot_zone", "shaft_zone", "hole_kind", "spacing",
}  # fmt: skip
NUMBER = re.compile(r"\d+(\.\d+)?")
# Other zones of ISO 286 in place of the remembered ones.
OTHER_ZONES = {"h9": "h6", "h11": "h7"}


def wild(text: str) -> str:
    """Return what a table prints with every number in it made seven times as large and more."""
    if text in OTHER_ZONES:
        return OTHER_ZONES[text]
    return NUMBER.sub(lambda found: f"{float(found[0]) * 7 + 3:g}", text)


def remembered_columns(table: str, row: Row) -> set[str]:
    """Return the columns of ``row`` that hold a remembered number."""
    if row["confidence"].startswith(table_files.FROM_MEMORY):
        return set(row) - NAMES
    return {
        column
        for (of_table, words), columns in REMEMBERED_COLUMNS.items()
        for column in row
        if of_table == table and words in row["confidence"] and re.fullmatch(columns, column)
    }


def wild_row(table: str, row: Row) -> Row:
    altered = remembered_columns(table, row)
    return {column: wild(text) if column in altered else text for column, text in row.items()}


def forget_what_was_read() -> None:
    """Empty every cache of the core, so that the tables are read again."""
    for name, module in list(sys.modules.items()):
        if name.startswith(("xref_app.core.standards.", "xref_app.core.quantity.", "xref_app.core.fit.")):
            for value in list(vars(module).values()):
                if hasattr(value, "cache_clear"):
                    value.cache_clear()


def put_everywhere(patch: pytest.MonkeyPatch, name: str, was: Callable[..., Any], now: Callable[..., Any]) -> None:
    """Replace one function wherever a module of the program has imported it."""
    for module in [module for key, module in sys.modules.items() if key.startswith("xref_app.")]:
        if vars(module).get(name) is was:
            patch.setattr(module, name, now)


@contextmanager
def remembered_values_wild(*tables: str) -> Iterator[None]:
    """Give every remembered number of ``tables`` a wild value for as long as this lasts."""
    rows, pitches = table_files.table_rows, thread_table.thread_rows
    altered = {
        table: tuple(wild_row(table, row) if table in tables else row for row in rows(table)) for table in TABLES
    }
    threads = tuple(wild_thread(row) if PITCHES in tables else row for row in pitches())
    with pytest.MonkeyPatch.context() as patch:
        put_everywhere(patch, "table_rows", rows, lambda name: altered[name])
        put_everywhere(patch, "thread_rows", pitches, lambda: threads)
        forget_what_was_read()
        try:
            yield
        finally:
            patch.undo()
            forget_what_was_read()


def wild_thread(row: thread_table.ThreadRow) -> thread_table.ThreadRow:
    """Return a row of the table of pitches with its remembered diameter wild; its pitch is part of its name."""
    if row.major_mm is None or table_files.FROM_MEMORY not in row.confidence:
        return row
    return replace(row, major_mm=row.major_mm * 7)


def judged_or_none(case: dict[str, Any]) -> Judgement | None:  # JSON
    try:
        return judged(case)
    except XrefError:
        return None


@pytest.mark.parametrize("field", GIVEN, ids=lambda field: field.field_id)
def test_a_typical_value_is_as_good_as_none(field: Field) -> None:
    hinted = judged(changed({field.case_field: {"value": plain_value(field), "how": "typical"}}))
    assert hinted == judged(changed({field.case_field: None}))


def test_all_values_typical_at_once_are_as_good_as_none() -> None:
    hinted = judged(changed({field.case_field: {"value": plain_value(field), "how": "typical"} for field in GIVEN}))
    assert hinted == judged(changed(dict.fromkeys((field.case_field for field in GIVEN), None)))


def with_metric_key(top: dict[str, float], floor: dict[str, float]) -> dict[str, Any]:  # JSON
    """Return the example case with a 19 mm shaft and bore, a 6 mm key, and its two heights as given, mm."""
    return changed(
        {
            "machine.shaft.diameter_mm": 19.0,
            "machine.shaft.key_width_mm": 6.0,
            "machine.shaft.key_top_mm": top,
            "pump.bore.diameter_mm": 19.01,
            "pump.bore.keyway_width_mm": 6.0,
            "pump.bore.keyway_floor_mm": floor,
        }
    )


def with_bolt(bolt: str) -> dict[str, Any]:  # JSON
    return changed({"machine.face.bolt": bolt})


def cases_to_judge() -> dict[str, dict[str, Any]]:  # JSON
    """Return the example case, seeded ones, and those whose sizes lie where something is remembered, by name."""
    seeded = {f"seed {seed}": seeded_case(seed).shown for seed in SEEDS}
    metric = {
        "key read well": with_metric_key({"value": 21.46, "doubt": 0.05}, {"value": 21.85, "doubt": 0.1}),
        "key read low": with_metric_key({"value": 21.29, "doubt": 0.1}, {"value": 21.68, "doubt": 0.3}),
        "key read lower": with_metric_key({"value": 21.15, "doubt": 0.2}, {"value": 21.5, "doubt": 0.3}),
    }
    short_bolt = {
        "machine.face.bolt": "1/4-20 UNC",
        "machine.face.material": "iron",
        "machine.face.bolt_length_mm": 60,
        "pump.flange.thickness_mm": 5,
    }
    return {"example": example(), "short bolt": changed(short_bolt)} | metric | seeded


@pytest.mark.parametrize("tables", GROUPS, ids=" ".join)
def test_no_remembered_number_of_a_table_decides(tables: tuple[str, ...]) -> None:
    cases = cases_to_judge()
    before = {name: judged_or_none(case) for name, case in cases.items()}
    with remembered_values_wild(*tables):
        after = {name: judged_or_none(case) for name, case in cases.items()}
    assert sum(judgement is None for judgement in before.values()) <= MOST_REFUSED
    assert [name for name in cases if before[name] != after[name]] == []


@pytest.mark.parametrize("bolt", REMEMBERED_BOLTS)
def test_no_remembered_bolt_thread_decides(bolt: str) -> None:
    before = judged_or_none(with_bolt(bolt))
    assert before is not None
    with remembered_values_wild("threads"):
        assert judged_or_none(with_bolt(bolt)) == before


def test_the_bolts_of_the_seeded_cases_are_no_remembered_ones() -> None:
    bolts = {str(seeded_case(seed).shown["machine"]["face"].get("bolt")) for seed in SEEDS}
    assert not any(remembered.casefold() in bolt.casefold() for remembered in REMEMBERED_BOLTS for bolt in bolts)


@pytest.mark.parametrize("factor", [0.02, 2.0])
def test_the_remembered_torque_factor_only_shows_in_a_note(factor: float, monkeypatch: pytest.MonkeyPatch) -> None:
    # Source of the factor: Shigley, from memory.
    before = judged(example())
    monkeypatch.setattr("xref_app.core.fit.bolts.K_DRY", factor)
    after = judged(example())
    assert after.findings != before.findings
    assert [replace(finding, notes=()) for finding in after.findings] == [
        replace(finding, notes=()) for finding in before.findings
    ]
    assert after.verdict is before.verdict


def test_the_wild_tables_are_really_read_and_the_true_ones_come_back() -> None:
    zone_n9, threads, pairs = limits_mm("N9", 6), thread_rows(), keyed_pairs()
    with remembered_values_wild(*MEMORY_TABLES):
        assert limits_mm("N9", 6) != zone_n9
        assert thread_rows() != threads
        assert keyed_pairs() != pairs
    assert (limits_mm("N9", 6), thread_rows(), keyed_pairs()) == (zone_n9, threads, pairs)


@pytest.mark.parametrize("table", TABLES)
def test_every_row_that_admits_to_memory_is_altered_and_no_other(table: str) -> None:
    for row in table_files.table_rows(table):
        admits = table_files.FROM_MEMORY in row["confidence"]
        remembered = remembered_columns(table, row)
        assert bool(remembered) is admits, row
        assert (wild_row(table, row) != row) is any(NUMBER.search(row[column]) for column in remembered), row
