"""Which column of a supplier's list is what: a plain value that a person corrects and that is kept per supplier."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from xref_app.core.fields.fields import Field, Kind, Side, all_fields
from xref_app.core.quantity.quantities import FIELD_UNITS
from xref_app.core.quantity.units import UNITS, Unit
from xref_app.core.quantity.units import Kind as Quantity
from xref_app.services import supplier_words as words
from xref_app.services.shop_entry import is_of_driver
from xref_app.services.supplier_decimals import Decimals

OTHER_TITLES: Final[Mapping[str, str]] = {
    words.NUMBER: "Number",
    words.MAKER: "Maker",
    words.NAME: "Name",
    words.NOTE: "Note",
    words.REPLACES: "Replaces the number",
    words.REPLACED_BY: "Replaced by the number",
    words.BOLT_CIRCLE: "Bolt circle, holes evenly spaced",
    words.HOLE_COUNT: "Number of bolt holes",
}
_OF_PUMPS_ONLY: Final = frozenset({words.BOLT_CIRCLE, words.HOLE_COUNT})
_LENGTH_KINDS: Final = frozenset({Kind.HOLES, Kind.HEIGHTS})


class SheetKind(StrEnum):
    """What a list lists. Whether an engine burns petrol decides much, so it is never guessed."""

    PUMPS = "pumps"
    ENGINES = "petrol engines"
    MOTORS = "electric motors"

    @property
    def is_of_pumps(self) -> bool:
        """Say whether the entries are pumps; else they are drivers."""
        return self is SheetKind.PUMPS


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its place (from 0), what stands above it, what it is, and the unit of its bare numbers.

    ``target`` is a field of data_schema or one of ``OTHER_TITLES``, empty for a column that is left out; ``unit`` the
    symbol of a unit, empty where it is not known.
    """

    place: int
    heading: str
    target: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """What the columns of one sheet are.

    ``headings_from`` and ``rows_from`` are rows, from 0: the headings stand from the one up to the other, the list
    begins at the other. Both are 0 where there are no headings. ``is_said``: a person said these rows. ``decimals`` is
    what a person said to stand before the decimals of the whole list; untold: as it seems.
    """

    kind: SheetKind
    headings_from: int
    rows_from: int
    columns: tuple[Column, ...]
    is_said: bool = False
    decimals: Decimals = Decimals.UNTOLD

    def with_column(self, place: int, *, target: str, unit: str = "") -> ColumnMap:
        """Return the map with one column corrected; what is said of it before at another column is taken away there.

        Raises:
            ValueError: there is no such column, target or unit.
        """
        if target and target not in targets_of(self.kind):
            raise ValueError(f"{target} is nothing that a list of {self.kind} tells")
        if unit and unit not in {one.symbol for one in units_of(target)}:
            raise ValueError(f"{unit} is no unit of {target}")
        if place not in {one.place for one in self.columns}:
            raise ValueError(f"there is no column {place}")
        return replace(self, columns=tuple(self._corrected(one, place, target, unit) for one in self.columns))

    @staticmethod
    def _corrected(column: Column, place: int, target: str, unit: str) -> Column:
        if column.place == place:
            return replace(column, target=target, unit=unit)
        return replace(column, target="", unit="") if target and column.target == target else column

    def at(self, target: str) -> Column | None:
        """Return the column that holds ``target``, or None."""
        return next((one for one in self.columns if one.target == target), None)


def targets_of(kind: SheetKind) -> Mapping[str, str]:
    """Return everything a column of such a list can be, with its title, in the order to offer it in."""
    others = {name: title for name, title in OTHER_TITLES.items() if kind.is_of_pumps or name not in _OF_PUMPS_ONLY}
    return {**others, **{one.field_id: one.title for one in fields_of_kind(kind)}}


def fields_of_kind(kind: SheetKind) -> tuple[Field, ...]:
    """Return the sizes that such a list can tell; what drives a motor is said once for all of them."""
    side = Side.PUMP if kind.is_of_pumps else Side.MACHINE
    fields = [one for one in all_fields().values() if one.side is side and one.field_id != "power_kind"]
    return tuple(one for one in fields if kind.is_of_pumps or is_of_driver(one))


def quantity_of(target: str) -> Quantity | None:
    """Return what a column of ``target`` measures; None for words, threads and the like."""
    if target == words.BOLT_CIRCLE:
        return Quantity.LENGTH
    field = all_fields().get(target)
    if field is None:
        return None
    if field.kind in _LENGTH_KINDS:
        return Quantity.LENGTH
    return FIELD_UNITS[field.unit].kind if field.kind is Kind.NUMBER else None


def units_of(target: str) -> tuple[Unit, ...]:
    """Return the units that the bare numbers of a column may stand in; empty where none is needed."""
    quantity = quantity_of(target)
    return tuple(one for one in UNITS if quantity is not None and one.kind is quantity and one.symbol)
