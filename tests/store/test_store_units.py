"""Salvaged units put by: both sides or none, one job each, undone by name, the record whole after it."""

from __future__ import annotations

from dataclasses import replace
from itertools import count

import pytest
from sqlalchemy import Engine

from xref_app.core.model.catalog import SalvagedUnit, UnitReservationRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import writing
from xref_app.store.edits import next_undo, redo, undo
from xref_app.store.errors import DamagedStoreError, StoreError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.row_changes import today
from xref_app.store.shelf_acts import Act
from xref_app.store.unit_acts import release_units, reserve_units
from xref_app.store.unit_errors import NoUnitError, UnitChangedError, UnitNotFreeError, UnitNotReservedError

# The small catalog has three used units, the last of which, U3, is put by for job 117.
NUMBER = count(1)


def act(name: str = "act", who: str = "Ana") -> Act:
    return Act(name, who, f"{name} {next(NUMBER)}")


def units(engine: Engine, *unit_ids: str) -> list[SalvagedUnit]:
    there = {one.unit_id: one for one in CatalogRepository(engine).salvaged()}
    return [there[one] for one in unit_ids]


def held(engine: Engine) -> dict[str, str]:
    return {one.unit_id: one.job for one in CatalogRepository(engine).unit_reservations() if not one.released_on}


def test_both_sides_are_put_by_in_one_act(filled: Engine) -> None:
    before = len(read_history(filled))
    reserve_units(filled, units(filled, "U1", "U2"), act(), job="118")
    assert held(filled) == {"U1": "118", "U2": "118", "U3": "job 117"}
    made = CatalogRepository(filled).unit_reservations()[0]
    assert made == UnitReservationRow("OWN-U0001", "U1", "118", "Ana", today())
    assert len(read_history(filled)) == before + 1
    assert check_store(filled).is_whole


def test_both_sides_or_none_and_the_loser_is_told_who_has_it(filled: Engine) -> None:
    before = len(read_history(filled))
    with pytest.raises(UnitNotFreeError) as caught:
        reserve_units(filled, units(filled, "U2", "U3"), act(who="Ben"), job="118")
    assert str(caught.value) == ("Unit U3 is reserved for job 117 by José; nothing was changed: take another pair.")
    assert held(filled) == {"U3": "job 117"}
    assert len(read_history(filled)) == before


def test_a_unit_is_not_put_by_twice_even_for_the_same_job_or_in_one_act(filled: Engine) -> None:
    with pytest.raises(UnitNotFreeError):
        reserve_units(filled, units(filled, "U1", "U1"), act(), job="118")
    reserve_units(filled, units(filled, "U1"), act(), job="118")
    with pytest.raises(UnitNotFreeError):
        reserve_units(filled, units(filled, "U1"), act(), job="118")


@pytest.mark.parametrize(
    ("unit", "error"),
    [
        (SalvagedUnit("U9", "P003"), NoUnitError),
        (SalvagedUnit("U1", "P003", hours=120.5, condition="worn"), UnitChangedError),
    ],
)
def test_what_is_not_as_it_was_looked_at_is_refused(
    filled: Engine, unit: SalvagedUnit, error: type[StoreError]
) -> None:
    with pytest.raises(error, match="nothing was changed: pair up again"):
        reserve_units(filled, [*units(filled, "U2"), unit], act(), job="118")
    assert held(filled) == {"U3": "job 117"}


def test_what_is_given_free_can_be_put_by_again(filled: Engine) -> None:
    release_units(filled, ["U3"], act())
    assert held(filled) == {}
    with pytest.raises(UnitNotReservedError, match="U3 is not reserved"):
        release_units(filled, ["U3"], act())
    reserve_units(filled, units(filled, "U3"), act(), job="119")
    assert held(filled) == {"U3": "119"}


def test_a_pair_is_undone_and_done_again_by_name(filled: Engine) -> None:
    name = "reserve U2 with U1 for job 118"
    reserve_units(filled, units(filled, "U1", "U2"), act(name), job="118")
    step = next_undo(filled)
    assert step is not None
    assert step.name == name
    undo(filled, who="Ben")
    assert held(filled) == {"U3": "job 117"}
    reserve_units(filled, units(filled, "U1"), act(), job="120")
    undo(filled, who="Ben")
    redo(filled, who="Ben")
    assert held(filled) == {"U3": "job 117", "U1": "120"}
    assert check_store(filled).is_whole


def test_the_same_act_sent_twice_is_done_once(filled: Engine) -> None:
    made = act()
    pair = units(filled, "U1", "U2")
    assert not reserve_units(filled, pair, made, job="118").again
    assert reserve_units(filled, pair, made, job="118").again


def test_nothing_is_promised_over_a_damaged_reservation(filled: Engine) -> None:
    """A changed date would make a unit free that is not."""
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE unit_reservations SET released_on = '2026-03-03'")
    with pytest.raises(DamagedStoreError, match="row RU-001 of unit_reservations does not match its check sum"):
        reserve_units(filled, units(filled, "U1"), act(), job="118")


def test_a_package_never_alters_a_reservation_of_the_shop(filled: Engine) -> None:
    reserve_units(filled, units(filled, "U1"), act(), job="118")
    mine = CatalogRepository(filled).unit_reservations()[0]
    with pytest.raises(StoreError, match="OWN-U0001"):
        import_catalog(filled, CatalogRows(unit_reservations=(replace(mine, job="120"),)), who="Ben", why="")
