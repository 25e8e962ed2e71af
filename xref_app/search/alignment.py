"""The cheapest way to lay a pattern over a number, character by character."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final, NamedTuple

from xref_app.search.folding import Glyph, glyphs, worn
from xref_app.search.pattern import Token, TokenKind
from xref_app.search.ranking import (
    EITHER_COST,
    LEFT_OVER_COST,
    LOOK_ALIKE_COST,
    RUN_COST,
    SEPARATOR_MISSING_COST,
    SEPARATOR_TOO_MANY_COST,
    UNREADABLE_COST,
)

_NEVER: Final = 1_000_000  # above any cost of a real alignment


class Reach(Enum):
    """How much of the number a pattern covers."""

    WHOLE = auto()
    PREFIX = auto()
    MIDDLE = auto()


@dataclass(frozen=True, slots=True)
class Laid:
    """A pattern laid over a number: the cost, and the positions in the number's text that agree or were guessed."""

    cost: int
    matched: tuple[int, ...]
    guessed: tuple[int, ...]


def lay_over(tokens: Sequence[Token], text: str, reach: Reach, parted: frozenset[int] = frozenset()) -> Laid | None:
    """Return the cheapest way to lay ``tokens`` over ``text``, or None if they do not cover it as ``reach`` says.

    Separators of the text cost nothing unless some were typed, before the tokens at the places ``parted``; an
    unreadable character may have been one. In a whole match every position of the text is either matched or guessed;
    otherwise what lies before and after is neither.
    """
    grid = _Grid(tokens, glyphs(text), reach, parted)
    return grid.laid() if grid.cost < _NEVER else None


class _Mark(Enum):
    AGREES = auto()
    GUESSED = auto()
    OUTSIDE = auto()


class _Move(NamedTuple):
    """One step through the grid: how many tokens and glyphs it uses up, and what that says of the glyph."""

    tokens: int
    glyphs: int
    mark: _Mark


_AGREE: Final = _Move(1, 1, _Mark.AGREES)
_GUESS: Final = _Move(1, 1, _Mark.GUESSED)
_PASS_SEPARATOR: Final = _Move(0, 1, _Mark.AGREES)
_FEED_RUN: Final = _Move(0, 1, _Mark.GUESSED)
_LEAVE_OUTSIDE: Final = _Move(0, 1, _Mark.OUTSIDE)
_END_RUN: Final = _Move(1, 0, _Mark.OUTSIDE)


class _Grid:
    """Least costs by dynamic programming: row j, column i is the cost of using up j glyphs by i tokens."""

    def __init__(self, tokens: Sequence[Token], number: Sequence[Glyph], reach: Reach, parted: frozenset[int]) -> None:
        self._tokens, self._number, self._reach, self._parted = tokens, number, reach, parted
        self._is_after_separator = False
        self._moves: list[list[_Move]] = [[_END_RUN] * (len(tokens) + 1)]
        row = [0] + [_NEVER] * len(tokens)
        self._end_runs(row)
        for glyph in number:
            row = self._next_row(row, glyph)
            self._is_after_separator = glyph.is_separator
        self.cost = row[-1]

    def laid(self) -> Laid:
        """Return the marks along the cheapest way, followed back from the last corner."""
        marked: dict[_Mark, list[Glyph]] = {mark: [] for mark in _Mark}
        column, used = len(self._tokens), len(self._number)
        while used or column:
            move = self._moves[used][column]
            used, column = used - move.glyphs, column - move.tokens
            if move.glyphs:
                marked[move.mark].append(self._number[used])
        guessed = _positions(marked[_Mark.GUESSED])
        agreed = _positions(marked[_Mark.AGREES]) - guessed
        return Laid(self.cost, tuple(sorted(agreed)), tuple(sorted(guessed)))

    def _next_row(self, row: Sequence[int], glyph: Glyph) -> list[int]:
        costs, moves = [], []
        for column, before in enumerate(row):
            cost, move = self._stay(column, glyph)
            cost += before
            if column and row[column - 1] < _NEVER:
                taken, take = _take(self._tokens[column - 1], glyph)
                taken += self._separator_cost(column - 1, glyph)
                if row[column - 1] + taken < cost:
                    cost, move = row[column - 1] + taken, take
            costs.append(cost)
            moves.append(move)
        self._moves.append(moves)
        self._end_runs(costs)
        return costs

    def _separator_cost(self, token: int, glyph: Glyph) -> int:
        """Return what it costs that a separator stands before the glyph and none was typed, or the other way round."""
        if not self._parted or not token or glyph.is_separator or self._tokens[token - 1].kind is TokenKind.RUN:
            return 0
        if self._is_after_separator == (token in self._parted):
            return 0
        return SEPARATOR_MISSING_COST if self._is_after_separator else SEPARATOR_TOO_MANY_COST

    def _end_runs(self, costs: list[int]) -> None:
        for column, token in enumerate(self._tokens, start=1):
            if token.kind is TokenKind.RUN and costs[column - 1] < costs[column]:
                costs[column] = costs[column - 1]
                self._moves[-1][column] = _END_RUN

    def _stay(self, column: int, glyph: Glyph) -> tuple[int, _Move]:
        """Return what it costs to use up ``glyph`` without a token, between ``column`` tokens and the rest."""
        if column < len(self._tokens) and self._tokens[column].kind is TokenKind.RUN:
            return 0 if glyph.is_separator else RUN_COST, _FEED_RUN
        is_after = column == len(self._tokens)
        is_outside = self._reach is not Reach.WHOLE and (column == 0 or is_after)
        if glyph.is_separator:
            return 0, _LEAVE_OUTSIDE if is_outside else _PASS_SEPARATOR
        if is_outside and (is_after or self._reach is Reach.MIDDLE):
            return LEFT_OVER_COST, _LEAVE_OUTSIDE
        return _NEVER, _LEAVE_OUTSIDE


def _take(token: Token, glyph: Glyph) -> tuple[int, _Move]:
    """Return what it costs to use up ``glyph`` by ``token``."""
    if token.kind is TokenKind.UNREADABLE:
        return UNREADABLE_COST, _GUESS
    if token.kind is TokenKind.RUN or worn(glyph.plain) not in worn(token.chars):
        return _NEVER, _GUESS
    cost = EITHER_COST if token.kind is TokenKind.EITHER else 0
    if glyph.plain not in token.chars:
        cost += LOOK_ALIKE_COST
    return cost, _GUESS if cost else _AGREE


def _positions(marked: Iterable[Glyph]) -> set[int]:
    return {position for glyph in marked for position in range(glyph.start, glyph.stop)}
