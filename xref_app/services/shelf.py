"""The shop at its shelf: the list as it stands, and every act on it by name; each may be undone like a save."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Need
from xref_app.core.fit.from_shelf import pieces_from_shelf
from xref_app.core.model.stock import spelled_job
from xref_app.services.catalog import Catalog
from xref_app.services.shelf_lines import ShelfLine, shelf_lines
from xref_app.store import shelf_acts
from xref_app.store.engine import Store
from xref_app.store.shelf_acts import Act, Wanted

# As data_schema says of a reservation's job.
LONGEST_JOB = 60
# As data_schema says of a bin.
LONGEST_BIN = 20


class ShelfInputError(XrefError):
    """What was typed at the shelf cannot be used; one sentence says why."""


@dataclass(frozen=True, slots=True)
class PutBy:
    """What reserving the needs of a verdict did: what is put by for ``job`` now, and what has to be ordered.

    ``put_by`` and ``to_order`` are pieces and name. ``name`` is the act's; empty where all of it was put by before.
    """

    job: str
    name: str
    put_by: tuple[tuple[int, str], ...]
    to_order: tuple[tuple[int, str], ...]


class ShopShelf:
    """Acts on the shelf of one store and reads it anew after each; every method may be called in any thread."""

    def __init__(self, store: Store, restock: Callable[[], Catalog]) -> None:
        """Make it; ``restock`` reads the shelf anew and returns the catalog that has it."""
        self._store = store
        self._restock = restock

    def lines(self) -> tuple[ShelfLine, ...]:
        """Return every place of the shelf as it stands in the store now."""
        return shelf_lines(self._restock())

    def last_job(self) -> str:
        """Return the job for which something was put by last; empty where nothing ever was."""
        made = self._restock().reservations
        return max(made, key=lambda one: (one.reserved_on, one.reservation_id)).job if made else ""

    def reserve(self, line: ShelfLine, pieces: int, job: str, who: str) -> str:
        """Put pieces of one place by for a job and return the act's name."""
        job = read_job(job)
        wanted = Wanted(pieces, shelf_id=line.place.shelf_id, what=line.name)
        act = named_act(f"reserve {pieces} x {line.name} for {spelled_job(job)}", who)
        return self._done(act, lambda: shelf_acts.reserve(self._store, (wanted,), act, job=job))

    def reserve_needs(self, needs: Sequence[Need], job: str, who: str) -> PutBy:
        """Put everything a verdict needs that lies on the shelf by for a job, all of it or nothing.

        What the job holds already counts, so asking twice puts nothing by twice.
        """
        job = read_job(job)
        lying = list(zip(needs, pieces_from_shelf(needs), strict=True))
        order = tuple((need.quantity - pieces, _named(need)) for need, pieces in lying if need.quantity > pieces)
        wanted = [
            Wanted(pieces, need.listed.part_id, what=need.listed.name)
            for need, pieces in lying
            if need.listed and pieces
        ]
        put_by = tuple((one.quantity, one.what) for one in wanted)
        if not wanted:
            return PutBy(job, "", (), order)
        rest = f" and {len(wanted) - 1} more" if len(wanted) > 1 else ""
        act = named_act(f"reserve {wanted[0].quantity} x {wanted[0].what}{rest} for {spelled_job(job)}", who)
        saved = shelf_acts.reserve(self._store, wanted, act, job=job, filling_up=True)
        self._restock()
        return PutBy(job, act.name if saved.serial else "", put_by, order)

    def release(self, line: ShelfLine, reservation_ids: Sequence[str], who: str) -> str:
        """Give reservations of one place free again and return the act's name."""
        act = named_act(f"release {_pieces(line, reservation_ids)}", who)
        return self._done(act, lambda: shelf_acts.release(self._store, reservation_ids, act))

    def take_out(self, line: ShelfLine, reservation_ids: Sequence[str], who: str) -> str:
        """Take reserved pieces out of their bin and return the act's name."""
        act = named_act(f"take out {_pieces(line, reservation_ids)}", who)
        return self._done(act, lambda: shelf_acts.take_out(self._store, reservation_ids, act))

    def take_free(self, line: ShelfLine, pieces: int, who: str) -> str:
        """Take free pieces out of one place and return the act's name."""
        act = named_act(f"take out {pieces} x {line.name}", who)
        return self._done(act, lambda: shelf_acts.take_free(self._store, line.place.shelf_id, pieces, act))

    def put_in(self, line: ShelfLine, pieces: int, who: str) -> str:
        """Put pieces into one place and return the act's name."""
        act = named_act(f"put {pieces} x {line.name} into bin {line.place.bin}", who)
        return self._done(act, lambda: shelf_acts.put_in(self._store, line.place.shelf_id, pieces, act))

    def count_again(self, line: ShelfLine, pieces: int, who: str) -> str:
        """Write down what was counted in one place today and return the act's name."""
        act = named_act(f"count {pieces} x {line.name}, bin {line.place.bin}", who)
        return self._done(act, lambda: shelf_acts.count_again(self._store, line.place.shelf_id, pieces, act))

    def set_low_mark(self, line: ShelfLine, low_at: int | None, who: str) -> str:
        """Mark one place as low from so many pieces down, or take the mark away, and return the act's name."""
        mark = "take the low mark off" if low_at is None else f"low mark at {low_at} for"
        act = named_act(f"{mark} {line.name}, bin {line.place.bin}", who)
        return self._done(act, lambda: shelf_acts.set_low_mark(self._store, line.place.shelf_id, low_at, act))

    def move(self, line: ShelfLine, bin_label: str, who: str) -> str:
        """Write down that one place lies in another bin from now on and return the act's name."""
        label = read_bin(bin_label)
        if label == line.place.bin:
            raise ShelfInputError(f"It lies in bin {label} already; type another bin.")
        act = named_act(f"move {line.name} from bin {line.place.bin} to bin {label}", who)
        return self._done(act, lambda: shelf_acts.move(self._store, line.place.shelf_id, label, act))

    def _done(self, act: Act, save: Callable[[], object]) -> str:
        save()
        self._restock()
        return act.name


def read_job(text: str) -> str:
    """Return a job's reference as it is kept, blanks tidied.

    Raises:
        ShelfInputError: there is none, or it is longer than the record holds.
    """
    return _tidied(text, LONGEST_JOB, "Say which job it is for: a number or a name.", "job's name")


def read_bin(text: str) -> str:
    """Return a bin's label as it is kept, blanks tidied.

    Raises:
        ShelfInputError: there is none, or it is longer than the record holds.
    """
    return _tidied(text, LONGEST_BIN, "Say which bin: the label that stands on it.", "bin's label")


def _tidied(text: str, longest: int, ask: str, what: str) -> str:
    tidied = " ".join(text.split())
    if not tidied:
        raise ShelfInputError(ask)
    if len(tidied) > longest:
        raise ShelfInputError(f"The {what} is longer than {longest} characters; shorten it.")
    return tidied


def read_pieces(text: str) -> int:
    """Return a typed number of pieces.

    Raises:
        ShelfInputError: it is no whole number.
    """
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and len(plain) <= 6):
        raise ShelfInputError(f"“{plain[:20]}” is not a number of pieces; type a whole number such as 4.")
    return int(plain)


def named_act(name: str, who: str) -> Act:
    """Return an act with an id of its own.

    Raises:
        ShelfInputError: nobody says who does it.
    """
    if not who.strip():
        raise ShelfInputError("Say who you are first.")
    return Act(name, who.strip(), uuid.uuid4().hex)


def _pieces(line: ShelfLine, reservation_ids: Sequence[str]) -> str:
    meant = [one for one in line.held if one.reservation_id in reservation_ids]
    jobs = " and ".join(dict.fromkeys(spelled_job(one.job) for one in meant))
    return f"{sum(one.quantity for one in meant)} x {line.name} for {jobs}"


def _named(need: Need) -> str:
    return need.listed.name if need.listed and need.listed.name else str(need.what)
