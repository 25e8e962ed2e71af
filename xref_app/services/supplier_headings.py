"""What stands above a column, understood: which field it is, and the unit of the bare numbers below it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from xref_app.core.fields.fields import all_fields
from xref_app.core.quantity.units import Unit, unit_or_none
from xref_app.services import supplier_words as words
from xref_app.services.supplier_columns import Column, SheetKind, fields_of_kind, quantity_of

_BRACKETS: Final = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_TOKENS: Final = re.compile(r"[^\W_]+|[#ø⌀]")
# The last words of a heading: "Bolt circle in.", "Flow US gal/min", "Ø mm", 'Bore "'.
_LAST: Final = re.compile(r"(?:^|[\s,;:/])((?:us |lb |ft |lb\.|n)?[^\s,;:]+)\s*$", re.IGNORECASE)
_UNIT_ENDINGS: Final = re.compile(r"_(mm|bar|lpm|rpm|kw|nm|c|deg)$")
# House rule: of a longer heading the rest is not looked at.
_LONGEST: Final = 120


@dataclass(frozen=True, slots=True)
class Guess:
    """What a heading seems to be: the more of its words are explained, the higher ``score``."""

    target: str
    unit: str
    score: float


def guess_heading(heading: str, kind: SheetKind) -> Guess | None:
    """Return what a column with this heading seems to be in a list of ``kind``, or None where nothing stands out."""
    plain = heading[:_LONGEST].replace("_", " ")
    found = [guess for rest, unit in _units(plain) for guess in _guesses(rest, unit, kind)]
    best = sorted(found, key=lambda one: one.score, reverse=True)[:2]
    if not best or (len(best) == 2 and best[0].score == best[1].score and best[0].target != best[1].target):
        return None
    return best[0]


def guess_columns(headings: Sequence[str], kind: SheetKind) -> tuple[Column, ...]:
    """Return every column with what it seems to be; each field goes to the one column that names it best."""
    guesses = [guess_heading(heading, kind) if heading else None for heading in headings]
    best: dict[str, int] = {}
    for place, guess in enumerate(guesses):
        if guess is not None and (guess.target not in best or guess.score > _score(guesses[best[guess.target]])):
            best[guess.target] = place
    columns = []
    for place, (heading, guess) in enumerate(zip(headings, guesses, strict=True)):
        is_best = guess is not None and best[guess.target] == place
        columns.append(
            Column(place, heading, guess.target, guess.unit) if guess and is_best else Column(place, heading)
        )
    return tuple(columns)


def folded(text: str) -> str:
    """Return a text in small letters without accents, as headings are compared."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(one for one in apart if not unicodedata.combining(one))


def _score(guess: Guess | None) -> float:
    return guess.score if guess else 0.0


def _units(heading: str) -> Iterator[tuple[str, Unit | None]]:
    """Yield each way to part a heading into words and a unit, at last the one without any."""
    for inside in _BRACKETS.finditer(heading):
        rest = heading[: inside.start()] + " " + heading[inside.end() :]
        yield from _with_unit(rest, inside[1])
    bare = _BRACKETS.sub(" ", heading).strip()
    last = _LAST.search(bare)
    if last is not None:
        yield from _with_unit(bare[: last.start(1)], last[1])
    yield heading, None


def _with_unit(rest: str, written: str) -> Iterator[tuple[str, Unit]]:
    """Yield the words with the unit that stands beside them; of several units (hp/kW) all but one stay words."""
    unit = _unit(written)
    if unit is not None:
        yield rest, unit
        return
    one, _, others = written.partition("/")
    first, second = _unit(one), _unit(others)
    if first is not None and second is not None and first.kind is second.kind:
        yield f"{rest} {others}", first


def _unit(written: str) -> Unit | None:
    plain = unicodedata.normalize("NFKC", written).strip().strip(".:;,").replace("″", '"').replace("”", '"')
    return unit_or_none("in" if plain.casefold() == "zoll" else plain) if plain else None


def _guesses(rest: str, unit: Unit | None, kind: SheetKind) -> Iterator[Guess]:
    tokens = _tokens(_BRACKETS.sub(" ", rest) if unit is None else rest)
    other_units = frozenset(one for one in tokens if unit is not None and _is_of_kind(one, unit))
    tokens -= other_units
    symbol = unit.symbol if unit and not other_units else ""
    if unit is not None and not tokens - {"max"}:
        yield from _of_bare_unit(unit, symbol, kind, is_max=bool(tokens))
    for target, phrases in _phrases(kind).items():
        if unit is not None and quantity_of(target) is not unit.kind:
            continue
        fitting = (one for one in phrases if one <= tokens and _may_stand_beside(tokens - one, target))
        explained = max(map(len, fitting), default=0)
        if explained:
            # Words that nobody explained count against it; a unit that agrees speaks for it.
            yield Guess(target, symbol, explained / len(tokens) + 0.01 * explained + (0.5 if unit else 0.0))


def _may_stand_beside(unexplained: frozenset[str], target: str) -> bool:
    """Say whether words that nothing explains leave a column what it is.

    Of a size none may be left: "intermittent pressure" is not what a pump is rated for.
    """
    is_size = quantity_of(target) is not None or target in all_fields() or target == words.HOLE_COUNT
    return not unexplained - {"pump"} if is_size else not unexplained & words.DECISIVE


def _of_bare_unit(unit: Unit, symbol: str, kind: SheetKind, *, is_max: bool) -> Iterator[Guess]:
    by_unit = words.PUMP_UNITS if kind.is_of_pumps else words.DRIVER_UNITS
    for target in by_unit.values():
        if quantity_of(target) is unit.kind:
            is_max_speed = is_max and target == "rating_speed_rpm"
            yield Guess("rating_max_speed_rpm" if is_max_speed else target, symbol, 1.0)


def _is_of_kind(token: str, unit: Unit) -> bool:
    """Say whether a word beside a unit is another unit of its kind: "psi / bar" leaves open which one counts."""
    other = unit_or_none(token)
    return other is not None and other.kind is unit.kind


def _tokens(text: str) -> frozenset[str]:
    found = (words.SAME_WORDS.get(one, one) for one in _TOKENS.findall(folded(text)))
    return frozenset(one for one in found if one not in words.FILLERS)


@cache
def _phrases(kind: SheetKind) -> Mapping[str, tuple[frozenset[str], ...]]:
    """Return all phrases of each target as sets of words: those of the table, and each field's own title and name."""
    table = words.PUMP_PHRASES if kind.is_of_pumps else words.DRIVER_PHRASES
    phrases = {target: [_tokens(one) for one in said] for target, said in table.items()}
    for field in fields_of_kind(kind):
        if field.field_id.endswith("_turn"):  # makers look from either end: never proposed
            continue
        own = (field.title, _UNIT_ENDINGS.sub("", field.field_id).replace("_", " "))
        phrases.setdefault(field.field_id, []).extend(_tokens(one) for one in own)
    return {target: tuple(one for one in said if one) for target, said in phrases.items()}
