"""What somebody typed for a number, character by character: readable, unreadable, a run, or one of several."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.sentence import Sentence, marked
from xref_app.search.folding import SEPARATOR, Glyph, glyphs

# House rule: longer than any number on a plate, short enough that a pasted page costs nothing.
LONGEST_TYPED: Final = 64

UNREADABLE_MARK: Final = "?"
RUN_MARK: Final = "*"
_SET_OPENS: Final = "["
_SET_CLOSES: Final = "]"
# Control, format and half characters, and the breaks of lines and paragraphs.
_UNSEEN: Final = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
_UNSEEN_MARK: Final = "·"
# House rule: so much of what says nothing is skipped before a number; a page of it is no number.
_MOST_SKIPPED: Final = 1_000
_MARKS: Final = frozenset({UNREADABLE_MARK, RUN_MARK, _SET_OPENS, _SET_CLOSES})
_ONE_OF_HINT: Final = "Write the characters that it could be between square brackets, like [38]"

ONLY_START_READ = marked("find", "Only the first {count} characters were read.")


class PatternError(XrefError):
    """The typed text cannot be understood as a number.

    Attributes:
        typed: the text as typed (its first 64 characters).
        why: why it cannot be used, to be read after the text.
        advice: what to do, without the full stop.
    """

    def __init__(self, typed: str, why: str, advice: str) -> None:
        self.typed, self.why, self.advice = typed, why, advice
        super().__init__(typed, why, advice)

    def __str__(self) -> str:
        return f"“{_visible(self.typed)}” {self.why}. {self.advice}."


def _visible(text: str) -> str:
    """Return ``text`` with a dot for whatever would break or turn round the sentence it stands in."""
    return "".join(_UNSEEN_MARK if unicodedata.category(char) in _UNSEEN else char for char in text)


class TokenKind(Enum):
    """What stands at one place of a pattern."""

    LITERAL = auto()
    EITHER = auto()
    UNREADABLE = auto()
    RUN = auto()


@dataclass(frozen=True, slots=True)
class Token:
    """One place of a pattern; ``chars`` are the folded characters it may be (none for unreadable and for a run)."""

    kind: TokenKind
    chars: str = ""

    def __str__(self) -> str:
        if self.kind is TokenKind.EITHER:
            return f"{_SET_OPENS}{self.chars.upper()}{_SET_CLOSES}"
        return self.chars.upper() or (UNREADABLE_MARK if self.kind is TokenKind.UNREADABLE else RUN_MARK)


UNREADABLE: Final = Token(TokenKind.UNREADABLE)
RUN: Final = Token(TokenKind.RUN)


@dataclass(frozen=True, slots=True)
class NumberPattern:
    """What was typed, ready to be compared.

    ``typed`` is kept for showing, ``spelled`` is the folded text with its separators; ``note`` says when only the start
    of the text was read. Before the tokens at the places ``parted`` a separator was typed.
    """

    typed: str
    spelled: str
    tokens: tuple[Token, ...]
    note: Sentence | None = None
    parted: frozenset[int] = frozenset()

    def count(self, *kinds: TokenKind) -> int:
        """Return how many tokens are of one of ``kinds``."""
        return sum(token.kind in kinds for token in self.tokens)

    @property
    def is_plain(self) -> bool:
        """Return whether every character was readable."""
        return all(token.kind is TokenKind.LITERAL for token in self.tokens)

    def with_tokens(self, tokens: Sequence[Token]) -> NumberPattern:
        """Return the pattern of ``tokens`` instead, as if somebody had typed them without separators."""
        spelled = "".join(map(str, tokens))
        return NumberPattern(spelled, spelled.casefold(), tuple(tokens))


def literal_number(text: str) -> NumberPattern:
    """Return how a whole number is to be compared with others: every mark in it stands for itself."""
    tokens = tuple(Token(TokenKind.LITERAL, one.plain) for one in glyphs(text) if not one.is_separator)
    return NumberPattern(text, text.casefold(), tokens)


def parse_number(text: str) -> NumberPattern:
    """Return how ``text`` is to be compared with numbers.

    Letter case, separators and the script of look-alike letters do not count. ``?`` is one unreadable character, ``*``
    a run of any length (none too), ``[38]`` is 3 or 8. What stands after 64 characters is left out, with a note.

    Raises:
        PatternError: a bracket is left open, empty or out of place, or nothing is left to compare.
    """
    text = _from_first_sign(text.strip())
    start = text[:LONGEST_TYPED]
    is_cut = len(text) > LONGEST_TYPED
    if is_cut and start.rfind(_SET_OPENS) > start.rfind(_SET_CLOSES):
        start = start[: start.rfind(_SET_OPENS)]
        if not start:
            raise PatternError(text[:LONGEST_TYPED], "has more between its brackets than can be read", _ONE_OF_HINT)
    typed = glyphs(start)[:LONGEST_TYPED]
    reader = _Reader(start, typed)
    tokens = reader.tokens()
    if not tokens:
        raise PatternError(start, "has no letter or digit", "Type what can be read, with ? for each lost character")
    note = Sentence(ONLY_START_READ, {"count": LONGEST_TYPED}) if is_cut else None
    return NumberPattern(start, "".join(glyph.char for glyph in typed), tokens, note, frozenset(reader.parted))


def _from_first_sign(text: str) -> str:
    """Return ``text`` from its first sign on where nothing that would be read of it holds any."""
    for place, char in enumerate(text[:_MOST_SKIPPED]):
        if char in _MARKS or any(not glyph.is_separator for glyph in glyphs(char)):
            return text if place < LONGEST_TYPED else text[place:]
    return text


class _Reader:
    """Reads glyphs into tokens, one after the other."""

    def __init__(self, typed: str, read: Sequence[Glyph]) -> None:
        self._typed = typed
        self._rest = iter(read)
        self.parted: set[int] = set()

    def tokens(self) -> tuple[Token, ...]:
        found: list[Token] = []
        was_separator = False
        for glyph in self._rest:
            token = self._token(glyph)
            if token is not None and not (token is RUN and found[-1:] == [RUN]):
                if was_separator and found:
                    self.parted.add(len(found))
                found.append(token)
            was_separator = token is None
        return tuple(found)

    def _token(self, glyph: Glyph) -> Token | None:
        match glyph.char:
            case "?":
                return UNREADABLE
            case "*":
                return RUN
            case "[":
                return self._set()
            case "]":
                raise PatternError(self._typed, "closes a bracket that was not opened", _ONE_OF_HINT)
        return None if glyph.is_separator else Token(TokenKind.LITERAL, glyph.plain)

    def _set(self) -> Token:
        chars: dict[str, None] = {}
        for glyph in self._rest:
            if glyph.char == _SET_CLOSES:
                return self._one_of("".join(chars))
            if glyph.char in (_SET_OPENS, UNREADABLE_MARK, RUN_MARK, "-"):
                raise PatternError(self._typed, f"has “{glyph.char}” between its brackets", _ONE_OF_HINT)
            if glyph.plain != SEPARATOR:
                chars[glyph.plain] = None
        raise PatternError(self._typed, "opens a bracket that is not closed", _ONE_OF_HINT)

    def _one_of(self, chars: str) -> Token:
        if not chars:
            raise PatternError(self._typed, "has brackets with nothing between them", _ONE_OF_HINT)
        return Token(TokenKind.LITERAL if len(chars) == 1 else TokenKind.EITHER, chars)
