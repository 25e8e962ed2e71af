"""One possible truth of a case: every doubt replaced by one number."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple


class Hole(NamedTuple):
    """A hole's centre, mm; a slot is the segment of centres of this length about it."""

    x: float
    y: float
    slot_mm: float = 0.0
    slot_deg: float = 0.0


@dataclass
class Realisation:
    """Exact numbers by field id (see fields.py); None or a missing id is 'ignored on purpose'.

    ``key_height_mm`` is the table's where the shaft is a standard pair. ``flat`` heights are empty.
    ``under_mm`` is what lies under the bolt of each of the machine's holes, ``new_bolts_mm`` the length of a new bolt.
    """

    sizes: dict[str, float] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    flags: dict[str, bool] = field(default_factory=dict)
    holes: dict[str, tuple[Hole, ...]] = field(default_factory=dict)
    seats: dict[str, tuple[float, ...]] = field(default_factory=dict)
    sectors: tuple[tuple[float, float], ...] | None = None
    key_height_mm: float | None = None
    washer_mm: float = 1.6
    nut_per_diameter: float = 0.875
    under_mm: dict[int, float] = field(default_factory=dict)
    new_bolts_mm: dict[int, float] = field(default_factory=dict)
