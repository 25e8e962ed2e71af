"""A change of one row in words: new, gone, back again, or each old value beside the new one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from xref_app.core.model.catalog import (
    BlamedSize,
    DriverRow,
    Entry,
    MachineRow,
    Number,
    Observation,
    OutcomeRow,
    PartRow,
    PortRow,
    ReplacedBy,
)
from xref_app.services.row_words import all_words, row_words
from xref_app.store.row_changes import RowChange, with_mark
from xref_app.store.row_hash import to_values
from xref_app.store.tables import TABLES_BY_NAME, CatalogRow

BORE = Observation(1, "P-001", "bore_diameter_mm", "7/8 in", 22.225, "", 0.02, "measured")
ENTRY = Entry("P-001", "pump", "Pellawin", "Pump 7/8 in")


def change(table: str, before: CatalogRow | None, after: CatalogRow) -> RowChange:
    of = TABLES_BY_NAME[table]
    return RowChange(of, None if before is None else to_values(of, before), to_values(of, after))


def words(table: str, before: CatalogRow | None, after: CatalogRow) -> list[str]:
    return [str(one) for one in row_words(change(table, before, after))]


@pytest.mark.parametrize(
    ("table", "row", "said"),
    [
        ("entries", ENTRY, "Pump: Pellawin, Pump 7/8 in"),
        ("numbers", Number("P-001", "NX-1", "maker", "plate"), "Number NX-1: maker, plate"),
        ("observations", BORE, "Bore diameter: 7/8 in, measured"),
        ("drivers", DriverRow("D-01", "petrol"), "Entry: petrol"),
        ("machines", MachineRow("M-001", "FL-5", "D-01", "P-001"), "Entry: FL-5, D-01, P-001"),
        ("ports", PortRow("P-001", "inlet", "3/4-11.5 NH", "female", 14.0), "Port inlet: 3/4-11.5 NH, female, 14"),
        ("parts", PartRow("S-1", "spacer", "Spacer 3 mm", cost=0.5), "Part: spacer, Spacer 3 mm, 0.5"),
        ("replaced_by", ReplacedBy("P-001", "P-002"), "Replaced by P-002: claimed"),
        ("outcomes", OutcomeRow("O-1", "M-001", "P-001", "leaked"), "Outcome: leaked"),
        ("blamed_sizes", BlamedSize("B-1", "O-1", "P-001", "bore_diameter_mm", 1), "Bore diameter: O-1"),
    ],
)
def test_a_new_row_is_told_in_one_sentence(table: str, row: CatalogRow, said: str) -> None:
    assert words(table, None, row) == [said]


def test_each_old_value_stands_beside_the_new_one() -> None:
    later = replace(BORE, as_typed="22.5 mm", value=22.5, how="sheet", doubt=None)
    assert words("observations", BORE, later) == [
        "Bore diameter: 7/8 in → 22.5 mm",
        "Bore diameter, doubt: 0.02 → nothing",
        "Bore diameter, how known: measured → sheet",
    ]
    assert words("entries", ENTRY, replace(ENTRY, note="old stock")) == ["Note: nothing → old stock"]
    number = Number("P-001", "NX-1", "maker", "plate")
    assert words("numbers", number, replace(number, role="seller")) == ["Number NX-1, role: maker → seller"]
    part = PartRow("S-1", "hose", "Hose", end_1_swivel=False)
    assert words("parts", part, replace(part, end_1_swivel=True)) == ["End 1 swivel: no → yes"]


def test_a_row_that_goes_or_comes_back_is_told_as_that() -> None:
    one = change("entries", None, ENTRY)
    gone = with_mark(one.table, one.after, "2026-03-02")
    assert [str(word) for word in row_words(RowChange(one.table, one.after, gone))] == ["Pump: withdrawn"]
    assert [str(word) for word in row_words(RowChange(one.table, gone, one.after))] == ["Pump: stands again"]


def test_a_row_that_stays_says_nothing_and_an_unknown_field_is_spelled_out() -> None:
    assert words("entries", ENTRY, ENTRY) == []
    odd = replace(BORE, field="some_new_size")
    assert words("observations", None, odd) == ["some new size: 7/8 in, measured"]
    changes = (change("entries", None, ENTRY), change("observations", None, BORE))
    assert len(list(all_words(changes))) == 2
