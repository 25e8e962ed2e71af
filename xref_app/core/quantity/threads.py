"""Threads as people write them: M22x1.5, 3/4-11.5 NH, 3/8 NPT, G 3/8 A, 5/16-24 UNF."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.metric_threads import ADVICE, Thread, is_metric, metric_thread
from xref_app.core.quantity.thread_table import Family, ThreadRow, decimal, thread_rows
from xref_app.core.quantity.written import tidy

__all__ = ["Thread", "parse_thread"]

_SIZE = r'(?P<size>[0-9]+/[0-9]+|#?[0-9]+(?:[ -][0-9]+/[0-9]+)?)(?: ?(?:"|inch|in\.?))?'
_TPI = r"(?: ?- ?(?P<tpi>[0-9]+(?:[.,][0-9]+|[ -]1/2)?))?"
_SERIES = r"(?P<series>[a-z][a-z.]*)"
_CLASS = r"(?P<grade>[123]?[ab])"
_SERIES_LAST = re.compile(rf"{_SIZE}{_TPI}(?:[ -]?{_SERIES}(?:[ -]+{_CLASS})?)?", re.IGNORECASE)
_SERIES_FIRST = re.compile(rf"{_SERIES}[ -]?{_SIZE}{_TPI}(?:[ -]?{_CLASS})?", re.IGNORECASE)

# Trade names beside the designations: BSPP is ISO 228-1's G and BSPT ISO 7-1's R, the outside one. BSP alone may be
# either; the two do not seal against each other, so it is refused.
_NAMES = {family.casefold(): (family,) for family in Family if family is not Family.METRIC} | {
    "un": (Family.UN, Family.UNC, Family.UNF),
    "ght": (Family.NH,),
    "bspp": (Family.G,),
    "bspt": (Family.R,),
}
# A size and a number of threads without a series are written so for these only, never for G or R.
_DASHED = tuple(family for family in Family if not family.leads and family is not Family.METRIC)


@lru_cache(maxsize=4096)
def parse_thread(text: str) -> Thread:
    """Return the thread that ``text`` names.

    A missing number of threads is filled in where series and size leave one only; a missing series only where size
    and number of threads belong to one unified series. ``M8`` means the coarse pitch where ISO 965-1 is followed.

    Raises:
        MeasureError: the text names no thread known here, or could name two.
    """
    plain = tidy(text, instead=ADVICE)
    if is_metric(plain):
        return metric_thread(plain, found=text)
    match = _SERIES_LAST.fullmatch(plain) or _SERIES_FIRST.fullmatch(plain)
    if match is None:
        raise MeasureError(text, "is not a thread", ADVICE)
    size, tpi = _size(match["size"]), _tpi(match["tpi"])
    if match["series"] is None:
        return _without_series(text, size, tpi)
    series = match["series"].replace(".", "").casefold()
    if series == "bsp":
        raise MeasureError(text, "may be parallel (G) or taper (R)", f"G{size} or R{size}")
    families = _NAMES.get(series, ())
    if not families or not _grade_fits(match["grade"], families):
        raise MeasureError(text, "names no thread series known here", ADVICE)
    return _of_series(text, families, size, tpi)


def _size(written: str) -> str:
    return written.replace(" ", "-")


def _tpi(written: str | None) -> Fraction | None:
    if written is None:
        return None
    if written.endswith("1/2"):
        return Fraction(written[:-4]) + Fraction(1, 2)
    return Fraction(written.replace(",", "."))


def _grade_fits(grade: str | None, families: tuple[Family, ...]) -> bool:
    """Say whether the tolerance class belongs to the series: 2A to unified threads, A or B to G, none to others."""
    if grade is None:
        return True
    return families[0].is_unified if len(grade) > 1 else families == (Family.G,)


def _sized(families: tuple[Family, ...], size: str) -> list[ThreadRow]:
    numbered = f"#{size}"
    return [row for row in thread_rows() if row.family in families and row.size in {size, numbered}]


def _of_series(text: str, families: tuple[Family, ...], size: str, tpi: Fraction | None) -> Thread:
    rows = _sized(families, size)
    if not rows:
        example = next(row for row in thread_rows() if row.family is families[0])
        raise MeasureError(text, f"is no {families[0]} size known here", example.designation)
    fitting = rows if tpi is None else [row for row in rows if row.tpi == tpi]
    if len(fitting) == 1:
        return _thread(fitting[0])
    if fitting:
        raise MeasureError(text, f"can be {_either(fitting)}", fitting[0].designation)
    right = " or ".join(decimal(row.tpi) for row in rows if row.tpi is not None)
    raise MeasureError(text, f"has the wrong pitch: {size} {families[0]} has {right} threads per inch", _advice(rows))


def _without_series(text: str, size: str, tpi: Fraction | None) -> Thread:
    rows = _sized(_DASHED, size)
    fitting = [row for row in rows if row.tpi == tpi]
    if len(fitting) == 1 and fitting[0].family.is_unified:
        return _thread(fitting[0])
    if not fitting:
        raise MeasureError(text, "names no thread series", _advice(rows))
    taper = [row for row in rows if row.family is Family.NPT and row.tpi != tpi and row.tpi is not None]
    aside = f", while {size} NPT has {decimal(taper[0].tpi)} threads per inch" if taper and taper[0].tpi else ""
    raise MeasureError(text, f"names no thread series: it can be {_either(fitting)}{aside}", fitting[0].designation)


def _either(rows: list[ThreadRow]) -> str:
    return " or ".join(row.family.value for row in rows)


def _advice(rows: list[ThreadRow]) -> str:
    """Return one way to write it per kind of thread, pipe first: 1/2-14 NPT or 1/2-13 UNC."""
    first = {row.family.is_unified: row.designation for row in reversed(rows)}
    return " or ".join(first[unified] for unified in (False, True) if unified in first) or ADVICE


def _thread(row: ThreadRow) -> Thread:
    return Thread(
        family=row.family,
        nominal=row.size,
        diameter_mm=None if row.major_mm is None else float(row.major_mm),
        pitch_mm=float(row.pitch_mm),
        tpi=None if row.tpi is None else float(row.tpi),
        designation=row.designation,
    )
