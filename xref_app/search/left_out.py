"""What to try when nothing matches: the one typed character without which something would."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Final

from xref_app.core.sentence import Sentence, marked
from xref_app.search.folding import glyphs
from xref_app.search.index import NumberHits, NumberIndex
from xref_app.search.pattern import RUN_MARK, UNREADABLE, UNREADABLE_MARK, NumberPattern, TokenKind
from xref_app.search.ranking import RankClass

SLIPS_AWAY: Final = marked("find", "Nothing matches all of {typed}. These are one or two characters away.")
NOTHING: Final = marked("find", "Nothing matches {typed}, nor with any one character left out.")
WITHOUT_FIRST: Final = marked("find", "Nothing matches all of {typed}. Without the first character: {entries}.")
WITHOUT_LAST: Final = marked("find", "Nothing matches all of {typed}. Without the last character: {entries}.")
WITH_ONE_UNREADABLE: Final = marked(
    "find", "Nothing matches all of {typed}. With ? in place of {char} ({place} character): {entries}."
)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A token of a pattern (``place``, from 0) without which ``count`` entries match."""

    place: int
    count: int


def best_left_out(pattern: NumberPattern, index: NumberIndex, kinds: Collection[str] | None = None) -> LeftOut | None:
    """Return the one character without which the fewest entries, but at least one, match.

    The first and the last character are dropped; one between them is taken as unreadable. Of several that leave the
    same number of entries the last is named. None: no single character is to blame.
    """
    found = [LeftOut(place, index.count(without, kinds)) for place, without in _without_one(pattern)]
    return min((left for left in found if left.count), key=lambda left: (left.count, -left.place), default=None)


def no_match_advice(hits: NumberHits, index: NumberIndex, kinds: Collection[str] | None = None) -> Sentence | None:
    """Return what to say when no number holds what was typed; None when one does."""
    pattern = hits.pattern
    if hits.total:
        is_slip = [hit.rank for hit in hits.hits[:1]] == [RankClass.EDIT]
        return Sentence(SLIPS_AWAY, {"typed": pattern.typed}) if is_slip else None
    left_out = best_left_out(pattern, index, kinds)
    if left_out is None:
        return Sentence(NOTHING, {"typed": pattern.typed})
    entries = f"{left_out.count} {'entry' if left_out.count == 1 else 'entries'}"
    values: dict[str, object] = {"typed": pattern.typed, "entries": entries}
    if left_out.place == len(pattern.tokens) - 1:
        return Sentence(WITHOUT_LAST, values)
    if left_out.place == 0:
        return Sentence(WITHOUT_FIRST, values)
    values |= {
        "char": str(pattern.tokens[left_out.place]),
        "place": _ordinal(_place_in_text(pattern.typed, left_out.place)),
    }
    return Sentence(WITH_ONE_UNREADABLE, values)


def _place_in_text(typed: str, place: int) -> int:
    """Return where in the text as typed, from 1, the token ``place`` (from 0) begins; dashes and blanks count too."""
    begins: list[int] = []
    last, in_set = "", False
    for glyph in glyphs(typed):
        if in_set:
            in_set = glyph.char != "]"
            continue
        is_dropped = glyph.is_separator and glyph.char not in ("[", UNREADABLE_MARK, RUN_MARK)
        if is_dropped or glyph.char == last == RUN_MARK:
            continue
        last, in_set = glyph.char, glyph.char == "["
        begins.append(glyph.start + 1)
    return begins[place]


def _ordinal(place: int) -> str:
    """Return ``place`` as people count: 1st, 2nd, 3rd, 11th."""
    ends = {1: "st", 2: "nd", 3: "rd"}
    is_teen = place // 10 % 10 == 1
    return f"{place}{'th' if is_teen else ends.get(place % 10, 'th')}"


def _without_one(pattern: NumberPattern) -> Iterator[tuple[int, NumberPattern]]:
    """Yield the pattern without each of its characters in turn, if something readable is left."""
    tokens = pattern.tokens
    last = len(tokens) - 1
    for place, token in enumerate(tokens):
        if token.kind is TokenKind.RUN:
            continue
        instead = () if place in (0, last) else (UNREADABLE,)
        without = pattern.with_tokens((*tokens[:place], *instead, *tokens[place + 1 :]))
        if without.count(TokenKind.LITERAL, TokenKind.EITHER) and without.tokens != tokens:
            yield place, without
