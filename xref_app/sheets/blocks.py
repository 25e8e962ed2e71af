"""What a printed sheet is made of: plain blocks, set one below the other, in words that are said already."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from xref_app.core.fit.finding import Outcome, Shown
from xref_app.core.sentence import Sentence
from xref_app.sheets.shapes import Drawing


@dataclass(frozen=True, slots=True)
class Wording:
    """How a sheet speaks: ``say`` puts a sentence into words, ``quantity`` what stands under needed, offered or gap."""

    say: Callable[[Sentence], str]
    quantity: Callable[[Shown], str]


@dataclass(frozen=True, slots=True)
class Title:
    """What the sheet is about, in large letters; ``below`` says it more closely."""

    text: str
    below: str = ""


@dataclass(frozen=True, slots=True)
class Heading:
    """The name of what follows; it never stands alone at the foot of a page."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words, wrapped; ``keeps_next`` holds them together with what follows."""

    text: str
    is_bold: bool = False
    is_small: bool = False
    keeps_next: bool = False


@dataclass(frozen=True, slots=True)
class VerdictBlock:
    """A verdict in a frame: its mark, its word, and what has to be said with it."""

    outcome: Outcome
    word: str
    further: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DangerLine:
    """A line that nothing can hide, in a thick frame."""

    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table: a mark or a box to tick before its cells; ``note`` runs below them over the whole width.

    There may be fewer cells than columns: the last then has the room of the rest.
    """

    cells: tuple[str, ...]
    outcome: Outcome | None = None
    has_box: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; ``shares`` are the widths of the columns, which add up to 1."""

    headings: tuple[str, ...]
    rows: tuple[Row, ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """What to do one after the other, each with a number and a box to tick."""

    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ticks:
    """What to look at in any order, each with a box to tick; ``further`` says how."""

    items: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Blank:
    """A question with a line to write the answer on: ``title``, ``unit`` and how it is measured."""

    title: str
    unit: str
    how_to: str


@dataclass(frozen=True, slots=True)
class CautionBlock:
    """What can hurt somebody, in a frame that is never broken over two pages, with where it comes from."""

    title: str
    items: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class NewPage:
    """What follows begins on a page of its own."""


Block = Title | Heading | Paragraph | VerdictBlock | DangerLine | Table | Steps | Ticks | Blank | CautionBlock | NewPage


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands on every page: which sheet of which pump, the catalog and the day; SAMPLE where it is made up."""

    name: str
    catalog: str
    day: str
    is_sample: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet to print: its blocks, then its drawings, each on a page of its own and at 1:1 where the paper holds it.

    ``gauge`` is a drawing to hold against the machine: at 1:1 in any case, over several pages where it must be.
    """

    foot: Foot
    blocks: tuple[Block, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    gauge: Drawing | None = None
