"""The listed parts as the planner sees them: what is free in the bins, and what can be ordered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from xref_app.core.model.catalog import PartRow, ShelfRow
from xref_app.core.model.shelf import Part, PartEnd, Shelf
from xref_app.core.model.stock import Stock
from xref_app.core.model.words import Gender, PartKind

# A listed part that lies in no bin can be ordered; no job takes more pieces of one part than this (house rule).
ORDERED_PIECES = 24

# Of these a job may need several of one row; where fewer are free, more can be ordered: a piece or two under each bolt,
# a few in the chains of both ports (house rule).
MOST_OF_ONE_PART: Mapping[PartKind, int] = {
    PartKind.BOLT: 12,
    PartKind.SPACER: 12,
    PartKind.SHIM: 12,
    PartKind.FITTING: 4,
}


def shelf_of(parts: Sequence[PartRow], stock: Stock, job: str) -> Shelf:
    """Return every listed part: those free in a bin first, the others marked as to order.

    Only what is free counts, and what is put by for ``job``; the free pieces of several bins add up. A part of which a
    job may need more than are free stands there twice, in a bin and to order.
    """
    in_bins: dict[str, list[ShelfRow]] = {}
    for row in stock.bins:
        if row.part_id and stock.free(row, job=job) > 0:
            in_bins.setdefault(row.part_id, []).append(row)
    found = [_part(row, _lying(in_bins.get(row.part_id, []), stock, job)) for row in parts]
    found += [_more_of(part) for part in found if _may_run_short(part)]
    return tuple(sorted(found, key=lambda part: (part.to_order, part.cost)))


def _lying(places: Sequence[ShelfRow], stock: Stock, job: str) -> _Lying | None:
    if not places:
        return None
    prices = [one.price for one in places if one.price is not None]
    holding = [one for one in places if job and stock.held(job, (one.shelf_id,))]
    return _Lying(
        count=sum(stock.free(one, job=job) for one in places),
        bin=_bins(places),
        price=max(prices, default=None),
        reserved=stock.held(job, [one.shelf_id for one in holding]),
        reserved_bin=_bins(holding),
    )


@dataclass(frozen=True, slots=True)
class _Lying:
    """What is free of one part in all its bins; of several prices the highest counts (house rule)."""

    count: int
    bin: str
    price: float | None
    reserved: int
    reserved_bin: str


def _bins(places: Sequence[ShelfRow]) -> str:
    return ", ".join(sorted({one.bin for one in places}))


def _part(row: PartRow, in_bin: _Lying | None) -> Part:
    return Part(
        kind=PartKind(row.kind),
        count=in_bin.count if in_bin else ORDERED_PIECES,
        cost=_cost(row, in_bin),
        part_id=row.part_id,
        name=row.name,
        bin=in_bin.bin if in_bin else "",
        thickness_mm=row.thickness_mm,
        outside_mm=row.outside_mm,
        inside_mm=row.inside_mm,
        width_mm=row.width_mm,
        height_mm=row.height_mm,
        hub_width_mm=row.hub_width_mm,
        hub_height_mm=row.hub_height_mm,
        length_mm=row.length_mm,
        thread=row.thread,
        ends=_ends(row),
        rating_bar=row.rating_bar,
        max_c=row.max_c,
        number=row.number,
        bore_a_mm=row.bore_a_mm,
        bore_b_mm=row.bore_b_mm,
        torque_nm=row.torque_nm,
        to_order=in_bin is None,
        reserved=in_bin.reserved if in_bin else 0,
        reserved_bin=in_bin.reserved_bin if in_bin else "",
    )


def _may_run_short(part: Part) -> bool:
    return not part.to_order and part.count < MOST_OF_ONE_PART.get(part.kind, 0)


def _more_of(part: Part) -> Part:
    """Return the row to order of a part with few pieces free."""
    return replace(part, count=ORDERED_PIECES, to_order=True, lying=part.count)


def _cost(row: PartRow, in_bin: _Lying | None) -> float:
    price = in_bin.price if in_bin is not None and in_bin.price is not None else row.cost
    return price or 0.0


def _ends(row: PartRow) -> tuple[PartEnd, ...]:
    given = (
        (row.end_1_thread, row.end_1_gender, row.end_1_seal_mm, row.end_1_swivel),
        (row.end_2_thread, row.end_2_gender, row.end_2_seal_mm, row.end_2_swivel),
        (row.end_3_thread, row.end_3_gender, row.end_3_seal_mm, row.end_3_swivel),
    )
    return tuple(
        PartEnd(thread, Gender(gender), seal, swivel=swivel is True) for thread, gender, seal, swivel in given if thread
    )
