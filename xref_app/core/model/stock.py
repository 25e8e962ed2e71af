"""What of the shelf is free: the pieces that lie in each bin, less those that are put by for a job."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from xref_app.core.model.catalog import ReservationRow, ShelfRow


def same_job(one: str, other: str) -> bool:
    """Say whether two references mean the same job: blanks, capitals and the word "job" before it do not matter."""
    return spelled_job(one).casefold() == spelled_job(other).casefold()


def spelled_job(job: str) -> str:
    """Return a job's reference for a sentence: ``118`` reads "job 118", ``Job 118`` stays."""
    plain = " ".join(job.split())
    return plain if plain.casefold().startswith("job ") else f"job {plain}"


@dataclass(frozen=True)
class Stock:
    """The bins and the reservations of one moment, both without what is withdrawn."""

    bins: tuple[ShelfRow, ...] = ()
    reservations: tuple[ReservationRow, ...] = ()

    def place(self, shelf_id: str) -> ShelfRow | None:
        """Return one place of the shelf."""
        return next((one for one in self.bins if one.shelf_id == shelf_id), None)

    def places_of(self, part_id: str) -> tuple[ShelfRow, ...]:
        """Return where a part lies, by bin."""
        found = [one for one in self.bins if part_id and one.part_id == part_id]
        return tuple(sorted(found, key=lambda one: (one.bin, one.shelf_id)))

    def open_at(self, *shelf_ids: str) -> tuple[ReservationRow, ...]:
        """Return what is put by at these places, the oldest first."""
        found = [one for shelf_id in set(shelf_ids) for one in self._open.get(shelf_id, ())]
        return tuple(sorted(found, key=lambda one: (one.reserved_on, one.reservation_id)))

    @cached_property
    def _open(self) -> Mapping[str, Sequence[ReservationRow]]:
        """What is still put by, by place: the released ones of all years are gone through once only."""
        found: dict[str, list[ReservationRow]] = {}
        for one in self.reservations:
            if not one.released_on:
                found.setdefault(one.shelf_id, []).append(one)
        return found

    def reserved(self, *shelf_ids: str) -> int:
        """Return how many pieces are put by at these places, for whichever job."""
        return sum(one.quantity for one in self.open_at(*shelf_ids))

    def held(self, job: str, shelf_ids: Collection[str]) -> int:
        """Return how many pieces are put by at these places for ``job``, and lie there."""
        return sum(self._held_at(job, place) for place in self.bins if place.shelf_id in shelf_ids)

    def _held_at(self, job: str, place: ShelfRow) -> int:
        mine = sum(one.quantity for one in self.open_at(place.shelf_id) if same_job(one.job, job))
        return min(mine, place.count)

    def free(self, place: ShelfRow, *, job: str = "") -> int:
        """Return how many pieces of a place may be used: the count less what others have put by, never below 0.

        What is put by for ``job`` stays usable by it; without a job every reservation counts.
        """
        others = [one for one in self.open_at(place.shelf_id) if not job or not same_job(one.job, job)]
        return max(0, place.count - sum(one.quantity for one in others))


def is_low(place: ShelfRow) -> bool:
    """Say whether a bin is to be filled up: no more pieces than its mark."""
    return place.low_at is not None and place.count <= place.low_at
