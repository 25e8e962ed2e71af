"""Numbers of what the shop adds itself: apart from those of any package, and never given twice."""

from __future__ import annotations

import re
from typing import Final

from sqlalchemy import Column, Connection, Select, func, select

from xref_app.store.tables import BLAMED_SIZES, ENTRIES, OBSERVATIONS, OUTCOMES, RESERVATIONS, UNIT_RESERVATIONS

# House rule: what the shop adds itself is numbered from here on, so that no later package can take its numbers.
OWN_OBSERVATIONS_FROM: Final = 1_000_000_000

# House rule: the ids of the shop's own entries begin with this; a package may bring such ids but never alter ours.
OWN_ENTRIES: Final = "OWN-"

_OWN: Final = re.compile(r"OWN-(\d{4,12})")
_OWN_RESERVATION: Final = re.compile(r"OWN-R(\d{4,12})")
_OWN_UNIT_RESERVATION: Final = re.compile(r"OWN-U(\d{4,12})")
_OWN_OUTCOME: Final = re.compile(r"OWN-O(\d{4,12})")
_OWN_BLAMED: Final = re.compile(r"OWN-B(\d{4,12})")


def is_own_entry(entry_id: str) -> bool:
    """Say whether ``entry_id`` is of the kind that the shop gives to its own entries."""
    return entry_id.startswith(OWN_ENTRIES)


class Numbers:
    """Gives the next free numbers inside one transaction; nobody else can be given the same meanwhile."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._last_entry: int | None = None
        self._last_observation: int | None = None
        self._last_reservation: int | None = None
        self._last_unit_reservation: int | None = None
        self._last_outcome: int | None = None
        self._last_blamed: int | None = None

    @property
    def connection(self) -> Connection:
        """Return the connection of the transaction, for what must hold at the moment of writing."""
        return self._connection

    def entry_id(self) -> str:
        """Return the next free id of an own entry, ``OWN-0001`` on; also withdrawn entries keep theirs."""
        if self._last_entry is None:
            self._last_entry = self._highest(_OWN_ENTRIES, _OWN)
        self._last_entry += 1
        return f"{OWN_ENTRIES}{self._last_entry:04}"

    def observation_id(self) -> int:
        """Return the next free number of an own observation."""
        if self._last_observation is None:
            self._last_observation = max(self.last_observation_id(), OWN_OBSERVATIONS_FROM - 1)
        self._last_observation += 1
        return self._last_observation

    def last_observation_id(self) -> int:
        """Return the highest number of an observation that there is; 0 where there is none."""
        return self._connection.scalar(_HIGHEST_OBSERVATION) or 0

    def reservation_id(self) -> str:
        """Return the next free id of a reservation, ``OWN-R0001`` on."""
        if self._last_reservation is None:
            self._last_reservation = self._highest(_OWN_RESERVATIONS, _OWN_RESERVATION)
        self._last_reservation += 1
        return f"{OWN_ENTRIES}R{self._last_reservation:04}"

    def unit_reservation_id(self) -> str:
        """Return the next free id of a reservation of a salvaged unit, ``OWN-U0001`` on."""
        if self._last_unit_reservation is None:
            self._last_unit_reservation = self._highest(_OWN_UNIT_RESERVATIONS, _OWN_UNIT_RESERVATION)
        self._last_unit_reservation += 1
        return f"{OWN_ENTRIES}U{self._last_unit_reservation:04}"

    def outcome_id(self) -> str:
        """Return the next free id of an outcome, ``OWN-O0001`` on."""
        if self._last_outcome is None:
            self._last_outcome = self._highest(_OWN_OUTCOMES, _OWN_OUTCOME)
        self._last_outcome += 1
        return f"{OWN_ENTRIES}O{self._last_outcome:04}"

    def blamed_id(self) -> str:
        """Return the next free id of a size that is blamed, ``OWN-B0001`` on."""
        if self._last_blamed is None:
            self._last_blamed = self._highest(_OWN_BLAMED_SIZES, _OWN_BLAMED)
        self._last_blamed += 1
        return f"{OWN_ENTRIES}B{self._last_blamed:04}"

    def _highest(self, query: Select[str], pattern: re.Pattern[str]) -> int:
        found = (pattern.fullmatch(str(one)) for one in self._connection.scalars(query).all())
        return next((int(one[1]) for one in found if one), 0)


_HIGHEST_OBSERVATION: Final = select(func.max(OBSERVATIONS.table.c.observation_id))


def _highest_first(column: Column[str]) -> Select[str]:
    """Return the query of the shop's own ids in ``column``, the highest first: the longest are."""
    own = select(column).where(column.like(f"{OWN_ENTRIES}%"))
    return own.order_by(func.length(column).desc(), column.desc())


_OWN_ENTRIES: Final = _highest_first(ENTRIES.table.c.entry_id)
_OWN_RESERVATIONS: Final = _highest_first(RESERVATIONS.table.c.reservation_id)
_OWN_UNIT_RESERVATIONS: Final = _highest_first(UNIT_RESERVATIONS.table.c.reservation_id)
_OWN_OUTCOMES: Final = _highest_first(OUTCOMES.table.c.outcome_id)
_OWN_BLAMED_SIZES: Final = _highest_first(BLAMED_SIZES.table.c.blamed_id)
