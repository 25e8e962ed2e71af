"""Entries of the catalog that a new one may be once more, and numbers typed with letters that deceive."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Kind, field_for
from xref_app.core.sentence import Sentence, marked
from xref_app.search.edits import EditMatcher
from xref_app.search.filed import FiledNumber, NumberRow
from xref_app.search.pattern import literal_number
from xref_app.services.catalog import Catalog
from xref_app.services.kept_tables import table_of_kind
from xref_app.services.size_match import Match, Readings

if TYPE_CHECKING:
    from xref_app.services.value_table import ValueTable

MIXED_SCRIPT = marked(
    "duplicates",
    "“{text}” mixes {scripts} letters: “{odd}” at place {place} may only look like the one meant. Type it again if so.",
)
INVISIBLE = marked(
    "duplicates",
    "“{text}” holds a character that nobody can see ({name}) at place {place}: delete it and type the text by hand.",
)

# House rule, ux.md: so many sizes that agree make an entry worth a look before another is added.
FEWEST_AGREEING = 4
# Words and yes-or-no agree between most pumps of a shop; only what was measured or read off a plate counts.
_SIZES = frozenset({Kind.NUMBER, Kind.HOLES, Kind.HEIGHTS, Kind.THREAD})


@dataclass(frozen=True, slots=True)
class Duplicate:
    """An entry that may be the new one: the titles of the sizes that agree, and its number that is nearly the same."""

    entry_id: str
    number: str
    maker: str
    agreeing: tuple[str, ...]
    near_number: str


class InvisibleCharacterError(XrefError):
    """A text with a character that shows nothing or turns the writing round.

    Attributes:
        text: The text as typed.
        place: Where the character stands, from 1.
    """

    def __init__(self, text: str, place: int) -> None:
        self.text = text
        self.place = place
        super().__init__(str(_told_invisible(text, place)))

    def __reduce__(self) -> tuple[type[InvisibleCharacterError], tuple[str, int]]:
        return (type(self), (self.text, self.place))


def duplicates(
    catalog: Catalog, kind: str, readings: Readings, numbers: Sequence[str], *, leaving_out: str = ""
) -> tuple[Duplicate, ...]:
    """Return the entries of ``kind`` that may be meant: nearly the same number, or sizes that agree while none differs.

    A number is nearly the same if only case, separators, script or worn look-alikes differ, or one slip does: a
    character wrong, missing or too many, or two swapped.

    Args:
        catalog: Where to look.
        kind: ``pump``, ``driver`` or ``machine``.
        readings: What was measured of the new one.
        numbers: What it is called.
        leaving_out: The entry that is being changed, which is no duplicate of itself.
    """
    from xref_app.services.held_against import HeldAgainst  # noqa: PLC0415 - numpy only when somebody asks

    held = HeldAgainst.of(table_of_kind(catalog, kind), readings)
    sizes = frozenset(field_id for field_id in readings if field_for(field_id).kind in _SIZES)
    is_same = (held.agreeing(sizes) >= FEWEST_AGREEING) & ~held.contradicted()
    near = _NEAR.of(catalog, held.table, tuple(number for number in numbers if number.strip()))
    found: list[Duplicate] = []
    for place in sorted({*is_same.nonzero()[0].tolist(), *near}):
        entry_id = held.table.ids[place]
        if entry_id != leaving_out:
            agreeing = [one for one in held.of_entry(place)[Match.AGREES] if one in sizes]
            titles = tuple(field_for(field_id).title for field_id in agreeing)
            maker = catalog.entries[entry_id].maker
            found.append(Duplicate(entry_id, catalog.number_of(entry_id), maker, titles, near.get(place, "")))
    return tuple(sorted(found, key=lambda one: (one.near_number == "", -len(one.agreeing), one.number, one.entry_id)))


def mixed_script(text: str) -> Sentence | None:
    """Return what is odd about the letters of a number or name, or None; the text is stored as it was typed.

    An invisible character is told first: with it the text must not be taken (``refuse_invisible``). Letters of several
    scripts are a warning only.
    """
    place = _invisible_place(text)
    if place:
        return _told_invisible(text, place)
    letters = [(number, letter, script) for number, letter in enumerate(text, 1) if (script := _script_of(letter))]
    scripts = list(dict.fromkeys(script for _, _, script in letters))
    if len(scripts) < 2:
        return None
    rarest = min(reversed(scripts), key=lambda script: sum(one == script for _, _, one in letters))
    place, odd = next((number, letter) for number, letter, script in letters if script == rarest)
    return Sentence(MIXED_SCRIPT, {"text": text, "scripts": " and ".join(scripts), "odd": odd, "place": place})


def refuse_invisible(text: str) -> None:
    """Take ``text`` only if every character of it can be seen, or is a plain space.

    Raises:
        InvisibleCharacterError: one cannot.
    """
    place = _invisible_place(text)
    if place:
        raise InvisibleCharacterError(text, place)


class _Sought:
    """A number that others are compared with; every mark in it stands for itself, none for an unreadable character."""

    def __init__(self, number: str) -> None:
        self._worn = FiledNumber.of(NumberRow(number, "", "")).worn
        self.pattern = literal_number(number)
        self._edits = EditMatcher(self.pattern)

    def is_near(self, other: FiledNumber) -> bool:
        if not self._worn or not other.worn:
            return False
        if self._worn == other.worn:
            return True
        return self._edits.can_help and self._edits.is_near(other) and self._edits.match(other) is not None


class _NearNumbers:
    """The entries whose number is nearly one of those sought; asked after every field of one sheet, found once."""

    def __init__(self) -> None:
        self._last: tuple[ValueTable | None, tuple[str, ...], Mapping[int, str]] = (None, (), {})

    def of(self, catalog: Catalog, table: ValueTable, numbers: tuple[str, ...]) -> Mapping[int, str]:
        """Return the near number by the place of its entry in ``table``, which is one of ``catalog``."""
        last_table, last_numbers, found = self._last
        if last_table is not table or last_numbers != numbers:
            sought = [_Sought(number) for number in numbers]
            near = (
                (place, _near_number(catalog, table.ids[place], sought)) for place in _places(catalog, table, sought)
            )
            found = {place: number for place, number in near if number} if sought else {}
            self._last = (table, numbers, found)
        return found


_NEAR = _NearNumbers()


def _places(catalog: Catalog, table: ValueTable, sought: Iterable[_Sought]) -> Iterable[int]:
    """Return the entries of ``table`` whose numbers to compare: of a large store those that the index finds."""
    if catalog.on_demand is None:
        return range(len(table))
    like = {entry_id for one in sought for entry_id in catalog.on_demand.numbered_like(one.pattern)}
    catalog.read_ahead(like)
    return [place for place, entry_id in enumerate(table.ids) if entry_id in like]


def _near_number(catalog: Catalog, entry_id: str, sought: Sequence[_Sought]) -> str:
    """Return the number of an entry that is nearly one of those sought, or an empty text."""
    filed = (FiledNumber.of(NumberRow(number, entry_id, "")) for number in _numbers(catalog, entry_id))
    return next((other.row.text for other in filed if any(one.is_near(other) for one in sought)), "")


def _numbers(catalog: Catalog, entry_id: str) -> Iterator[str]:
    yield from (number.number for number in catalog.numbers.get(entry_id, ()))
    row = catalog.machines.get(entry_id)
    if row is not None:
        yield row.model


# Characters that show nothing although Unicode calls them letters, marks or symbols.
_BLANK_LETTERS = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0")
_INVISIBLE_CATEGORIES = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
# Signs of a unit that NFKC makes Greek letters; nobody takes them for Latin ones.
_UNIT_SIGNS = frozenset("\u00b5\u2126")
# What one language writes together.
_TOGETHER = {"CJK": "Japanese", "HIRAGANA": "Japanese", "KATAKANA": "Japanese", "KATAKANA-HIRAGANA": "Japanese"}


def _invisible_place(text: str) -> int:
    """Return where the first invisible character stands, from 1, or 0."""
    for place, char in enumerate(text, 1):
        if any(_is_invisible(one) for one in (char, *unicodedata.normalize("NFKC", char))):
            return place
    return 0


def _is_invisible(char: str) -> bool:
    is_selector = "\ufe00" <= char <= "\ufe0f" or "\u180b" <= char <= "\u180f" or "\U000e0100" <= char <= "\U000e01ef"
    return is_selector or char in _BLANK_LETTERS or unicodedata.category(char) in _INVISIBLE_CATEGORIES


def _told_invisible(text: str, place: int) -> Sentence:
    char = text[place - 1]
    name = unicodedata.name(char, f"U+{ord(char):04X}").lower()
    shown = "".join("\ufffd" if _is_invisible(one) else one for one in text)
    return Sentence(INVISIBLE, {"text": shown, "name": name, "place": place})


def _script_of(letter: str) -> str:
    """Return the script of a letter, its width and style apart; an empty text for what belongs to none or to several.

    Python knows no scripts, but the name of every letter begins with its own.
    """
    plain = unicodedata.normalize("NFKC", letter)[:1]
    if letter in _UNIT_SIGNS or not letter.isalpha() or unicodedata.category(plain) == "Lm":
        return ""
    script = unicodedata.name(plain, "").split(" ")[0]
    return _TOGETHER.get(script, script.capitalize())
