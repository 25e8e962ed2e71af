"""Fix or replace: what is suggested, what is typed over it, and what comes out; worked out anew at every key."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import TypeVar

from xref_app.core.economics.compare import Comparison, compare
from xref_app.core.economics.engine_state import EngineState, engine_remarks
from xref_app.core.economics.house_rules import PRICE_AGE_LIMIT_DAYS, SHARE_OF_NEW, TAX_PERCENT
from xref_app.core.economics.lines import Column, Line, LineKind, Origin, ShopRules
from xref_app.core.economics.reading import read_days, read_minutes, read_money, read_percent, read_share
from xref_app.core.economics.span import Span
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Job
from xref_app.services.catalog import Catalog
from xref_app.services.fix_plan import FixPlan, PlannedColumn, fix_plan
from xref_app.store.engine import Store
from xref_app.store.repository import CatalogRepository

RATE, TAX, SHARE, AGE, SIGN = "shop.rate", "shop.tax", "shop.share", "shop.age", "shop.sign"
Read = TypeVar("Read")


@dataclass(frozen=True, slots=True)
class Typed:
    """One figure as a person typed it, on which day, and in which words that is told."""

    text: str
    day: date
    source: Sentence


@dataclass(frozen=True, slots=True)
class ShopTexts:
    """What the shop says once for all jobs, as typed; an empty text stands for the default, of the rate for unknown."""

    rate: str = ""
    tax: str = f"{TAX_PERCENT}"
    share: str = f"{SHARE_OF_NEW}"
    age: str = f"{PRICE_AGE_LIMIT_DAYS}"
    sign: str = ""


@dataclass(frozen=True, slots=True)
class Entries:
    """All that a person has said: figures by name, prices that still hold, what was ticked, which used pump.

    What is ``confirmed`` is the suggested price; one that is typed is of the day on which it was typed.
    """

    typed: Mapping[str, Typed] = field(default_factory=dict)
    confirmed: Mapping[str, date] = field(default_factory=dict)
    ticked: frozenset[str] = frozenset()
    used_place: int = 0
    shop: ShopTexts = ShopTexts()
    engine: EngineState = field(default_factory=EngineState)


@dataclass(frozen=True, slots=True)
class Worked:
    """What comes out. ``faults`` say by figure, in one sentence each, why a text could not be read."""

    planned: tuple[PlannedColumn, ...]
    comparison: Comparison
    rules: ShopRules
    faults: Mapping[str, str]
    remarks: tuple[Sentence, ...]


class FixOrReplace:
    """Suggests from the records of one store; may be asked in any thread."""

    def __init__(self, store: Store, catalog: Callable[[], Catalog]) -> None:
        """Make it; ``catalog`` returns the catalog with the shelf as it stands now."""
        self._store = store
        self._catalog = catalog

    def suggest(self, job: Job | None, candidate: Candidate | None) -> FixPlan:
        """Return what the records suggest for ``job`` and the pump chosen in its list."""
        salvaged = CatalogRepository(self._store).salvaged()
        return fix_plan(self._catalog(), salvaged, job, candidate)


def work_out(plan: FixPlan, entries: Entries, *, today: date) -> Worked:
    """Return what the suggested figures come to with what was typed over them."""
    reader = _Reader(entries, today)
    rules = reader.rules()
    planned = plan.columns(entries.used_place)
    columns = tuple(reader.column(one) for one in planned)
    return Worked(
        planned=planned,
        comparison=compare(columns, rules, today=today),
        rules=rules,
        faults=reader.faults,
        remarks=engine_remarks(entries.engine),
    )


class _Reader:
    """Reads texts into figures and keeps the sentences of those it cannot read."""

    def __init__(self, entries: Entries, today: date) -> None:
        self._entries = entries
        self._today = today
        self.faults: dict[str, str] = {}

    def rules(self) -> ShopRules:
        shop = self._entries.shop
        rate = self._read(RATE, shop.rate, self._money)
        tax = self._read(TAX, shop.tax, read_percent)
        share: Fraction | None = self._read(SHARE, shop.share, read_share)
        age = self._read(AGE, shop.age, read_days)
        standard = ShopRules()
        return ShopRules(
            rate_per_hour=rate,
            tax_percent=standard.tax_percent if tax is None and TAX not in self.faults else tax,
            share_of_new=standard.share_of_new if share is None else share,
            price_age_limit_days=standard.price_age_limit_days if age is None else age,
        )

    def column(self, planned: PlannedColumn) -> Column:
        is_ticked = planned.way.name in self._entries.ticked
        doubts = planned.doubts if is_ticked else (*planned.open_state, *planned.doubts)
        lines = tuple(self._line(planned, place) for place in range(len(planned.blanks)))
        return Column(planned.way, lines, doubts, planned.ruled_out)

    def _line(self, planned: PlannedColumn, place: int) -> Line:
        blank = planned.blanks[place]
        typed = self._entries.typed.get(blank.figure)
        text = blank.text if typed is None else typed.text
        origin = blank.origin if typed is None else Origin(typed.day, typed.source)
        confirmed = self._entries.confirmed.get(blank.figure) if typed is None else None
        read: Callable[[str], Span] = read_minutes if blank.kind is LineKind.WORK else self._money
        return Line(
            key=blank.figure,
            kind=blank.kind,
            what=blank.what,
            amount=self._read(blank.figure, text, read),
            origin=Origin(origin.day, origin.source, confirmed),
            pieces=blank.pieces,
        )

    def _money(self, text: str) -> Span:
        return read_money(text, sign=self._entries.shop.sign)

    def _read(self, figure: str, text: str, read: Callable[[str], Read]) -> Read | None:
        if not text.strip():
            return None
        try:
            return read(text)
        except MeasureError as error:
            self.faults[figure] = str(error)
            return None
