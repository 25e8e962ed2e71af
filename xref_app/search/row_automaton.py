"""Which of some thousand numbers a pattern matches, with none, one or two slips: all at once, 64 bits a number.

The exact judgement is that of ``matching`` and ``edits``, number by number; this one finds out for whom it is worth it.
Bits 0 to 30 of a state follow the pattern from the start of the number, bits 32 to 62 from anywhere: bit i says that i
tokens may be used up.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import END, worn_codes, worn_table
from xref_app.search.pattern import Token, TokenKind

MOST_TOKENS: Final = 30
_FREE: Final = 32  # where the bits begin that follow the pattern from anywhere

States = NDArray[np.uint64]
Flags = NDArray[np.bool_]
_WORN: Final = np.frombuffer(worn_table(), np.uint8)


class Reached(NamedTuple):
    """Per row, whether the pattern covers the whole, a prefix, or a middle of it."""

    whole: Flags
    prefix: Flags
    middle: Flags


@lru_cache(maxsize=512)
def _taking(token: Token) -> States:
    """Return for each code 1 if ``token`` may stand for it, otherwise 0; look-alikes count as the same."""
    if token.kind is TokenKind.UNREADABLE:
        takes = np.ones(256, np.uint64)
    else:
        takes = np.isin(_WORN, worn_codes(token.chars)).astype(np.uint64)
    takes[END] = 0
    return takes


class RowAutomaton:
    """Follows one pattern of at most ``MOST_TOKENS`` tokens through many numbers."""

    def __init__(self, tokens: Sequence[Token]) -> None:
        count = len(tokens)
        both = 1 | 1 << _FREE
        takes = np.zeros(256, np.uint64)
        for place, token in enumerate(tokens):
            takes |= _taking(token) * np.uint64(both << place)
        self._takes = takes
        self._runs = np.uint64(_bits(tokens, TokenKind.RUN) * both)
        self._unreadable = np.uint64(_bits(tokens, TokenKind.UNREADABLE) * both)
        self._skips = _longest_stretch(tokens) if self._unreadable else 0
        self._open = np.uint64(((1 << count) - 1) * both)
        self._whole, self._middle = np.uint64(1 << count), np.uint64(1 << count + _FREE)
        self._begin = both

    def reached(
        self, codes: NDArray[np.uint8], lengths: NDArray[np.int64], separated: Flags, slips: int
    ) -> list[Reached]:
        """Return what is reached with 0 to ``slips`` slips.

        Args:
            codes: Shape (rows, width), ``END`` behind each number; rows in ascending order of ``lengths``.
            lengths: How many codes each row has.
            separated: Rows with separators: there an unreadable character may have been one.
            slips: The most that are looked at.
        """
        skip = np.where(separated, self._unreadable, np.uint64(0)) if self._skips else None
        states = self._first(len(codes), slips, skip)
        older = [state.copy() for state in states]
        seen = [state.copy() for state in states]
        columns = np.ascontiguousarray(codes.T)
        firsts = np.searchsorted(lengths, np.arange(len(columns)), side="right").tolist()
        before = np.zeros(len(codes), np.uint64)
        for column, first in zip(columns, firsts, strict=True):
            if first == len(codes):
                break
            takes = self._takes.take(column[first:])
            live = [state[first:] for state in states]
            skipped = None if skip is None else skip[first:]
            after = self._stepped(live, [state[first:] for state in older], (takes, before[first:]), skipped)
            for level, new in enumerate(after):
                older[level][first:] = live[level]
                states[level][first:] = new
                seen[level][first:] |= new
            before[first:] = takes >> np.uint64(1)
        return [
            Reached((state & self._whole) != 0, (every & self._whole) != 0, (every & self._middle) != 0)
            for state, every in zip(states, seen, strict=True)
        ]

    def _first(self, rows: int, slips: int, skip: States | None) -> list[States]:
        states = [self._closed(np.full(rows, self._begin, np.uint64), skip)]
        for _ in range(slips):
            states.append(self._closed(states[-1] | (states[-1] & self._open) << np.uint64(1), skip))
        return states

    def _closed(self, state: States, skip: States | None) -> States:
        """Return the state with everything that may be left out for nothing left out too."""
        one = np.uint64(1)
        if self._runs:
            state |= (state & self._runs) << one
        if skip is not None:
            for _ in range(self._skips):
                state |= (state & skip) << one
                if self._runs:
                    state |= (state & self._runs) << one
        return state

    def _stepped(
        self, live: list[States], older: list[States], takes: tuple[States, States], skip: States | None
    ) -> list[States]:
        """Return the states one character on; ``takes`` are those of this character and of the one before it."""
        now, before = takes
        one = np.uint64(1)
        new = (live[0] & now) << one
        new |= np.uint64(1 << _FREE)
        if self._runs:
            new |= live[0] & self._runs
        after = [self._closed(new, skip)]
        for level in range(1, len(live)):
            below = live[level - 1]
            new = live[level] & now
            new |= (below | after[-1]) & self._open  # a wrong character, or one typed too many
            new <<= one
            new |= below  # a character that was not typed
            swapped = older[level - 1] & now
            swapped &= before
            swapped <<= np.uint64(2)
            new |= swapped
            if self._runs:
                new |= live[level] & self._runs
            after.append(self._closed(new, skip))
        return after


def _bits(tokens: Sequence[Token], kind: TokenKind) -> int:
    return sum(1 << place for place, token in enumerate(tokens) if token.kind is kind)


def _longest_stretch(tokens: Sequence[Token]) -> int:
    """Return how many unreadable tokens stand together at most."""
    longest = stretch = 0
    for token in tokens:
        stretch = stretch + 1 if token.kind is TokenKind.UNREADABLE else 0
        longest = max(longest, stretch)
    return longest
