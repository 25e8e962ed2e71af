"""Whether, how far and how well a pattern matches a number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from xref_app.search.alignment import Laid, Reach, lay_over
from xref_app.search.filed import FiledNumber
from xref_app.search.folding import SEPARATOR, glyphs, worn
from xref_app.search.pattern import NumberPattern, Token, TokenKind
from xref_app.search.ranking import (
    EITHER_COST,
    LEFT_OVER_COST,
    RUN_COST,
    UNREADABLE_COST,
    RankClass,
)

_RANK_OF: Final = {Reach.PREFIX: RankClass.PREFIX, Reach.MIDDLE: RankClass.MIDDLE}


@dataclass(frozen=True, slots=True)
class Match:
    """How a pattern matches a number: its class, its cost, and the positions (from 0) in the number's text.

    ``matched`` agree with what was typed, ``guessed`` had to be guessed (unreadable, a run, one of several, or a
    look-alike). For a whole match they share out all positions between them.
    """

    rank: RankClass
    cost: int
    matched: tuple[int, ...]
    guessed: tuple[int, ...]


class Outline(NamedTuple):
    """What can be said of a match at a glance: how far it reaches, and a class and cost that it cannot beat."""

    reach: Reach
    rank: RankClass
    cost: int


class Matcher:
    """Compares one pattern with many numbers."""

    def __init__(self, pattern: NumberPattern) -> None:
        self.pattern = pattern
        self.literal_runs = _literal_runs(pattern.tokens)
        self._automaton = _Automaton(pattern.tokens)
        self._is_plain = pattern.is_plain
        self._length = len(pattern.tokens) - pattern.count(TokenKind.RUN)
        unreadable = pattern.count(TokenKind.UNREADABLE) * UNREADABLE_COST
        self._least_cost = unreadable + pattern.count(TokenKind.EITHER) * EITHER_COST

    def outline(self, number: FiledNumber) -> Outline | None:
        """Return how far the pattern reaches, without laying it over the number; None if it does not match."""
        reach = self._plain_reach(number.worn) if self._is_plain else self._automaton.reach(number.shape)
        if reach is None:
            return None
        left_over = max(0, len(number.worn) - self._length)
        if reach is not Reach.WHOLE:
            return Outline(reach, _RANK_OF[reach], self._least_cost + left_over * LEFT_OVER_COST)
        rank = RankClass.EXACT if self._is_plain else RankClass.UNREADABLE
        return Outline(reach, rank, self._least_cost + left_over * RUN_COST)

    def match(self, number: FiledNumber) -> Match | None:
        """Return the best match of the pattern with the number; None if it does not match.

        A whole match is better than one at the start, and that better than one in the middle, whatever they cost.
        """
        outline = self.outline(number)
        # Whole numbers written with other separators have a class of their own.
        is_whole = outline is not None and outline.reach is Reach.WHOLE and self._is_plain
        parted = frozenset[int]() if is_whole else self.pattern.parted
        laid = outline and lay_over(self.pattern.tokens, number.row.text, outline.reach, parted)
        if not outline or not laid:
            return None
        return Match(self._rank(outline.reach, laid, number.row.text), laid.cost, laid.matched, laid.guessed)

    def _rank(self, reach: Reach, laid: Laid, text: str) -> RankClass:
        if reach is not Reach.WHOLE:
            return _RANK_OF[reach]
        if not self._is_plain:
            return RankClass.UNREADABLE
        if laid.cost:
            return RankClass.LOOK_ALIKE
        is_same = self.pattern.spelled == "".join(glyph.char for glyph in glyphs(text))
        return RankClass.EXACT if is_same else RankClass.SEPARATORS

    def _plain_reach(self, worn_number: str) -> Reach | None:
        key = self.literal_runs[0]
        if key not in worn_number:
            return None
        if not worn_number.startswith(key):
            return Reach.MIDDLE
        return Reach.WHOLE if len(key) == len(worn_number) else Reach.PREFIX


def _literal_runs(tokens: Sequence[Token]) -> tuple[str, ...]:
    """Return the stretches of readable characters, worn spelling, longest first: a match holds every one."""
    text = "".join(worn(token.chars) if token.kind is TokenKind.LITERAL else SEPARATOR for token in tokens)
    return tuple(sorted(set(text.split(SEPARATOR)) - {""}, key=lambda run: (-len(run), run)))


class _Automaton:
    """Follows all ways through a pattern at once: bit i says that i tokens may be used up.

    ``pinned`` begins with the number, ``free`` anywhere. A run may end at any time: ``(state & runs) << 1``.

    Time grows with the length of the number only, whatever runs and unreadable characters the pattern has.
    """

    def __init__(self, tokens: Sequence[Token]) -> None:
        bits = [1 << place for place in range(len(tokens))]
        paired = list(zip(bits, tokens, strict=True))
        self._final = 1 << len(tokens)
        self._everywhere = 2 * self._final - 1
        self._runs = sum(bit for bit, token in paired if token.kind is TokenKind.RUN)
        self._unreadable = sum(bit for bit, token in paired if token.kind is TokenKind.UNREADABLE)
        readable = set(worn("".join(token.chars for token in tokens)))
        self._takes = {
            char: self._unreadable | sum(bit for bit, token in paired if char in worn(token.chars)) for char in readable
        }

    def reach(self, shape: str) -> Reach | None:
        """Return how far the pattern covers a number of this ``shape``."""
        runs = self._runs
        start = 1 | (1 & runs) << 1
        pinned = free = start
        is_prefix, is_middle = bool(start & self._final), False
        for char in shape:
            takes = self._takes.get(char, self._unreadable)
            stays = self._everywhere if char == SEPARATOR else runs
            pinned = (pinned & takes) << 1 | pinned & stays
            pinned |= (pinned & runs) << 1
            free = start | (free & takes) << 1 | free & stays
            free |= (free & runs) << 1
            is_prefix = is_prefix or pinned & self._final > 0
            is_middle = is_middle or free & self._final > 0
            if is_middle and not pinned:
                break
        if pinned & self._final:
            return Reach.WHOLE
        if is_prefix:
            return Reach.PREFIX
        return Reach.MIDDLE if is_middle else None
