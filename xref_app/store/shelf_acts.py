"""What the shop does at its shelf: each one act with a name, checked inside the transaction that writes it.

So two who want the last pieces at one moment queue, and the second is told who has them. Each function opens its own
transaction and takes the ``name`` to call the act by when it is undone, ``who`` does it, and a ``save_id`` of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from sqlalchemy import Connection, Engine

from xref_app.core.model.catalog import ReservationRow, ShelfRow
from xref_app.core.model.stock import Stock, same_job
from xref_app.store.connect import place_of
from xref_app.store.edits import Numbers, RowEdit, Saved, save_edits
from xref_app.store.errors import DamagedStoreError
from xref_app.store.package import spelled
from xref_app.store.row_changes import today
from xref_app.store.shelf_errors import (
    FewerThereError,
    NoPlaceError,
    NotFreeError,
    NotReservedError,
    OddCountError,
    SamePartThereError,
)
from xref_app.store.tables import RESERVATIONS, SHELF, CatalogTable, R
from xref_app.store.verified import as_row, read_verified

# As data_schema says of the shelf.
MOST_PIECES: Final = 100_000


@dataclass(frozen=True, slots=True)
class Act:
    """One act: what to call it when it is undone, who does it, and the id that lets it be done only once."""

    name: str
    who: str
    save_id: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """So many pieces of a part from whichever bin, or from the one place ``shelf_id``; ``what`` names it in words."""

    quantity: int
    part_id: str = ""
    shelf_id: str = ""
    what: str = ""


def reserve(engine: Engine, wanted: Sequence[Wanted], act: Act, *, job: str, filling_up: bool = False) -> Saved:
    """Put every line of ``wanted`` by for ``job``, or none.

    Args:
        engine: the store.
        wanted: what is to be put by; one part may stand in several lines.
        act: name, person and id.
        job: the shop's own words for the job.
        filling_up: pieces that the job holds already count, so that only what lacks is put by.

    Raises:
        NotFreeError: fewer are free than are wanted; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        return edits_to_reserve(numbers, wanted, act.who, job=job, filling_up=filling_up)

    return _save(engine, build, act)


def edits_to_reserve(
    numbers: Numbers, wanted: Sequence[Wanted], who: str, *, job: str, filling_up: bool = False
) -> list[RowEdit]:
    """Return the edits that put every line of ``wanted`` by, inside the transaction of ``numbers``.

    Raises:
        NotFreeError: fewer are free than are wanted.
        StoreError: another of its kinds.
    """
    stock = read_stock(numbers.connection)
    edits: list[RowEdit] = []
    for line in _joined(wanted):
        for place, quantity in _picked(stock, line, job if filling_up else ""):
            row = ReservationRow(numbers.reservation_id(), place.shelf_id, quantity, job, who, today())
            stock = replace(stock, reservations=(*stock.reservations, row))
            edits.append(RowEdit("reservations", None, row))
    return edits


def release(engine: Engine, reservation_ids: Sequence[str], act: Act) -> Saved:
    """Give what was put by free again; it stays where it lies.

    Raises:
        NotReservedError: a reservation is over already; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        stock = read_stock(numbers.connection)
        return [_ended(_open(stock, one)) for one in reservation_ids]

    return _save(engine, build, act)


def take_out(engine: Engine, reservation_ids: Sequence[str], act: Act) -> Saved:
    """Take what was put by out of its bins: the counts fall and the reservations end.

    Raises:
        NotReservedError: a reservation is over already; nothing was changed.
        FewerThereError: a bin holds fewer than were put by; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        stock = read_stock(numbers.connection)
        ended = [_open(stock, one) for one in reservation_ids]
        taken: dict[str, int] = {}
        for one in ended:
            taken[one.shelf_id] = taken.get(one.shelf_id, 0) + one.quantity
        places = [(_place(stock, shelf_id), pieces) for shelf_id, pieces in taken.items()]
        return [*(_ended(one) for one in ended), *(_lowered(place, pieces) for place, pieces in places)]

    return _save(engine, build, act)


def take_free(engine: Engine, shelf_id: str, pieces: int, act: Act) -> Saved:
    """Take ``pieces`` that are put by for nobody out of one place.

    Raises:
        NotFreeError: fewer are free; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        stock = read_stock(numbers.connection)
        place = _place(stock, shelf_id)
        if _sensible(pieces, lowest=1) > stock.free(place):
            raise _not_free(stock, [place], Wanted(pieces, shelf_id=shelf_id), "")
        return [_lowered(place, pieces)]

    return _save(engine, build, act)


def put_in(engine: Engine, shelf_id: str, pieces: int, act: Act) -> Saved:
    """Put ``pieces`` into one place: its count rises.

    Raises:
        StoreError: one of its kinds; nothing was changed.
    """
    return _change(engine, shelf_id, act, lambda one: _counting(one, one.count + _sensible(pieces, lowest=1)))


def count_again(engine: Engine, shelf_id: str, pieces: int, act: Act) -> Saved:
    """Write down that ``pieces`` were counted in one place today, also where fewer lie there than are put by.

    Raises:
        StoreError: one of its kinds; nothing was changed.
    """
    return _change(engine, shelf_id, act, lambda one: replace(_counting(one, pieces), counted_on=today()))


def move(engine: Engine, shelf_id: str, bin_label: str, act: Act) -> Saved:
    """Write down that all that lies in one place lies in bin ``bin_label`` from now on; what is put by goes with it.

    Raises:
        SamePartThereError: the same part lies in that bin already, at a place of its own; nothing was changed.
        StoreError: another of its kinds; nothing was changed.
    """

    def build(numbers: Numbers) -> list[RowEdit]:
        stock = read_stock(numbers.connection)
        place = _place(stock, shelf_id)
        for other in stock.places_of(place.part_id):
            if other.shelf_id != shelf_id and other.bin.casefold() == bin_label.casefold():
                raise SamePartThereError(bin_label=other.bin, there=other.count)
        return [RowEdit("shelf", place, replace(place, bin=bin_label))]

    return _save(engine, build, act)


def set_low_mark(engine: Engine, shelf_id: str, low_at: int | None, act: Act) -> Saved:
    """Mark one place as low from ``low_at`` pieces down; None takes the mark away.

    Raises:
        StoreError: one of its kinds; nothing was changed.
    """
    mark = None if low_at is None else _sensible(low_at)
    return _change(engine, shelf_id, act, lambda one: replace(one, low_at=mark))


def read_stock(connection: Connection) -> Stock:
    """Return the shelf inside a transaction, without what is withdrawn.

    Raises:
        DamagedStoreError: a row of it is damaged, so that nobody can say what is free.
    """
    return Stock(read_live(connection, SHELF), read_live(connection, RESERVATIONS))


def read_live(connection: Connection, table: CatalogTable[R]) -> tuple[R, ...]:
    """Return the rows of ``table`` inside a transaction, without what is withdrawn.

    Raises:
        DamagedStoreError: one of them is damaged.
    """
    found = read_verified(connection, table)
    if found.damaged:
        hit = f"row {spelled(found.damaged[0].key)} of {table.name} does not match its check sum"
        raise DamagedStoreError(place_of(connection.engine), hit)
    return tuple(as_row(table, values) for values in found.sound if values["withdrawn_on"] == "")


def _save(engine: Engine, build: Callable[[Numbers], Sequence[RowEdit]], act: Act) -> Saved:
    return save_edits(engine, build, name=act.name, who=act.who, why="at the shelf", save_id=act.save_id)


def _change(engine: Engine, shelf_id: str, act: Act, changed: Callable[[ShelfRow], ShelfRow]) -> Saved:
    def build(numbers: Numbers) -> list[RowEdit]:
        place = _place(read_stock(numbers.connection), shelf_id)
        return [RowEdit("shelf", place, changed(place))]

    return _save(engine, build, act)


def _joined(wanted: Sequence[Wanted]) -> Iterator[Wanted]:
    """Yield one line for each part or place, with all that is wanted of it."""
    joined: dict[tuple[str, str], Wanted] = {}
    for one in wanted:
        key = (one.part_id, one.shelf_id)
        earlier = joined[key].quantity if key in joined else 0
        joined[key] = replace(one, quantity=_sensible(one.quantity, lowest=1) + earlier)
    yield from joined.values()


def _picked(stock: Stock, line: Wanted, holder: str) -> Iterator[tuple[ShelfRow, int]]:
    """Yield from which places how many are put by: from one bin where one has enough, else the fullest first."""
    places = [_place(stock, line.shelf_id)] if line.shelf_id else list(stock.places_of(line.part_id))
    held = stock.held(holder, [one.shelf_id for one in places]) if holder else 0
    lacking = max(0, line.quantity - held)
    if lacking > sum(stock.free(one) for one in places):
        raise _not_free(stock, places, replace(line, quantity=lacking), holder)
    enough = sorted((one for one in places if stock.free(one) >= lacking), key=stock.free)
    for place in enough[:1] or sorted(places, key=stock.free, reverse=True):
        taken = min(lacking, stock.free(place))
        lacking -= taken
        if taken:
            yield place, taken


def _not_free(stock: Stock, places: Sequence[ShelfRow], line: Wanted, holder: str) -> NotFreeError:
    held = stock.open_at(*(one.shelf_id for one in places))
    return NotFreeError(
        what=line.what,
        bins=[one.bin for one in places],
        free=sum(stock.free(one) for one in places),
        wanted=line.quantity,
        held=[one for one in held if not holder or not same_job(one.job, holder)],
    )


def _place(stock: Stock, shelf_id: str) -> ShelfRow:
    found = stock.place(shelf_id)
    if found is None:
        raise NoPlaceError(shelf_id)
    return found


def _open(stock: Stock, reservation_id: str) -> ReservationRow:
    for one in stock.reservations:
        if one.reservation_id == reservation_id and not one.released_on:
            return one
    raise NotReservedError(reservation_id)


def _ended(row: ReservationRow) -> RowEdit:
    return RowEdit("reservations", row, replace(row, released_on=today()))


def _lowered(place: ShelfRow, pieces: int) -> RowEdit:
    if pieces > place.count:
        raise FewerThereError(bin_label=place.bin, count=place.count, wanted=pieces)
    return RowEdit("shelf", place, replace(place, count=place.count - pieces))


def _counting(place: ShelfRow, pieces: int) -> ShelfRow:
    return replace(place, count=_sensible(pieces))


def _sensible(pieces: int, *, lowest: int = 0) -> int:
    if not lowest <= pieces <= MOST_PIECES:
        raise OddCountError(pieces, lowest=lowest, highest=MOST_PIECES)
    return pieces
