"""The shelf as a list: one line for each place, and the words or sizes by which lines are found."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from xref_app.core.model.catalog import PartRow, ReservationRow, ShelfRow
from xref_app.core.model.stock import is_low
from xref_app.services.catalog import Catalog

# House rule: sizes this near are the same piece on a shelf list; it decides no fit.
SAME_SIZE_MM: Final = 0.06
_MM_IN_INCH: Final = 25.4
_SIZES: Final = (
    "thickness_mm",
    "outside_mm",
    "inside_mm",
    "width_mm",
    "height_mm",
    "hub_width_mm",
    "hub_height_mm",
    "length_mm",
    "bore_a_mm",
    "bore_b_mm",
)
_SIZE: Final = re.compile(r"(?:(\d+)-)?(\d+)/(\d+)|(\d+(?:[.,]\d+)?)")
_INCH_WORDS: Final = frozenset({'"', "in", "inch"})


@dataclass(frozen=True, slots=True)
class ShelfLine:
    """One place of the shelf: what lies there, how many of it are free, and what is put by for whom.

    ``elsewhere`` are the other bins in which the same part lies, each with how many are free there.
    """

    place: ShelfRow
    name: str
    kind: str
    thread: str
    sizes_mm: tuple[float, ...]
    free: int
    held: tuple[ReservationRow, ...]
    price: float | None
    elsewhere: tuple[tuple[str, int], ...] = ()

    @property
    def reserved(self) -> int:
        """Return how many pieces are put by."""
        return sum(one.quantity for one in self.held)

    @property
    def is_low(self) -> bool:
        """Say whether the bin is to be filled up."""
        return is_low(self.place)

    @property
    def is_short(self) -> bool:
        """Say whether more is put by than lies there."""
        return self.reserved > self.place.count


def shelf_lines(catalog: Catalog) -> tuple[ShelfLine, ...]:
    """Return every place of the shelf: what needs attention first, then by kind and name, parts before whole units."""
    parts = {one.part_id: one for one in catalog.parts}
    lines = [_line(catalog, place, parts.get(place.part_id)) for place in catalog.stock.bins]
    return tuple(sorted(lines, key=_order))


def _order(line: ShelfLine) -> tuple[bool, bool, bool, str, tuple[tuple[int, float, str], ...], str]:
    """Return what sorts more reserved than there is first, then low bins, then the others."""
    attention = (not line.is_short, not line.is_low)
    return (*attention, not line.place.part_id, line.kind, _natural(line.name), line.place.bin)


def filtered(lines: Sequence[ShelfLine], text: str, *, low_only: bool = False) -> tuple[ShelfLine, ...]:
    """Return the lines that every word of ``text`` fits: a name, a kind, a bin, a job, or a size in mm or inch."""
    words = [word for word in text.casefold().replace('"', ' " ').split() if word not in {"x", "×"}]
    inches = not _INCH_WORDS.isdisjoint(words)
    millimetres = "mm" in words
    words = [word for word in words if word != "mm" and word not in _INCH_WORDS]
    return tuple(
        one
        for one in lines
        if (one.is_low or not low_only)
        and all(_fits(one, word, inches=inches, millimetres=millimetres) for word in words)
    )


def _line(catalog: Catalog, place: ShelfRow, part: PartRow | None) -> ShelfLine:
    entry = catalog.entries.get(place.entry_id)
    unit = " ".join((catalog.number_of(place.entry_id), entry.maker, entry.name) if entry else ()).strip()
    others = [one for one in catalog.stock.places_of(place.part_id) if one.shelf_id != place.shelf_id]
    sizes = [getattr(part, name) for name in _SIZES] if part else []
    return ShelfLine(
        place=place,
        name=part.name if part else unit or place.entry_id or place.part_id,
        kind=part.kind if part else entry.kind if entry else "",
        thread=f"{part.thread} {part.end_1_thread} {part.end_2_thread} {part.end_3_thread}" if part else "",
        sizes_mm=tuple(one for one in sizes if one is not None),
        free=catalog.stock.free(place),
        held=catalog.stock.open_at(place.shelf_id),
        price=place.price if place.price is not None else part.cost if part else None,
        elsewhere=tuple((one.bin, catalog.stock.free(one)) for one in others),
    )


def _fits(line: ShelfLine, word: str, *, inches: bool, millimetres: bool) -> bool:
    texts = [line.name, line.kind, line.place.bin, line.thread, *(one.job for one in line.held)]
    size = _SIZE.fullmatch(word)
    if size is None:
        return any(word in text.casefold() for text in texts)
    whole = re.compile(rf"(?<![\w./,]){re.escape(word)}(?![\w/]|[.,]\d)")
    if not (inches or millimetres) and any(whole.search(text.casefold()) for text in texts):
        return True
    wanted = _sizes_meant(size, inches=inches, millimetres=millimetres)
    return any(abs(one - other) <= SAME_SIZE_MM for one in wanted for other in line.sizes_mm)


def _sizes_meant(size: re.Match[str], *, inches: bool, millimetres: bool) -> tuple[float, ...]:
    """Return the sizes in mm that a typed number may mean: a fraction is inches, a plain number mm or inches."""
    whole, upper, lower, plain = size.groups()
    if plain is None:
        if int(lower) == 0:
            return ()
        return (float(int(whole or 0) + Fraction(int(upper), int(lower))) * _MM_IN_INCH,)
    value = float(plain.replace(",", "."))
    if inches != millimetres:
        return (value * _MM_IN_INCH if inches else value,)
    return (value, value * _MM_IN_INCH)


def _natural(name: str) -> tuple[tuple[int, float, str], ...]:
    """Return what sorts ``M8 x 30`` before ``M8 x 100``."""
    found = re.findall(r"\d+(?:\.\d+)?|\D+", name.casefold())
    return tuple((0, float(one), "") if one[0].isdigit() else (1, 0.0, one) for one in found)
