"""What people write for a thread, read as one thread of the tables, never guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.written import tidy
from xref_app.core.standards.threads import ThreadRow, thread_row_or_none, thread_rows

LIKE = "M22x1.5, G3/8, 3/8-18 NPT, 3/4-11.5 NH or 5/16-24 UNF"

# What the trade calls a series, and what the standards call it. NPTF and NPSM share the pitches of NPT.
_SERIES = {"GHT": "NH", "NST": "NH", "BSPP": "G", "BSPT": "R"}
_PITCHES_OF = {"NPTF": "NPT", "NPSM": "NPT"}
_SIZE = r"(?P<size>\d+(?:[- ]\d+/\d+|/\d+)?)"
_TPI = r"(?P<tpi>\d+(?:[.,]\d+| ?1/2)?)"

_METRIC = re.compile(r"M ?(?P<size>\d+(?:[.,]\d+)?)(?: ?[xX*] ?(?P<pitch>\d+(?:[.,]\d+)?))?", re.IGNORECASE)
_WHITWORTH_FIRST = re.compile(rf"(?P<series>G|Rp|Rc|R|BSPP|BSPT) ?{_SIZE}\"?(?: ?[AB])?", re.IGNORECASE)
_WHITWORTH_LAST = re.compile(rf"{_SIZE}\"? ?(?P<series>BSPP|BSPT|BSP|G)", re.IGNORECASE)
_INCH = re.compile(
    rf"{_SIZE}\"?(?: ?- ?{_TPI})? ?-? ?(?P<series>NPTF|NPT|NPSM|NPSH|NHR|NH|GHT|UNC|UNF|UNEF|UN)?", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Thread:
    """One thread: ``family`` (NPT, G, R, Rp, Rc, NH, metric, UN ...), nominal size as written, and its numbers.

    ``designation`` is the one spelling used for comparing. ``diameter_mm`` is the basic outside diameter (of the pipe
    for pipe threads), None where no table has the size; ``tpi`` None on metric threads.
    """

    family: str
    nominal: str
    designation: str
    diameter_mm: float | None
    pitch_mm: float
    tpi: float | None


def parse_thread(text: str) -> Thread:
    """Return the thread ``text`` names.

    Raises:
        MeasureError: it names none, or could be several: a size without series or pitch is never guessed.
    """
    plain = tidy(text, instead=LIKE)
    if found := _METRIC.fullmatch(plain):
        return _metric(text, found)
    if found := _WHITWORTH_FIRST.fullmatch(plain) or _WHITWORTH_LAST.fullmatch(plain):
        return _whitworth(text, found["series"], _size(found["size"]))
    if found := _INCH.fullmatch(plain):
        size, tpi = _size(found["size"]), _tpi(found["tpi"])
        if found["series"]:
            series = found["series"].upper()
            return _in_series(text, size, tpi, _SERIES.get(series, series))
        return _without_series(text, size, tpi)
    raise MeasureError(text, "is no thread we know", LIKE)


def _metric(text: str, found: re.Match[str]) -> Thread:
    size = found["size"].replace(",", ".")
    if found["pitch"]:
        row = thread_row_or_none(f"M{float(size):g}x{float(found['pitch'].replace(',', '.')):g}")
        pitch_mm = float(found["pitch"].replace(",", "."))
    else:
        row = thread_row_or_none(f"M{float(size):g}")
        if row is None:
            raise MeasureError(text, "has no pitch", f"M{float(size):g}x1.5")
        pitch_mm = row.pitch_mm
    if not 0 < pitch_mm < float(size):
        raise MeasureError(text, "has a pitch as large as the thread", LIKE)
    designation = f"M{float(size):g}x{pitch_mm:g}"
    return Thread("metric", f"M{float(size):g}", designation, float(size), pitch_mm, None)


def _whitworth(text: str, written: str, size: str) -> Thread:
    if written.upper() == "BSP":
        raise MeasureError(text, "may be parallel (G) or taper (R)", f"G{size} or R{size}")
    upper = written.upper()
    family = _SERIES.get(upper, upper[0] + upper[1:].lower())
    row = thread_row_or_none(f"{'G' if family == 'G' else 'R'}{size}")
    if row is None:
        raise MeasureError(text, f"is no size of {family} threads", _sizes_of("G" if family == "G" else "R"))
    return Thread(family, size, f"{family}{size}", row.major_mm, row.pitch_mm, row.tpi)


def _in_series(text: str, size: str, tpi: Fraction | None, series: str) -> Thread:
    rows = [row for row in _inch_rows(_PITCHES_OF.get(series, series)) if _row_size(row) == size]
    right = [row for row in rows if tpi is None or Fraction(str(row.tpi)) == tpi]
    if rows and not right:
        turns = " or ".join(f"{row.tpi:g}" for row in rows)
        raise MeasureError(
            text, f"is not possible: {size} {series} has {turns} threads per inch", _call(rows[0], series)
        )
    if len(right) == 1:
        row = right[0]
        diameter = row.pipe_od_mm or row.major_mm
        return Thread(_family(series), size, _call(row, series), diameter, row.pitch_mm, row.tpi)
    if tpi is not None and series.startswith("UN"):
        diameter = float(_inches(size) * Fraction("25.4"))
        return Thread(
            "UN", size, f"{size}-{float(tpi):g} {series}", diameter, float(Fraction("25.4") / tpi), float(tpi)
        )
    raise MeasureError(text, f"is no size of {series} threads we know", LIKE)


def _without_series(text: str, size: str, tpi: Fraction | None) -> Thread:
    if tpi is None:
        raise MeasureError(text, "is a size, not yet a thread", LIKE)
    same = [row for row in thread_rows() if row.tpi and _row_size(row) == size and Fraction(str(row.tpi)) == tpi]
    series = sorted({row.designation.split(" ")[-1] for row in same if " " in row.designation})
    if len(series) == 1 and series[0].startswith("UN"):
        return _in_series(text, size, tpi, series[0])
    if not series:
        raise MeasureError(text, "is no thread we know", LIKE)
    calls = " or ".join(f"{size}-{float(tpi):g} {one}" for one in series)
    raise MeasureError(text, f"names no series ({_others(size, tpi)})", f"{calls}, once the series is sure")


def _others(size: str, tpi: Fraction) -> str:
    """Return what the pipe thread of that size has, which is what the missing series would tell apart."""
    pipe = [row for row in _inch_rows("NPT") if _row_size(row) == size]
    if pipe and Fraction(str(pipe[0].tpi)) != tpi:
        return f"pipe thread {size} NPT has {pipe[0].tpi:g} threads per inch"
    return "several threads have that size and pitch"


@cache
def _inch_rows(series: str) -> tuple[ThreadRow, ...]:
    return tuple(row for row in thread_rows() if row.designation.endswith(f" {series}"))


def _row_size(row: ThreadRow) -> str:
    size, _, _ = row.designation.split(" ")[0].rpartition("-")
    return size


def _call(row: ThreadRow, series: str) -> str:
    return f"{_row_size(row)}-{row.tpi:g} {series}"


def _family(series: str) -> str:
    return "UN" if series.startswith("UN") else series


def _sizes_of(family: str) -> str:
    return ", ".join(row.designation for row in thread_rows() if row.family == family)


def _size(written: str) -> str:
    return written.replace(" ", "-")


def _tpi(written: str | None) -> Fraction | None:
    if written is None:
        return None
    return sum((Fraction(part) for part in written.replace(",", ".").split()), Fraction(0))


def _inches(size: str) -> Fraction:
    return sum((Fraction(part) for part in size.split("-")), Fraction(0))
