"""What can go wrong when salvaged units are put by, one class per cause."""

from __future__ import annotations

from xref_app.core.model.catalog import UnitReservationRow
from xref_app.core.model.stock import spelled_job
from xref_app.store.errors import StoreError


class UnitNotFreeError(StoreError):
    """The unit is put by already; the sentence says for which job and by whom."""

    def __init__(self, held: UnitReservationRow) -> None:
        by = f" by {held.reserved_by}" if held.reserved_by else ""
        super().__init__(
            f"Unit {held.unit_id} is reserved for {spelled_job(held.job)}{by}; nothing was changed: take another pair."
        )
        self.held = held


class NoUnitError(StoreError):
    """The unit is not there."""

    def __init__(self, unit_id: str) -> None:
        super().__init__(f"There is no salvaged unit {unit_id}; nothing was changed: pair up again.")
        self.unit_id = unit_id


class UnitChangedError(StoreError):
    """The unit is not as it was looked at: another condition, another price, another entry."""

    def __init__(self, unit_id: str) -> None:
        super().__init__(f"Unit {unit_id} was changed since the pairs were judged; nothing was changed: pair up again.")
        self.unit_id = unit_id


class UnitNotReservedError(StoreError):
    """The unit is not put by."""

    def __init__(self, unit_id: str) -> None:
        super().__init__(f"Unit {unit_id} is not reserved; nothing was changed: pair up again.")
        self.unit_id = unit_id
