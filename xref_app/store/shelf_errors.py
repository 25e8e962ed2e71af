"""What can go wrong at the shelf, one class per cause."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.model.catalog import ReservationRow
from xref_app.core.model.stock import spelled_job
from xref_app.store.errors import StoreError


class NotFreeError(StoreError):
    """Fewer pieces are free than are wanted; the sentence says who has the others."""

    def __init__(
        self, *, what: str, bins: Sequence[str], free: int, wanted: int, held: Sequence[ReservationRow]
    ) -> None:
        super().__init__(f"{_place(what, bins)} {free} free and {_pieces_are(wanted)} wanted; {_holders(held)}.")
        self.what = what
        self.bins = tuple(bins)
        self.free = free
        self.wanted = wanted
        self.held = tuple(held)


class NotReservedError(StoreError):
    """The reservation is over or was never made."""

    def __init__(self, reservation_id: str) -> None:
        super().__init__(
            f"Reservation {reservation_id} is no longer open; nothing was changed: look at the shelf again."
        )
        self.reservation_id = reservation_id


class FewerThereError(StoreError):
    """A reserved piece is to be taken out of a bin that holds fewer."""

    def __init__(self, *, bin_label: str, count: int, wanted: int) -> None:
        super().__init__(
            f"Bin {bin_label} holds {count} and {_pieces_are(wanted)} to be taken out; nothing was changed: count it "
            "again."
        )
        self.bin_label = bin_label
        self.count = count
        self.wanted = wanted


class NoPlaceError(StoreError):
    """The place of the shelf is not there."""

    def __init__(self, shelf_id: str) -> None:
        super().__init__(f"The shelf has no place {shelf_id}; nothing was changed: look at the shelf again.")
        self.shelf_id = shelf_id


class SamePartThereError(StoreError):
    """A part is to be moved into a bin in which it lies already."""

    def __init__(self, *, bin_label: str, there: int) -> None:
        super().__init__(
            f"Bin {bin_label} holds {there} of the same part already; nothing was changed: take them out here and put "
            "them in there."
        )
        self.bin_label = bin_label
        self.there = there


class OddCountError(StoreError):
    """A number of pieces that no bin can hold or give."""

    def __init__(self, count: int, *, lowest: int, highest: int) -> None:
        super().__init__(f"{count} is not a number of pieces from {lowest} to {highest}; type it again.")
        self.count = count


def _place(what: str, bins: Sequence[str]) -> str:
    if not bins:
        return f"{what or 'The part'} lies in no bin:"
    if len(bins) == 1:
        return f"Bin {bins[0]} has"
    return f"Bins {', '.join(bins[:-1])} and {bins[-1]} have"


def _holders(held: Sequence[ReservationRow]) -> str:
    """Return who has the others, or what to do where nobody has them."""
    pieces: dict[tuple[str, str], int] = {}
    for one in held:
        key = (spelled_job(one.job), one.reserved_by)
        pieces[key] = pieces.get(key, 0) + one.quantity
    if not pieces:
        return "nothing was changed: order the rest, or count the bin again"
    said = [f"for {job}{f' by {who}' if who else ''}" for job, who in pieces]
    numbers = [str(one) for one in pieces.values()]
    first = f"{_pieces_are(next(iter(pieces.values())))} reserved {said[0]}"
    return " and ".join([first, *(f"{number} {words}" for number, words in zip(numbers[1:], said[1:], strict=True))])


def _pieces_are(pieces: int) -> str:
    return f"{pieces} {'is' if pieces == 1 else 'are'}"
