"""Numbers a few slips away: wrong, missing, extra, doubled or swapped characters, with all other doubts besides.

Many numbers are compared at once. A total is the slips times ``SLIP`` plus the cost: fewest slips first, then the least
cost. The marks of one number are read back out of the table of totals.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import END, code_of, worn_table
from xref_app.search.pattern import NumberPattern, Token, TokenKind
from xref_app.search.ranking import (
    DOUBLED_COST,
    DROPPED_COST,
    EITHER_COST,
    EXTRA_COST,
    GOES_ON_BEFORE_COST,
    GOES_ON_BEHIND_COST,
    LEFT_OVER_COST,
    LOOK_ALIKE_COST,
    RUN_COST,
    SWAPPED_COST,
    UNREADABLE_COST,
    WRONG_COST,
)

SLIP: Final = 1 << 12  # above any cost
_NEVER: Final = 1 << 24

# House rule: with so few readable characters, so many slips away is nearly everything.
_READABLE_FOR_ONE, _READABLE_FOR_TWO = 3, 5

Table = NDArray[np.int32]
_WORN: Final = np.frombuffer(worn_table(), np.uint8)


def slips_allowed(pattern: NumberPattern) -> int:
    """Return how many slips a number may be away to be offered: 0, 1 or 2, by how many characters can be read."""
    readable = pattern.count(TokenKind.LITERAL, TokenKind.EITHER)
    return (readable >= _READABLE_FOR_ONE) + (readable >= _READABLE_FOR_TWO)


@dataclass(frozen=True, slots=True)
class Laid:
    """Which letters and digits of a number (by place among them) were typed, and which had to be guessed.

    ``first`` to ``last`` (excluded) is the part of the number that was typed; ``is_whole`` if it reaches the end.
    Separators before the places ``blurred`` had to be guessed.
    """

    first: int
    last: int
    is_whole: bool
    agreeing: frozenset[int]
    blurred: frozenset[int]


class SlipTable:
    """The totals of one pattern against some numbers.

    Args:
        tokens: The pattern.
        codes: Shape (numbers, width), ``END`` behind each.
        lengths: How many codes each number has.
        separated: Shape (numbers, width + 1): whether a separator stands before each place; there an unreadable
            character may have been one.
    """

    def __init__(
        self,
        tokens: Sequence[Token],
        codes: NDArray[np.uint8],
        lengths: NDArray[np.int64],
        separated: NDArray[np.bool_] | None,
    ) -> None:
        self._tokens, self._codes, self._lengths, self._separated = tuple(tokens), codes, lengths, separated
        self._places = np.arange(codes.shape[1] + 1, dtype=np.int32)
        self._untyped = _untyped(codes)
        self._taking = [_taking(token) for token in tokens]
        self._taken = [taking.take(codes) for taking in self._taking]
        self._extras = [self._extra(place) for place in range(len(self._tokens))]
        self._rows = self._filled()
        self.totals, self._lasts = self._ended()

    def laid(self, number: int) -> Laid:
        """Return what of the number was typed, read back from the last token to the first."""
        extras = [extra if isinstance(extra, int) else extra[number].tolist() for extra in self._extras]
        back = _ReadBack(
            self._tokens,
            [row[number].tolist() for row in self._rows],
            [taken[number].tolist() for taken in self._taken],
            self._untyped[number].tolist(),
            extras,
        )
        return back.laid(int(self._lasts[number]), int(self._lengths[number]))

    def _filled(self) -> list[Table]:
        before = self._places * LEFT_OVER_COST + GOES_ON_BEFORE_COST
        before[0] = 0
        rows = [np.minimum(self._untyped, before)]
        for place, token in enumerate(self._tokens):
            if token.kind is TokenKind.RUN:
                fed = self._places * RUN_COST
                rows.append(np.minimum.accumulate(rows[-1] - fed, axis=1) + fed)
                continue
            row = rows[-1] + self._extras[place]
            np.minimum(row[:, 1:], rows[-1][:, :-1] + self._costs(place), out=row[:, 1:])
            if place and self._tokens[place - 1].kind is not TokenKind.RUN:
                np.minimum(row[:, 2:], rows[-2][:, :-2] + self._swapped(place), out=row[:, 2:])
            row -= self._untyped
            np.minimum.accumulate(row, axis=1, out=row)
            row += self._untyped
            rows.append(row)
        return rows

    def _extra(self, place: int) -> Table | int:
        """Return what it costs that the token stands for nothing, per number and place where it is not the same."""
        token = self._tokens[place]
        if token.kind is TokenKind.UNREADABLE and self._separated is not None:
            return np.where(self._separated, UNREADABLE_COST, SLIP + EXTRA_COST).astype(np.int32)
        is_doubled = (
            token.chars and token in self._tokens[max(0, place - 1) : place] + self._tokens[place + 1 : place + 2]
        )
        return SLIP + (DOUBLED_COST if is_doubled else EXTRA_COST)

    def _costs(self, place: int) -> Table:
        return np.minimum(self._taken[place], SLIP + WRONG_COST)

    def _swapped(self, place: int) -> Table:
        return self._taken[place][:, :-1] + self._taken[place - 1][:, 1:] + (SLIP + SWAPPED_COST)

    def _ended(self) -> tuple[Table, NDArray[np.int64]]:
        """Return the totals, and where in each number the typed part ends."""
        numbers = np.arange(len(self._lengths))
        lengths = self._lengths.astype(np.int32)[:, None]
        behind = (lengths - self._places) * LEFT_OVER_COST + GOES_ON_BEHIND_COST
        ended = self._rows[-1] + np.where(self._places < lengths, behind, _NEVER)
        ended[numbers, self._lengths] = self._rows[-1][numbers, self._lengths]
        lasts = ended.argmin(axis=1)
        return ended[numbers, lasts], lasts


class _ReadBack:
    """Follows the totals of one number back from the end of the pattern."""

    def __init__(
        self,
        tokens: Sequence[Token],
        totals: list[list[int]],
        taken: list[list[int]],
        untyped: list[int],
        extras: list[int | list[int]],
    ) -> None:
        self._tokens, self._totals, self._taken, self._untyped, self._extras = tokens, totals, taken, untyped, extras
        self._agreeing: set[int] = set()
        self._blurred: set[int] = set()

    def laid(self, last: int, length: int) -> Laid:
        """Return how the pattern lies over the number, whose typed part ends before ``last``."""
        token, char = len(self._tokens), last
        while token:
            is_run = self._tokens[token - 1].kind is TokenKind.RUN
            token, char = self._back_run(token, char) if is_run else self._back(token, char)
        first = 0 if self._totals[0][char] == self._untyped[char] else char
        return Laid(first, last, last == length, frozenset(self._agreeing), frozenset(self._blurred))

    def _back_run(self, token: int, char: int) -> tuple[int, int]:
        if self._totals[token][char] == self._totals[token - 1][char]:
            return token - 1, char
        self._blurred.update((char - 1, char))
        return token, char - 1

    def _back(self, token: int, char: int) -> tuple[int, int]:
        """Return the token and place from which the total of this one comes, and note what agrees."""
        total, above = self._totals[token][char], self._totals[token - 1]
        if char:
            taken = self._taken[token - 1][char - 1]
            if total == above[char - 1] + min(taken, SLIP + WRONG_COST):
                if not taken:
                    self._agreeing.add(char - 1)
                return token - 1, char - 1
        extra = self._extras[token - 1]
        if isinstance(extra, list):
            extra = extra[char]
        if total == above[char] + extra:
            if extra < SLIP:
                self._blurred.add(char)
            return token - 1, char
        if char and total == self._totals[token][char - 1] + self._untyped[char] - self._untyped[char - 1]:
            return token, char - 1
        return token - 2, char - 2


def _untyped(codes: NDArray[np.uint8]) -> Table:
    """Return what it costs, up to each place, that no character before it was typed; shape (numbers, width + 1)."""
    worn = _WORN[codes]
    each = np.full((len(codes), codes.shape[1] + 1), SLIP + DROPPED_COST, np.int32)
    each[:, 0] = 0
    each[:, 2:][worn[:, 1:] == worn[:, :-1]] = SLIP + DOUBLED_COST
    return np.cumsum(each, axis=1, dtype=np.int32)


@lru_cache(maxsize=512)
def _taking(token: Token) -> NDArray[np.int32]:
    """Return for each code what it costs that ``token`` stands for it; ``_NEVER`` if it cannot."""
    if token.kind is TokenKind.UNREADABLE:
        costs = np.full(256, UNREADABLE_COST, np.int32)
    else:
        either = EITHER_COST if token.kind is TokenKind.EITHER else 0
        codes = [code_of(char) for char in token.chars]
        costs = np.full(256, _NEVER, np.int32)
        costs[np.isin(_WORN, _WORN[codes])] = either + LOOK_ALIKE_COST
        costs[codes] = either
    costs[END] = _NEVER
    return costs
