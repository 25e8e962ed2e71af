"""What the records say that a part, a pump or a used unit costs, of which day, and where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from xref_app.core.economics.lines import Origin
from xref_app.core.model.catalog import SalvagedUnit, ShelfRow
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog

IN_BIN = marked("findings", "price in bin {bin}, as counted")
IN_PARTS_LIST = marked("findings", "parts list")
IN_USED_LIST = marked("findings", "used unit {unit}")
NOT_IN_RECORDS = marked("findings", "not in the records")

_CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class RecordedPrice:
    """A price as the records have it, ready for a field; ``text`` is empty where they have none."""

    text: str
    origin: Origin


NO_PRICE = RecordedPrice("", Origin(None, Sentence(NOT_IN_RECORDS)))


def part_price(catalog: Catalog, part_id: str) -> RecordedPrice:
    """Return the price of one piece: the highest in a bin, as the verdict counts it, else that of the parts list.

    The parts list has no days, so a price of it is of no known day. A price that nobody wrote down is not zero.
    """
    in_bin = _in_bins(catalog.stock.places_of(part_id))
    if in_bin is not None:
        return in_bin
    row = next((one for one in catalog.parts if one.part_id == part_id), None)
    if row is None or row.cost is None:
        return NO_PRICE
    return RecordedPrice(_money_text(row.cost), Origin(None, Sentence(IN_PARTS_LIST)))


def pump_price(catalog: Catalog, entry_id: str) -> RecordedPrice:
    """Return what a whole pump of this entry costs off the shelf."""
    return _in_bins([one for one in catalog.stock.bins if entry_id and one.entry_id == entry_id]) or NO_PRICE


def used_price(unit: SalvagedUnit) -> RecordedPrice:
    """Return what a used unit is to bring; the record does not say since when."""
    if unit.price is None:
        return NO_PRICE
    return RecordedPrice(_money_text(unit.price), Origin(None, Sentence(IN_USED_LIST, {"unit": unit.unit_id})))


def day_or_none(iso: str) -> date | None:
    """Return the day of an ISO text; None where there is none, or none that the calendar has."""
    with suppress(ValueError):
        return date.fromisoformat(iso)
    return None


def _in_bins(places: Sequence[ShelfRow]) -> RecordedPrice | None:
    priced = [(one.price, one) for one in places if one.price is not None]
    if not priced:
        return None
    price, place = max(priced, key=lambda one: (one[0], one[1].counted_on))
    return RecordedPrice(
        _money_text(price), Origin(day_or_none(place.counted_on), Sentence(IN_BIN, {"bin": place.bin}))
    )


def _money_text(price: float) -> str:
    return f"{Decimal(str(price)).quantize(_CENT)}"
