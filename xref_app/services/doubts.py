"""Sizes in doubt: a pump said to fit did not go on, so what was read of the sizes blamed for it counts no more."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from xref_app.core.model.catalog import BlamedSize, Observation, PortRow
from xref_app.core.model.known import Known
from xref_app.core.model.observed import PORT_VALUES, values_by_field

# Who looked again has measured, or read it off the unit: what somebody else writes settles no doubt. House rule.
_LOOKED_AGAIN: Final = frozenset({"measured", "plate"})

# What stands in a port's row where nothing is said, by the ending of the field.
_UNSAID: Final[Mapping[str, object]] = {"thread": "", "gender": "", "seal_mm": None, "direction_deg": None}


@dataclass(frozen=True, slots=True)
class Doubt:
    """A size that nobody has looked at again since it was blamed; ``readings`` and ``ports`` do not count meanwhile."""

    blamed: BlamedSize
    readings: tuple[Observation, ...] = ()
    ports: tuple[PortRow, ...] = ()

    @property
    def was(self) -> tuple[Known, ...]:
        """Return what the size was thought to be: nothing, one value, or several that contradict."""
        return values_by_field(self.readings, self.ports).get(self.blamed.field, ())


@dataclass(frozen=True, slots=True)
class Counted:
    """The rows of one entry that count, and the doubts that keep others from counting."""

    observations: tuple[Observation, ...]
    ports: tuple[PortRow, ...]
    doubts: tuple[Doubt, ...] = ()


def doubting(blamed: Iterable[BlamedSize]) -> Mapping[str, tuple[BlamedSize, ...]]:
    """Return what raises a doubt, by entry: where the verdict had not said that it fits, nothing is in doubt."""
    found: dict[str, list[BlamedSize]] = {}
    for one in blamed:
        if one.doubts_up_to:
            found.setdefault(one.entry_id, []).append(one)
    return {entry_id: tuple(rows) for entry_id, rows in found.items()}


def counted(observations: Sequence[Observation], ports: Sequence[PortRow], blamed: Sequence[BlamedSize]) -> Counted:
    """Return what counts of one entry's rows.

    A doubt holds until a reading is there that is younger than it, by its number and not by its date, and that was
    measured or read off the unit. Then all readings count again, old and new: where they contradict, that is told like
    any contradiction, and where they agree, the size was not what was wrong.

    Args:
        observations: The entry's readings.
        ports: The rows of its water ports; each is older than any doubt, for it has no number.
        blamed: Its blamed sizes.
    """
    held = [one for one in blamed if not any(_is_new_look(row, one) for row in observations)]
    if not held:
        return Counted(tuple(observations), tuple(ports))
    fields = {one.field for one in held}
    doubts = tuple(
        Doubt(
            one,
            tuple(row for row in observations if row.field == one.field),
            tuple(row for row in ports if _says(row, one.field)),
        )
        for one in held
    )
    kept = tuple(row for row in observations if row.field not in fields)
    return Counted(kept, tuple(_without(row, fields) for row in ports), doubts)


def counted_rows(
    observations: Mapping[str, Sequence[Observation]],
    ports: Mapping[str, Sequence[PortRow]],
    blamed: Iterable[BlamedSize],
) -> Mapping[str, Counted]:
    """Return what counts of the entries that have blamed sizes; of all others every row does."""
    by_entry = doubting(blamed).items()
    return {one: counted(observations.get(one, ()), ports.get(one, ()), sizes) for one, sizes in by_entry}


def doubts_of(rows: Mapping[str, Counted]) -> Mapping[str, tuple[Doubt, ...]]:
    """Return the doubts by entry, of those that have any."""
    return {entry_id: one.doubts for entry_id, one in rows.items() if one.doubts}


def _is_new_look(row: Observation, blamed: BlamedSize) -> bool:
    is_of_it = row.field == blamed.field and row.observation_id > blamed.doubts_up_to
    return is_of_it and row.how in _LOOKED_AGAIN and not _is_blank(row)


def _is_blank(row: Observation) -> bool:
    return row.value is None and row.text == ""


def _says(row: PortRow, field: str) -> bool:
    return any(f"{row.port}_{ending}" == field and getattr(row, ending) not in ("", None) for ending in PORT_VALUES)


def _without(row: PortRow, fields: Iterable[str]) -> PortRow:
    """Return a port's row that says nothing of ``fields``."""
    unsaid: dict[str, Any] = {ending: blank for ending, blank in _UNSAID.items() if f"{row.port}_{ending}" in fields}
    return replace(row, **unsaid) if unsaid else row
