"""What is known as columns of small numbers: the same values, each written down once, and changed without the rest."""

from __future__ import annotations

import random

import numpy as np

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.entry_by_entry import known_of_kind
from xref_app.core.model.known import Dimension, Fact, How, Known
from xref_app.services.machine_side import Values
from xref_app.services.value_table import NOTHING_KNOWN, ValueTable

SAMPLE = catalog_of(sample_rows())
PUMPS = known_of_kind(SAMPLE, "pump")
DEEP, SHALLOW = Dimension(65.0, 0.1), Dimension(60.0, 0.1)


def by_id(entry_id: str) -> tuple[str, ...]:
    return (entry_id,)


def by_row(entry_id: str) -> tuple[str, ...]:
    return (entry_id.removeprefix("P").zfill(9),)


def values_of(table: ValueTable) -> dict[str, dict[str, tuple[Known, ...]]]:
    """Return what the table says of every entry."""
    found: dict[str, dict[str, tuple[Known, ...]]] = {}
    for place, entry_id in enumerate(table.ids):
        said = {field: one.distinct.versions[one.numbers[place]] for field, one in table.columns.items()}
        found[entry_id] = {field: versions for field, versions in said.items() if versions}
    return found


def deciding(known: dict[str, Values]) -> dict[str, dict[str, tuple[Known, ...]]]:
    """Return of all that is known what is no habit."""
    kept = {
        entry_id: {field: tuple(one for one in versions if one.how.decides) for field, versions in values.items()}
        for entry_id, values in known.items()
    }
    return {entry_id: {field: one for field, one in values.items() if one} for entry_id, values in kept.items()}


def test_the_table_says_what_is_known_and_no_habits() -> None:
    table = ValueTable.of(PUMPS.items())
    assert values_of(table) == deciding(PUMPS)
    assert any(not one.how.decides for values in PUMPS.values() for versions in values.values() for one in versions)


def test_the_rows_are_gone_through_once() -> None:
    assert len(ValueTable.of(iter(PUMPS.items()))) == len(PUMPS)


def test_every_value_is_written_down_once_and_the_first_is_that_nothing_is_known() -> None:
    rows: list[tuple[str, Values]] = [
        ("P1", {"bore_depth_mm": (DEEP,)}),
        ("P2", {}),
        ("P3", {"bore_depth_mm": (SHALLOW, DEEP)}),
        ("P4", {"bore_depth_mm": (Dimension(65.0, 0.1, How.TYPICAL),)}),
        ("P5", {"bore_depth_mm": (Dimension(65.0, 0.1),)}),
    ]
    column = ValueTable.of(rows).column("bore_depth_mm")
    assert column.numbers.tolist() == [1, NOTHING_KNOWN, 2, NOTHING_KNOWN, 1]
    assert column.distinct.versions == ((), (DEEP,), (SHALLOW, DEEP))


def test_a_field_nobody_knows_is_a_column_of_nothing() -> None:
    column = ValueTable.of(PUMPS.items()).column("shaft_form")
    assert (column.numbers.tolist(), column.distinct.versions) == ([NOTHING_KNOWN] * len(PUMPS), ((),))


def test_few_values_take_a_byte_each_and_many_two() -> None:
    table = ValueTable.of(
        (f"P{n}", {"bore_depth_mm": (Dimension(n / 10, 0.1),), "bore_form": (Fact(f"form {n % 255}"),)})
        for n in range(1000)
    )
    assert table.column("bore_form").numbers.dtype == np.uint8
    assert table.column("bore_depth_mm").numbers.dtype == np.uint16


def test_a_byte_is_left_when_one_more_value_needs_it() -> None:
    table = ValueTable.of((f"P{n}", {"bore_form": (Fact(f"form {n}"),)}) for n in range(255))
    more = table.replaced({"P0": {"bore_form": (Fact("one more"),)}}, by_row)
    assert table.column("bore_form").numbers.dtype == np.uint8
    assert more.column("bore_form").numbers.dtype == np.uint16
    assert values_of(more)["P254"] == {"bore_form": (Fact("form 254"),)}
    assert values_of(more)["P0"] == {"bore_form": (Fact("one more"),)}


def test_a_table_changed_in_places_says_what_a_new_one_does_in_the_same_order() -> None:
    """Entries change, come, go and are called something else, several at a time."""
    rng, known = random.Random(8), dict(PUMPS)
    called = {entry_id: entry_id for entry_id in known}

    def by(entry_id: str) -> tuple[str, ...]:
        return called[entry_id], entry_id

    table = ValueTable.of(known.items()).in_order(by)
    for step in range(60):
        changed: dict[str, Values | None] = {}
        for entry_id in rng.sample([*known, *(f"new {step} {n}" for n in range(9))], rng.randint(0, 4)):
            changed[entry_id] = rng.choice(
                [None, {}, rng.choice(list(PUMPS.values())), {"inlet_thread": (Fact(step),)}]
            )
            if entry_id not in called or rng.random() < 0.5:
                called[entry_id] = f"P-{rng.randint(0, 120):03}"
        for entry_id, values in changed.items():
            known.pop(entry_id, None)
            if values is not None:
                known[entry_id] = values
        before, said_before = table.ids, values_of(table)
        after = table.replaced(changed, by)
        assert (table.ids, values_of(table)) == (before, said_before)
        table = after
        assert values_of(table) == deciding(known)
        assert list(table.ids) == sorted(known, key=by)


def test_columns_that_a_change_does_not_touch_are_shared() -> None:
    table = ValueTable.of(PUMPS.items())
    entry_id, values = next(iter(PUMPS.items()))
    deeper = table.replaced({entry_id: {**values, "bore_depth_mm": (Dimension(3.0, 0.1),)}}, by_id)
    assert {field for field, one in deeper.columns.items() if one is not table.columns[field]} == {"bore_depth_mm"}
    assert deeper.ids is table.ids
