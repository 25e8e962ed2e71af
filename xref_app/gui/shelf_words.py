"""How the shelf is told: counts, who has what for which job, dates and money."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QDate, QLocale, Qt

from xref_app.core.model.catalog import ReservationRow
from xref_app.core.model.stock import spelled_job
from xref_app.core.sentence import marked
from xref_app.services.shelf_lines import ShelfLine

FREE = marked("shelf", "{free} free")
THERE = marked("shelf", "{count} there")
THERE_RESERVED = marked("shelf", "{count} there, {reserved} reserved")
LOW = marked("shelf", "low")
LOW_AT = marked("shelf", "low at {mark}")
NO_MARK = marked("shelf", "no low mark")
SHORT = marked("shelf", "too few")
COUNTED = marked("shelf", "counted {date}")
NEVER_COUNTED = marked("shelf", "never counted")
HELD = marked("shelf", "{pieces} for {job}")
BY = marked("shelf", "{who}, since {date}")
SINCE = marked("shelf", "since {date}")


def said(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("shelf", template)).format(**values)


def day_text(iso: str) -> str:
    """Return an ISO date as the platform writes it, empty for none."""
    day = QDate.fromString(iso, Qt.DateFormat.ISODate)
    return QLocale().toString(day, "d MMM yyyy") if day.isValid() else iso


def free_text(line: ShelfLine) -> str:
    """Return how many are free."""
    return said(FREE, free=line.free)


def there_text(line: ShelfLine) -> str:
    """Return how many lie there, and how many of them are put by."""
    if line.reserved:
        return said(THERE_RESERVED, count=line.place.count, reserved=line.reserved)
    return said(THERE, count=line.place.count)


def warning_text(line: ShelfLine) -> str:
    """Return the one word of warning: fewer lie there than are put by, or few; empty for neither."""
    if line.is_short:
        return said(SHORT)
    return said(LOW) if line.is_low else ""


def counted_text(line: ShelfLine) -> str:
    """Return when the place was last counted."""
    day = line.place.counted_on
    return said(COUNTED, date=day_text(day)) if day else said(NEVER_COUNTED)


def price_text(line: ShelfLine) -> str:
    """Return the price of one piece, empty where none is known."""
    return "" if line.price is None else QLocale().toString(line.price, "f", 2)


def mark_text(line: ShelfLine) -> str:
    """Return the low mark in words."""
    mark = line.place.low_at
    return said(NO_MARK) if mark is None else said(LOW_AT, mark=mark)


def held_text(row: ReservationRow) -> str:
    """Return one reservation in a line: pieces, job, who, since when."""
    first = said(HELD, pieces=row.quantity, job=spelled_job(row.job))
    date = day_text(row.reserved_on)
    if not date:
        return f"{first} ({row.reserved_by})" if row.reserved_by else first
    rest = said(BY, who=row.reserved_by, date=date) if row.reserved_by else said(SINCE, date=date)
    return f"{first}: {rest}"
