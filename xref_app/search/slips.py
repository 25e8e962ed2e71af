"""What it costs to take numbers for what was typed: doubts, and slips such as wrong, missing, doubled or swapped ones.

Thousands of numbers are compared at once; the tables lie with a column per number, so that each step is one operation
on all of them. The marks of one number are read back out of the tables.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import code_of, worn_table
from xref_app.search.pattern import NumberPattern, Token, TokenKind
from xref_app.search.pool import Pool
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
    SEPARATOR_MISSING_COST,
    SEPARATOR_TOO_MANY_COST,
    SWAPPED_COST,
    UNREADABLE_COST,
    WRONG_COST,
)

# A total is a cost (at most 1000 for the longest pattern and number) and, far above it, the slips; without slips, what
# of the number was not typed. All of it fits 16 bits.
SLIP: Final = 2048
GOES_ON_BEHIND: Final = 1024
GOES_ON_BEFORE: Final = 2048
NEVER: Final = 3 * SLIP

# House rule: with so few readable characters, so many slips away is nearly everything; sooner so among many numbers.
_READABLE_FOR_ONE, _READABLE_FOR_TWO = 3, 5
_OF_MANY_FOR_ONE, _OF_MANY_FOR_TWO = 5, 8

Table = NDArray[np.int16]
_WORN: Final = np.frombuffer(worn_table(), np.uint8)
_GROUP_SIZE: Final = np.bincount(_WORN, minlength=256)
_short = np.int16


def slips_allowed(pattern: NumberPattern, *, are_many: bool) -> int:
    """Return how many slips a number may be away to be offered: 0, 1 or 2, by how many characters can be read.

    Args:
        pattern: What was typed.
        are_many: It is sought among many numbers.
    """
    readable = pattern.count(TokenKind.LITERAL, TokenKind.EITHER)
    if are_many:
        return (readable >= _OF_MANY_FOR_ONE) + (readable >= _OF_MANY_FOR_TWO)
    return (readable >= _READABLE_FOR_ONE) + (readable >= _READABLE_FOR_TWO)


class CostTable:
    """The least totals of one pattern against some numbers.

    With ``slips`` a total is slips times ``SLIP`` plus the cost, exact up to so many slips. Without, a number that goes
    on before or behind what was typed has ``GOES_ON_BEFORE`` or ``GOES_ON_BEHIND`` on top, the whole before a prefix
    before a middle whatever they cost. ``NEVER`` or more is no match.
    """

    def __init__(self, pattern: NumberPattern, pool: Pool, slips: int) -> None:
        self._tokens, self._parted, self._slips = pattern.tokens, pattern.parted, slips
        self.pool, self._codes, self._lengths = pool, pool.codes, pool.lengths
        needs_separators = bool(pattern.parted) or pattern.count(TokenKind.UNREADABLE) > 0
        self._separated = pool.separated() if needs_separators else None
        self._worn = _WORN.take(self._codes)
        self._costs: list[Table] = []
        self._untyped = self._untyped_costs() if slips else None
        self._as_separator = self._separator_read() if self._separated is not None else None
        self._at_separators = self._separator_costs() if self._parted and self._separated is not None else None
        # Without the separator that the last token may have been: two unreadable characters are not one separator.
        self._bare_rows: list[Table] = []
        self.rows = self._filled()
        self.totals = self._ended(self.rows[-1], self._lengths).min(axis=0)

    def lasts(self, numbers: NDArray[np.integer]) -> list[int]:
        """Return where in each of ``numbers`` the typed part ends."""
        lasts: list[int] = self._ended(self.rows[-1][:, numbers], self._lengths[numbers]).argmin(axis=0).tolist()
        return lasts

    def totals_of(self, numbers: NDArray[np.integer]) -> list[list[list[int]]]:
        """Return the totals per number, count of tokens and place."""
        return _per_number(self.rows, numbers)

    def bare_totals_of(self, numbers: NDArray[np.integer]) -> list[list[list[int]]]:
        """Return the same where the last token was no separator."""
        return _per_number(self._bare_rows, numbers)

    def cost(self, number: int, token: int, char: int) -> int:
        """Return the total of a token that stands for a character of a number."""
        return int(self._costs[token][char, number])

    def _filled(self) -> list[Table]:
        width, count = self._codes.shape
        rows = [np.repeat(self._begun(width)[:, None], count, axis=1)]
        self._bare_rows.append(rows[0])
        for place, token in enumerate(self._tokens):
            if token.kind is TokenKind.RUN:
                self._costs.append(np.full((width, count), NEVER, np.int16))
                rows.append(_fed(rows[-1]))
                self._bare_rows.append(rows[-1])
                continue
            self._costs.append(self._taking(place))
            bare = self._extra(place, rows[-1])
            np.minimum(bare[1:], rows[-1][:-1] + self._costs[-1], out=bare[1:])
            if self._slips and place and self._tokens[place - 1].kind is not TokenKind.RUN:
                self._swap(bare, rows[-2])
            row = bare
            if token.kind is TokenKind.UNREADABLE and self._as_separator is not None:
                row = np.minimum(bare, self._bare_rows[-1] + self._as_separator)
            if self._untyped is not None:
                for _ in range(self._slips):
                    np.minimum(row[1:], row[:-1] + self._untyped, out=row[1:])
                if row is not bare:
                    np.minimum(bare[1:], row[:-1] + self._untyped, out=bare[1:])
            rows.append(np.minimum(row, _short(NEVER), out=row))
            self._bare_rows.append(np.minimum(bare, _short(NEVER), out=bare))
        return rows

    def _begun(self, width: int) -> Table:
        places = np.arange(width + 1, dtype=np.int16)
        before = places * LEFT_OVER_COST + (GOES_ON_BEFORE_COST if self._slips else GOES_ON_BEFORE)
        before[0] = 0
        return before.astype(np.int16)

    def _taking(self, place: int) -> Table:
        """Return what it costs that the token stands for each character."""
        token = self._tokens[place]
        if token.kind is TokenKind.UNREADABLE:
            costs = np.full(self._codes.shape, UNREADABLE_COST, np.int16)
        elif token.kind is TokenKind.EITHER:
            costs = _either(token, self._wrong).take(self._codes)
        else:
            costs = self._literal(code_of(token.chars))
        if self._at_separators is not None and place and self._tokens[place - 1].kind is not TokenKind.RUN:
            costs += self._at_separators[place in self._parted]
        return costs

    @property
    def _wrong(self) -> int:
        return SLIP + WRONG_COST if self._slips else NEVER

    def _literal(self, code: int) -> Table:
        worn = int(_WORN[code])
        if _GROUP_SIZE[worn] == 1:
            return _times(self._codes != code, self._wrong)
        costs = _times(self._worn != worn, self._wrong - LOOK_ALIKE_COST)
        costs += _times(self._codes != code, LOOK_ALIKE_COST)
        return costs

    def _extra(self, place: int, above: Table) -> Table:
        """Return the totals if the token stands for nothing."""
        if not self._slips:
            return np.full(above.shape, NEVER, np.int16)
        extra: Table = above + _short(extra_cost(self._tokens, place))
        return extra

    def _swap(self, row: Table, above: Table) -> None:
        swapped = self._costs[-1][:-1] + self._costs[-2][1:]
        swapped += above[:-2]
        swapped += _short(SLIP + SWAPPED_COST)
        np.minimum(row[2:], swapped, out=row[2:])

    def _untyped_costs(self) -> Table:
        """Return what it costs that each character of the number was not typed."""
        is_doubled = np.zeros(self._worn.shape, np.bool_)
        np.equal(self._worn[1:], self._worn[:-1], out=is_doubled[1:])
        costs = _times(is_doubled, DOUBLED_COST - DROPPED_COST)
        return np.add(costs, _short(SLIP + DROPPED_COST), out=costs)

    def _separator_read(self) -> Table:
        """Return what it costs at each place that an unreadable character was the separator there."""
        assert self._separated is not None  # noqa: S101 the caller has asked
        costs = _times(self._separated, UNREADABLE_COST - NEVER)
        return np.add(costs, _short(NEVER), out=costs)

    def _separator_costs(self) -> tuple[Table, Table]:
        """Return what it costs at each place that no separator was typed there, and that one was."""
        assert self._separated is not None  # noqa: S101 the caller has asked
        at = self._separated[:-1]
        missing = _times(at, SEPARATOR_MISSING_COST)
        return missing, _times(~at, SEPARATOR_TOO_MANY_COST)

    def _ended(self, last: Table, lengths: NDArray[np.int64]) -> Table:
        """Return the totals if the typed part ends before each place."""
        left = lengths.astype(np.int16) - np.arange(len(last), dtype=np.int16)[:, None]
        goes_on = left > 0
        if not self._slips:
            goes_on &= last < GOES_ON_BEFORE
        behind = _times(goes_on, GOES_ON_BEHIND_COST if self._slips else GOES_ON_BEHIND)
        behind += _times(left < 0, NEVER)
        behind += np.multiply(left, _short(LEFT_OVER_COST), out=left)
        behind += last
        return behind


def _per_number(rows: Sequence[Table], numbers: NDArray[np.integer]) -> list[list[list[int]]]:
    totals: list[list[list[int]]] = np.stack([row[:, numbers].T for row in rows], axis=1).tolist()
    return totals


def _times(flags: NDArray[np.bool_], cost: int) -> Table:
    """Return ``cost`` where the flag is set, otherwise 0."""
    costs: Table = np.multiply(flags, _short(cost), dtype=np.int16)
    return costs


def extra_cost(tokens: Sequence[Token], place: int) -> int:
    """Return the total of a token that should not have been typed."""
    token = tokens[place]
    is_doubled = token.chars and token in (*tokens[max(0, place - 1) : place], *tokens[place + 1 : place + 2])
    return SLIP + (DOUBLED_COST if is_doubled else EXTRA_COST)


def untyped_cost(worn: Sequence[int], place: int) -> int:
    """Return the total of a character of the number that was not typed."""
    return SLIP + (DOUBLED_COST if place and worn[place] == worn[place - 1] else DROPPED_COST)


def _fed(above: Table) -> Table:
    """Return the totals if a run stands for any stretch."""
    row = above.copy()
    for place in range(1, len(row)):
        np.minimum(row[place], row[place - 1] + _short(RUN_COST), out=row[place])
    return row


@lru_cache(maxsize=512)
def _either(token: Token, wrong: int) -> Table:
    """Return for each code what it costs that ``token`` stands for it."""
    codes = [code_of(char) for char in token.chars]
    costs = np.full(256, wrong, np.int16)
    costs[np.isin(_WORN, _WORN[codes])] = EITHER_COST + LOOK_ALIKE_COST
    costs[codes] = EITHER_COST
    return costs
