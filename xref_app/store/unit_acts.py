"""Salvaged units put by for a job: several in one act or none, each for one job only, every act undone by name.

What is free is read inside the transaction that writes, so two counters that want the same unit queue and the second
is told who has it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from sqlalchemy import Connection, Engine

from xref_app.core.model.catalog import SalvagedUnit, UnitReservationRow
from xref_app.store.connect import reading
from xref_app.store.edits import Numbers, RowEdit, Saved, save_edits
from xref_app.store.row_changes import today
from xref_app.store.shelf_acts import Act, Wanted, edits_to_reserve, read_live
from xref_app.store.tables import SALVAGED_UNITS, UNIT_RESERVATIONS
from xref_app.store.unit_errors import NoUnitError, UnitChangedError, UnitNotFreeError, UnitNotReservedError


def reserve_units(
    engine: Engine, units: Sequence[SalvagedUnit], act: Act, *, job: str, parts: Sequence[Wanted] = ()
) -> Saved:
    """Put all of ``units`` by for ``job``, and the ``parts`` that join them, or none.

    Args:
        engine: the store.
        units: two sides of a pair, say, as they were looked at.
        act: name, person and id.
        job: the shop's own words for the job.
        parts: what is taken out of bins for it.

    Raises:
        NotFreeError: fewer pieces are free than are wanted; nothing was changed.
        UnitNotFreeError: one is put by already, for whichever job; nothing was changed.
        UnitChangedError: one is not as it was looked at; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        there = {one.unit_id: one for one in read_live(numbers.connection, SALVAGED_UNITS)}
        held = {one.unit_id: one for one in _open(numbers.connection)}
        edits: list[RowEdit] = []
        for unit in units:
            if unit.unit_id not in there:
                raise NoUnitError(unit.unit_id)
            if unit.unit_id in held:
                raise UnitNotFreeError(held[unit.unit_id])
            if there[unit.unit_id] != unit:
                raise UnitChangedError(unit.unit_id)
            row = UnitReservationRow(numbers.unit_reservation_id(), unit.unit_id, job, act.who, today())
            held[unit.unit_id] = row
            edits.append(RowEdit("unit_reservations", None, row))
        return [*edits, *edits_to_reserve(numbers, parts, act.who, job=job)] if parts else edits

    return _save(engine, build, act)


def release_units(engine: Engine, unit_ids: Sequence[str], act: Act) -> Saved:
    """Give units that are put by free again.

    Raises:
        UnitNotReservedError: one is not put by; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        held = {one.unit_id: one for one in _open(numbers.connection)}
        edits: list[RowEdit] = []
        for unit_id in unit_ids:
            if unit_id not in held:
                raise UnitNotReservedError(unit_id)
            edits.append(RowEdit("unit_reservations", held[unit_id], _ended(held[unit_id])))
        return edits

    return _save(engine, build, act)


def read_units(engine: Engine) -> tuple[tuple[SalvagedUnit, ...], tuple[UnitReservationRow, ...]]:
    """Return every salvaged unit and what is put by of them, of one moment, without what is withdrawn.

    Raises:
        DamagedStoreError: a row of either is damaged, so that nobody can say what is free.
    """
    with reading(engine) as connection:
        return read_live(connection, SALVAGED_UNITS), _open(connection)


def _open(connection: Connection) -> tuple[UnitReservationRow, ...]:
    return tuple(one for one in read_live(connection, UNIT_RESERVATIONS) if not one.released_on)


def _ended(row: UnitReservationRow) -> UnitReservationRow:
    return replace(row, released_on=today())


def _save(engine: Engine, build: Callable[[Numbers], Sequence[RowEdit]], act: Act) -> Saved:
    return save_edits(engine, build, name=act.name, who=act.who, why="pairing up", save_id=act.save_id)
