"""How a typed text is understood: a pump number, a machine model, a size; and the words that say so."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.show import show_mm
from xref_app.core.sentence import Sentence, marked
from xref_app.search.index import DEFAULT_LIMIT, NumberHits, NumberIndex
from xref_app.search.left_out import no_match_advice
from xref_app.search.pattern import NumberPattern, TokenKind
from xref_app.search.ranking import RankClass

A_SIZE: Final = marked("find", "a size.")
MEASURE_SIZE: Final = marked("find", "This reads as a size: {size}. Measure with F7.")
UNCLEAR_SIZE: Final = marked("find", "{trouble} Measure with F7.")

# A whole, decimal (point or comma), fractional or mixed number, then a unit of length. Whether it can be taken as a
# length without doubt is the parser's business (core.quantity.lengths).
_SIZE: Final = re.compile(
    r"""\s* (?: \d+ (?:\s+|\s*-\s*) \d+\s*/\s*\d+ | \d+\s*/\s*\d+ | \d*[.,]?\d+ )
        \s* (?: mm | cm | in | in\. | inch | inches | " | ″ | ” | '' ) \s*""",
    re.VERBOSE | re.IGNORECASE,
)


class ReadKind(Enum):
    """What a typed text is taken for."""

    NUMBER = auto()
    MODEL = auto()
    SIZE = auto()


class _Doubt(Enum):
    """How much of the typed number could be read."""

    NONE = auto()
    ONE = auto()
    SEVERAL = auto()
    RUN = auto()
    RUN_AND_ONE = auto()
    RUN_AND_SEVERAL = auto()


_WORDS: Final = {
    "pump": {
        _Doubt.NONE: marked("find", "pump number."),
        _Doubt.ONE: marked("find", "pump number, 1 character unreadable."),
        _Doubt.SEVERAL: marked("find", "pump number, {count} characters unreadable."),
        _Doubt.RUN: marked("find", "pump number, a part missing."),
        _Doubt.RUN_AND_ONE: marked("find", "pump number, 1 character unreadable and a part missing."),
        _Doubt.RUN_AND_SEVERAL: marked("find", "pump number, {count} characters unreadable and a part missing."),
    },
    "machine": {
        _Doubt.NONE: marked("find", "machine model."),
        _Doubt.ONE: marked("find", "machine model, 1 character unreadable."),
        _Doubt.SEVERAL: marked("find", "machine model, {count} characters unreadable."),
        _Doubt.RUN: marked("find", "machine model, a part missing."),
        _Doubt.RUN_AND_ONE: marked("find", "machine model, 1 character unreadable and a part missing."),
        _Doubt.RUN_AND_SEVERAL: marked("find", "machine model, {count} characters unreadable and a part missing."),
    },
    "driver": {
        _Doubt.NONE: marked("find", "engine or motor number."),
        _Doubt.ONE: marked("find", "engine or motor number, 1 character unreadable."),
        _Doubt.SEVERAL: marked("find", "engine or motor number, {count} characters unreadable."),
        _Doubt.RUN: marked("find", "engine or motor number, a part missing."),
        _Doubt.RUN_AND_ONE: marked("find", "engine or motor number, 1 character unreadable and a part missing."),
        _Doubt.RUN_AND_SEVERAL: marked(
            "find", "engine or motor number, {count} characters unreadable and a part missing."
        ),
    },
    "": {
        _Doubt.NONE: marked("find", "number or model."),
        _Doubt.ONE: marked("find", "number or model, 1 character unreadable."),
        _Doubt.SEVERAL: marked("find", "number or model, {count} characters unreadable."),
        _Doubt.RUN: marked("find", "number or model, a part missing."),
        _Doubt.RUN_AND_ONE: marked("find", "number or model, 1 character unreadable and a part missing."),
        _Doubt.RUN_AND_SEVERAL: marked("find", "number or model, {count} characters unreadable and a part missing."),
    },
}


@dataclass(frozen=True, slots=True)
class Reading:
    """How a typed text was understood, and what it found.

    ``hits`` is None for a size; ``note`` says when only the start was read, ``advice`` what to do when nothing matches.
    """

    kind: ReadKind
    read_as: Sentence
    hits: NumberHits | None = None
    note: Sentence | None = None
    advice: Sentence | None = None


def looks_like_size(text: str) -> bool:
    """Return whether ``text`` is a number with a unit of length, like ``3/4 in`` or ``19,05 mm``."""
    return _SIZE.fullmatch(text) is not None


def read_typed(
    text: str, index: NumberIndex, *, limit: int = DEFAULT_LIMIT, kinds: Collection[str] | None = None
) -> Reading:
    """Return how ``text`` is understood and the entries it could mean.

    A text like a size is a size, unless an entry is known under exactly that number. A number is named after the kind
    of the entries that match best; the kinds of the catalog are ``pump``, ``machine`` and ``driver``.

    Raises:
        PatternError: the text is neither a size nor can it be understood as a number.
    """
    hits = index.find(text, limit=limit, kinds=kinds)
    if looks_like_size(text) and not any(hit.rank is RankClass.EXACT for hit in hits.hits):
        return Reading(ReadKind.SIZE, Sentence(A_SIZE), advice=_size_advice(text))
    kind = _kind_of_best(hits)
    read_kind = ReadKind.MODEL if kind == "machine" else ReadKind.NUMBER
    advice = no_match_advice(hits, index, kinds)
    return Reading(read_kind, _sentence(kind, hits.pattern), hits, hits.pattern.note, advice)


def _size_advice(text: str) -> Sentence:
    """Return what the size is and where to enter it, or why it is not clear."""
    try:
        length = parse_length_mm(text)
    except MeasureError as error:
        return Sentence(UNCLEAR_SIZE, {"trouble": str(error)})
    return Sentence(MEASURE_SIZE, {"size": show_mm(length.value_mm)})


def _kind_of_best(hits: NumberHits) -> str:
    """Return the kind that all hits of the best class share, or an empty text."""
    best = {hit.kind for hit in hits.hits if hit.rank is hits.hits[0].rank}
    return best.pop() if len(best) == 1 else ""


def _sentence(kind: str, pattern: NumberPattern) -> Sentence:
    count = pattern.count(TokenKind.UNREADABLE, TokenKind.EITHER)
    has_run = pattern.count(TokenKind.RUN) > 0
    match count:
        case 0:
            doubt = _Doubt.RUN if has_run else _Doubt.NONE
        case 1:
            doubt = _Doubt.RUN_AND_ONE if has_run else _Doubt.ONE
        case _:
            doubt = _Doubt.RUN_AND_SEVERAL if has_run else _Doubt.SEVERAL
    return Sentence(_WORDS.get(kind, _WORDS[""])[doubt], {"count": count})
