"""The parts a shop has or can order, as plain values: their sizes are known or the part is not offered."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.model.words import Gender, PartKind


@dataclass(frozen=True, slots=True)
class PartEnd:
    """One end of a fitting."""

    thread: str
    gender: Gender
    seal_mm: float | None = None
    swivel: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One listed part. Which sizes are given depends on the kind; ``cost`` is in the shop's own money.

    ``thickness_mm`` spacer or shim; ``outside_mm``/``inside_mm`` sleeve; ``width_mm``/``height_mm`` key (in the
    shaft's keyseat) and ``hub_width_mm``/``hub_height_mm`` the pump's side of a stepped key, ``length_mm`` of any;
    ``thread`` bolt; ``ends``, ``rating_bar`` and ``max_c`` fitting; ``number`` nozzle. ``to_order`` marks a listed part
    that is not in a bin; ``count`` then is how many may be ordered. ``reserved`` of the ``count`` pieces are put by for
    the job in hand, in ``reserved_bin``. Of a part with few pieces free there is a second row to order, so that a job
    that needs more finds it: its ``lying`` pieces are free in ``bin`` and only the rest has to come.
    """

    kind: PartKind
    count: int = 0
    cost: float = 0.0
    part_id: str = ""
    name: str = ""
    bin: str = ""
    thickness_mm: float | None = None
    outside_mm: float | None = None
    inside_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    hub_width_mm: float | None = None
    hub_height_mm: float | None = None
    length_mm: float | None = None
    thread: str = ""
    ends: tuple[PartEnd, ...] = ()
    rating_bar: float | None = None
    max_c: float | None = None
    number: float | None = None
    bore_a_mm: float | None = None
    bore_b_mm: float | None = None
    torque_nm: float | None = None
    to_order: bool = False
    reserved: int = 0
    reserved_bin: str = ""
    lying: int = 0


Shelf = tuple[Part, ...]
