"""Numbers one slip away: a wrong, missing, extra or swapped character. Tried only when nothing else matches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from xref_app.search.alignment import Reach, lay_over
from xref_app.search.filed import FiledNumber
from xref_app.search.folding import worn
from xref_app.search.matching import Match
from xref_app.search.pattern import UNREADABLE, NumberPattern, Token, TokenKind
from xref_app.search.ranking import EITHER_COST, UNREADABLE_COST, RankClass

# House rule: with fewer readable characters, one slip away is nearly everything.
FEWEST_READABLE: Final = 3


@dataclass(frozen=True, slots=True)
class _Correction:
    """The tokens as they should have been, and what laying them costs more than what was typed."""

    tokens: tuple[Token, ...]
    extra_cost: int


class EditMatcher:
    """Finds the numbers that one slip turns into what was typed; look-alikes still count as the same character."""

    def __init__(self, pattern: NumberPattern) -> None:
        self._tokens = pattern.tokens
        readable = pattern.count(TokenKind.LITERAL, TokenKind.EITHER)
        self.can_help = readable >= FEWEST_READABLE and not pattern.count(TokenKind.RUN)
        self._allowed = [worn(token.chars) for token in pattern.tokens]

    def is_near(self, number: FiledNumber) -> bool:
        """Return whether the number may be one slip away; False is certain, True is not."""
        folded = number.worn
        if not folded or abs(len(folded) - len(self._tokens)) > 1:
            return False
        return self._accepts(0, folded[0]) or self._accepts(-1, folded[-1])

    def match(self, number: FiledNumber) -> Match | None:
        """Return the cheapest match one slip away, its class ``EDIT``; None if there is none.

        The slip itself costs nothing, so that hits are ordered by the look-alikes they need besides. The characters
        concerned are guessed.
        """
        matches = []
        for correction in self._corrections(number.worn):
            laid = lay_over(correction.tokens, number.row.text, Reach.WHOLE)
            if laid:
                matches.append(Match(RankClass.EDIT, laid.cost - correction.extra_cost, laid.matched, laid.guessed))
        return min(matches, key=lambda match: match.cost, default=None)

    def _accepts(self, place: int, char: str) -> bool:
        return not self._allowed[place] or char in self._allowed[place]

    def _corrections(self, folded: str) -> Iterator[_Correction]:
        """Yield every way to put one slip right that makes the tokens cover ``folded``."""
        ahead = _agreeing(self._allowed, folded)
        behind = _agreeing(self._allowed[::-1], folded[::-1])
        match len(folded) - len(self._tokens):
            case 1:
                yield from self._with_one_more(range(max(0, len(self._tokens) - behind), ahead + 1))
            case 0:
                yield from self._with_one_wrong(range(max(0, len(folded) - 1 - behind), ahead + 1))
                yield from self._with_two_swapped(range(max(0, len(folded) - 2 - behind), ahead + 1), folded)
            case -1:
                yield from self._with_one_less(range(max(0, len(folded) - behind), ahead + 1))

    def _with_one_more(self, places: range) -> Iterator[_Correction]:
        for place in places:
            yield _Correction((*self._tokens[:place], UNREADABLE, *self._tokens[place:]), UNREADABLE_COST)

    def _with_one_wrong(self, places: range) -> Iterator[_Correction]:
        for place in places:
            if place < len(self._tokens):
                yield _Correction((*self._tokens[:place], UNREADABLE, *self._tokens[place + 1 :]), UNREADABLE_COST)

    def _with_one_less(self, places: range) -> Iterator[_Correction]:
        for place in places:
            yield _Correction((*self._tokens[:place], *self._tokens[place + 1 :]), 0)

    def _with_two_swapped(self, places: range, folded: str) -> Iterator[_Correction]:
        for place in places:
            pair = self._tokens[place : place + 2]
            if len(pair) == 2 and self._accepts(place, folded[place + 1]) and self._accepts(place + 1, folded[place]):
                swapped = [_in_doubt(token) for token in reversed(pair)]
                extra_cost = sum(EITHER_COST for token in pair if token.kind is TokenKind.LITERAL)
                yield _Correction((*self._tokens[:place], *swapped, *self._tokens[place + 2 :]), extra_cost)


def _in_doubt(token: Token) -> Token:
    """Return ``token`` so that what it covers counts as guessed: it stands in another place than typed."""
    return Token(TokenKind.EITHER, token.chars) if token.kind is TokenKind.LITERAL else token


def _agreeing(allowed: Sequence[str], folded: str) -> int:
    """Return how many characters at the start agree; an empty ``allowed`` accepts anything."""
    agreeing = 0
    for chars, char in zip(allowed, folded, strict=False):
        if chars and char not in chars:
            break
        agreeing += 1
    return agreeing
