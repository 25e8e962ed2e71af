"""How a pattern lies over a number some slips away, read back out of the table of totals."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import worn_table
from xref_app.search.pattern import Token, TokenKind
from xref_app.search.ranking import UNREADABLE_COST
from xref_app.search.slips import CostTable, extra_cost, untyped_cost

_WORN = worn_table()


@dataclass(frozen=True, slots=True)
class Laid:
    """Which token stands for which letter or digit of a number (by place among them).

    ``first`` to ``last`` (excluded) is the part of the number that was typed; ``is_whole`` if it reaches the end.
    ``token_at`` names the token that took a place; swapped ones are not in it. Separators before the places ``blurred``
    had to be guessed.
    """

    first: int
    last: int
    is_whole: bool
    token_at: dict[int, Token]
    blurred: frozenset[int]


def laid_over(tokens: Sequence[Token], table: CostTable, numbers: NDArray[np.integer]) -> list[Laid]:
    """Return how ``tokens`` lie over each of the ``numbers`` of a table."""
    if not len(numbers):
        return []
    columns = table.pool.codes[:, numbers].T
    ends = zip(table.lasts(numbers), table.pool.lengths[numbers].tolist(), strict=True)
    extras = [extra_cost(tokens, place) for place in range(len(tokens))]
    totals = zip(table.totals_of(numbers), table.bare_totals_of(numbers), strict=True)
    return [
        _ReadBack(tokens, extras, both, column.tobytes().translate(_WORN), partial(table.cost, number)).laid(*end)
        for number, both, column, end in zip(numbers.tolist(), totals, columns, ends, strict=True)
    ]


class _ReadBack:
    """Follows the totals of one number back from the end of the pattern."""

    def __init__(
        self,
        tokens: Sequence[Token],
        extras: list[int],
        totals: tuple[list[list[int]], list[list[int]]],
        worn: bytes,
        cost: Callable[[int, int], int],
    ) -> None:
        self._tokens, self._extras, self._cost, self._worn = tokens, extras, cost, worn
        self._totals, self._bare = totals
        # Whether the next token back may not be the separator before this place: another one was.
        self._is_bare = False
        self._token_at: dict[int, Token] = {}
        self._blurred: set[int] = set()

    def laid(self, last: int, length: int) -> Laid:
        """Return how the pattern lies over the number, whose typed part ends before ``last``."""
        token, char = len(self._tokens), last
        while token:
            is_run = self._tokens[token - 1].kind is TokenKind.RUN
            token, char = self._back_run(token, char) if is_run else self._back(token, char)
        return Laid(char, last, last == length, self._token_at, frozenset(self._blurred))

    def _back_run(self, token: int, char: int) -> tuple[int, int]:
        self._is_bare = False
        if self._totals[token][char] == self._totals[token - 1][char]:
            return token - 1, char
        self._blurred.update((char - 1, char))
        return token, char - 1

    def _back(self, token: int, char: int) -> tuple[int, int]:
        """Return the token and place from which the total of this one comes, and note what agrees."""
        total, above = (self._bare if self._is_bare else self._totals)[token][char], self._totals[token - 1]
        was_bare, self._is_bare = self._is_bare, False
        if char and total == above[char - 1] + self._cost(token - 1, char - 1):
            self._token_at[char - 1] = self._tokens[token - 1]
            return token - 1, char - 1
        if not was_bare and self._may_be_separator(token, char, total):
            self._blurred.add(char)
            self._is_bare = True
            return token - 1, char
        if total == above[char] + self._extras[token - 1]:
            return token - 1, char
        if char and total == self._totals[token][char - 1] + untyped_cost(self._worn, char - 1):
            return token, char - 1
        return token - 2, char - 2

    def _may_be_separator(self, token: int, char: int, total: int) -> bool:
        is_unreadable = self._tokens[token - 1].kind is TokenKind.UNREADABLE
        return is_unreadable and total == self._bare[token - 1][char] + UNREADABLE_COST
