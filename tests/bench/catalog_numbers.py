"""Invented numbers of 10 thousand to a million entries: two to four each, seeded, a few seconds for a million.

Each invented maker writes in one way, with heads of its own: an OEM number, the number it superseded (the same head,
other last figures), a kit number and a model. Letters, digits and separators lie as they do on plates.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.filed import NumberRow

MAKERS: Final = 240
# L is a letter, D a digit; what stands before the bar is the maker's, the rest counts on.
OEM_SHAPES: Final = (
    "LD|DDD-DDDD", "DDD|DDDDDD", "LL|DDDDDD-L", "DD.|DDD.DDDD", "LLD|DDDD-DDL", "DDDD-|DDDDD", "L|DDDDDDDD",
    "LL |DDDD DDD", "DD-|DDDD-DDD", "LDL|DDDDDD", "DD|DDDDDD-DD", "LLL-|DDD-DDDD",
)  # fmt: skip
KIT_SHAPES: Final = ("L|DDDDDLL", "DD|DD-DDLDD", "LL-|DDDDDD", "DDD.|DDDDDD", "LD|DDDDDDD")
MODEL_SHAPES: Final = ("LLL |DDDD-DD", "LL|DD.DDDL", "LLL|DDDD-LD", "LLD|DDDDL", "LL-|DDDDLL", "LL|DDDDLLD")
LETTERS: Final = np.frombuffer(b"ABCDEFGHJKLMNPRSTVWXZ", np.uint8)
DIGITS: Final = np.frombuffer(b"0123456789", np.uint8)
KINDS: Final = ("pump", "pump", "pump", "driver", "machine")
ENTRIES_WITH_TWO, ENTRIES_WITH_THREE = 0.1, 0.3  # the rest have four; 3.5 on average

Chars = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class MadeUp:
    """Numbers and, in step with them, the place of the entry each belongs to."""

    texts: list[str]
    entries: list[int]

    def rows(self) -> Iterator[NumberRow]:
        """Yield the numbers as the index takes them."""
        for text, entry in zip(self.texts, self.entries, strict=True):
            yield NumberRow(text, entry_id(entry), KINDS[entry % len(KINDS)])


def entry_id(entry: int) -> str:
    """Return the name of the entry at this place."""
    return f"E-{entry:07}"


def made_up_numbers(entries: int, seed: int) -> MadeUp:
    """Return the numbers of ``entries`` entries, the same for the same seed."""
    rng = np.random.default_rng(seed)
    maker = rng.integers(0, MAKERS, entries)
    oem = _written(OEM_SHAPES, maker, rng)
    superseded = _recounted(OEM_SHAPES, oem, maker, rng)
    kit = _written(KIT_SHAPES, maker, rng)
    model = _written(MODEL_SHAPES, maker, rng)
    share = rng.random(entries)
    texts: list[str] = []
    owners: list[NDArray[np.int64]] = []
    for chars, least in (
        (oem, 0.0),
        (superseded, 0.0),
        (kit, ENTRIES_WITH_TWO),
        (model, ENTRIES_WITH_TWO + ENTRIES_WITH_THREE),
    ):
        has = np.flatnonzero(share >= least)
        texts += _texts(chars[has])
        owners.append(has)
    return MadeUp(texts, np.concatenate(owners).tolist())


def _written(shapes: tuple[str, ...], maker: NDArray[np.int64], rng: np.random.Generator) -> Chars:
    """Return a number per entry, blanks behind it: the maker's shape and one of its few heads, then figures."""
    chars = np.full((len(maker), max(map(len, shapes))), ord(" "), np.uint8)
    heads = _heads(shapes, rng)
    for shape_at, shape in enumerate(shapes):
        of_shape = np.flatnonzero(maker % len(shapes) == shape_at)
        head, tail = shape.split("|")
        chars[of_shape, : len(head)] = heads[
            maker[of_shape], rng.integers(0, heads.shape[1], len(of_shape)), : len(head)
        ]
        for place, kind in enumerate(tail, start=len(head)):
            chars[of_shape, place] = _picked(kind, len(of_shape), rng)
    return chars


def _heads(shapes: tuple[str, ...], rng: np.random.Generator) -> Chars:
    """Return the six heads of each maker."""
    heads = np.full((MAKERS, 6, max(map(len, shapes))), ord(" "), np.uint8)
    for maker in range(MAKERS):
        for place, kind in enumerate(shapes[maker % len(shapes)].split("|")[0]):
            heads[maker, :, place] = _picked(kind, 6, rng)
    return heads


def _recounted(shapes: tuple[str, ...], oem: Chars, maker: NDArray[np.int64], rng: np.random.Generator) -> Chars:
    """Return the superseded numbers: those of ``oem`` with their last three figures or letters written anew."""
    older = oem.copy()
    for shape_at, shape in enumerate(shapes):
        of_shape = np.flatnonzero(maker % len(shapes) == shape_at)
        bare = shape.replace("|", "")
        for place in [place for place, kind in enumerate(bare) if kind in "LD"][-3:]:
            older[of_shape, place] = _picked(bare[place], len(of_shape), rng)
    return older


def _picked(kind: str, count: int, rng: np.random.Generator) -> Chars:
    if kind == "L":
        return LETTERS[rng.integers(0, len(LETTERS), count)]
    return DIGITS[rng.integers(0, 10, count)] if kind == "D" else np.full(count, ord(kind), np.uint8)


def _texts(chars: Chars) -> list[str]:
    width = chars.shape[1]
    joined = chars.tobytes().decode("ascii")
    return [joined[start : start + width].rstrip() for start in range(0, len(joined), width)]
