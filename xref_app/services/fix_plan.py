"""The blanks of fix or replace for one job and one pump of its list, filled with what the records know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.economics.lines import LineKind, Origin, Way
from xref_app.core.fit.finding import Need, Verdict
from xref_app.core.model.catalog import SalvagedUnit
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import Candidate, Job
from xref_app.services.catalog import Catalog
from xref_app.services.fix_prices import NO_PRICE, RecordedPrice, part_price, pump_price, used_price

KEEP_TITLE = marked("findings", "Keep the old pump")
PUT_ON_TITLE = marked("findings", "Put on {pump}")
NO_PUMP_TITLE = marked("findings", "Put a substitute on")
USED_TITLE = marked("findings", "Used {pump}, {unit}")
OTHER_USED_TITLE = marked("findings", "A used pump")
NEW_TITLE = marked("findings", "New machine")

SEAL_KIT = marked("findings", "seal kit")
VALVE_KIT = marked("findings", "valve kit")
OTHER_PARTS = marked("findings", "other parts")
MEND_MINUTES = marked("findings", "time to mend it")
FIT_MINUTES = marked("findings", "time to make and fit")
SET_UP_MINUTES = marked("findings", "time to set it up")
PUMP = marked("findings", "the pump")
USED_PUMP = marked("findings", "the used pump")
MACHINE = marked("findings", "the machine")
TO_MAKE = marked("findings", "make: {what}")
CORE_VALUE = marked("findings", "taken off for the old pump")
TRADE_IN = marked("findings", "taken off for the old machine")

SUGGESTED = marked("findings", "suggested")
TYPED = marked("findings", "typed")

SEATS_DOUBT = marked("findings", "Not known whether its seal seats and its head are sound.")
SEATS_SOUND = marked("findings", "Opened: seats and head sound")
USED_DOUBT = marked("findings", "Used unit: {condition}, {hours}.")
USED_SOUND = marked("findings", "Run on the bench: sound")
HOURS = marked("findings", "{hours} hours")
NO_HOURS = marked("findings", "hours not known")
NO_CONDITION = marked("findings", "condition not known")
NOT_SEEN = marked("findings", "Not seen yet: its state and hours are not known.")
FIT_NOT_KNOWN = marked("findings", "Not known yet whether it fits: measure before buying.")
CLAIMS = marked("findings", "That it fits rests on what is only claimed.")
DOES_NOT_FIT = marked("findings", "It does not fit.")
NO_PUMP_CHOSEN = marked("findings", "No pump is chosen in the list.")

FOR_PARTS, TESTED_GOOD, UNKNOWN_CONDITION = "for parts", "tested good", "unknown"
_BEST_FIRST = (TESTED_GOOD, "runs", "worn", UNKNOWN_CONDITION)
NONE = "none"


@dataclass(frozen=True, slots=True)
class Blank:
    """One figure to type; ``text`` and ``origin`` are what is suggested. Blanks of one ``figure`` are one figure."""

    figure: str
    kind: LineKind
    what: Sentence
    text: str
    origin: Origin
    pieces: int = 1


@dataclass(frozen=True, slots=True)
class PlannedColumn:
    """One way as suggested.

    ``sound`` is what a person may tick once it was looked at; that settles the ``open_state``. ``doubts`` are those
    that no tick settles.
    """

    way: Way
    title: Sentence
    blanks: tuple[Blank, ...]
    doubts: tuple[Sentence, ...] = ()
    ruled_out: Sentence | None = None
    open_state: tuple[Sentence, ...] = ()
    sound: Sentence | None = None


@dataclass(frozen=True, slots=True)
class FixPlan:
    """All columns as suggested; ``used`` are the used pumps to choose from, the best first, n ≥ 1."""

    title: str
    keep: PlannedColumn
    put_on: PlannedColumn
    used: tuple[PlannedColumn, ...]
    new: PlannedColumn
    is_electric: bool = False

    def columns(self, used_place: int) -> tuple[PlannedColumn, ...]:
        """Return the columns with one of the used pumps, in their order."""
        return (self.keep, self.put_on, self.used[used_place % len(self.used)], self.new)


def fix_plan(
    catalog: Catalog, salvaged: Sequence[SalvagedUnit], job: Job | None, candidate: Candidate | None
) -> FixPlan:
    """Return the columns for ``job``, with the pump chosen in its list where one is."""
    needs = _need_blanks(catalog, () if candidate is None else candidate.judgement.needs)
    return FixPlan(
        title=job.title if job else "",
        keep=_keep(),
        put_on=_put_on(catalog, candidate, needs),
        used=_used(catalog, salvaged, job, candidate, needs),
        new=_new(),
        is_electric=_is_electric(catalog, job),
    )


def _keep() -> PlannedColumn:
    blanks = (
        Blank("keep.seal", LineKind.PART, Sentence(SEAL_KIT), "", NO_PRICE.origin),
        Blank("keep.valve", LineKind.PART, Sentence(VALVE_KIT), "", NO_PRICE.origin),
        _suggested_none("keep.other", LineKind.PART, OTHER_PARTS),
        _minutes("keep.minutes", MEND_MINUTES),
    )
    sound, doubt = Sentence(SEATS_SOUND), Sentence(SEATS_DOUBT)
    return PlannedColumn(Way.KEEP, Sentence(KEEP_TITLE), blanks, open_state=(doubt,), sound=sound)


def _put_on(catalog: Catalog, candidate: Candidate | None, needs: tuple[Blank, ...]) -> PlannedColumn:
    if candidate is None:
        return PlannedColumn(Way.PUT_ON, Sentence(NO_PUMP_TITLE), (), ruled_out=Sentence(NO_PUMP_CHOSEN))
    price = pump_price(catalog, candidate.entry_id)
    blanks = (
        Blank(f"put_on.{candidate.entry_id}", LineKind.PUMP, Sentence(PUMP), price.text, price.origin),
        *needs,
        _minutes("put_on.minutes", FIT_MINUTES),
        _suggested_none("put_on.core", LineKind.TRADE_IN, CORE_VALUE),
    )
    title = Sentence(PUT_ON_TITLE, {"pump": candidate.number})
    doubts = _fit_doubts(candidate)
    return PlannedColumn(Way.PUT_ON, title, blanks, doubts, _ruled_out(candidate))


def _fit_doubts(candidate: Candidate) -> tuple[Sentence, ...]:
    if candidate.judgement.verdict is Verdict.NOT_KNOWN_YET:
        return (Sentence(FIT_NOT_KNOWN),)
    return (Sentence(CLAIMS),) if candidate.judgement.claims else ()


def _ruled_out(candidate: Candidate) -> Sentence | None:
    return Sentence(DOES_NOT_FIT) if candidate.judgement.verdict is Verdict.DOES_NOT_FIT else None


def _used(
    catalog: Catalog,
    salvaged: Sequence[SalvagedUnit],
    job: Job | None,
    candidate: Candidate | None,
    needs: tuple[Blank, ...],
) -> tuple[PlannedColumn, ...]:
    """Return the used pumps like the one coming off, then those like the substitute, then one that is not listed."""
    old_id = job.pump_id if job else None
    found: list[PlannedColumn] = []
    if old_id:
        # A guessed number may be another pump's, and then what fits it need not fit here.
        guessed = (Sentence(FIT_NOT_KNOWN),) if job is not None and job.guessed_number else ()
        found += [_used_unit(catalog, unit, (), guessed) for unit in _of(salvaged, old_id)]
    if candidate is not None and candidate.entry_id != old_id and _ruled_out(candidate) is None:
        doubts = _fit_doubts(candidate)
        found += [_used_unit(catalog, unit, needs, doubts) for unit in _of(salvaged, candidate.entry_id)]
    price = Blank("used.other", LineKind.PUMP, Sentence(USED_PUMP), "", NO_PRICE.origin)
    other = PlannedColumn(
        Way.USED,
        Sentence(OTHER_USED_TITLE),
        (price, _minutes("used.minutes", FIT_MINUTES)),
        open_state=(Sentence(NOT_SEEN),),
        sound=Sentence(USED_SOUND),
    )
    return (*found, other)


def _of(salvaged: Sequence[SalvagedUnit], entry_id: str) -> list[SalvagedUnit]:
    units = [one for one in salvaged if one.entry_id == entry_id and one.condition != FOR_PARTS]
    return sorted(units, key=lambda one: (_place(one), one.price is None, one.price or 0.0, one.unit_id))


def _place(unit: SalvagedUnit) -> int:
    return _BEST_FIRST.index(unit.condition) if unit.condition in _BEST_FIRST else len(_BEST_FIRST)


def _used_unit(
    catalog: Catalog, unit: SalvagedUnit, needs: tuple[Blank, ...], doubts: tuple[Sentence, ...]
) -> PlannedColumn:
    price: RecordedPrice = used_price(unit)
    blanks = (
        Blank(f"used.{unit.unit_id}", LineKind.PUMP, Sentence(USED_PUMP), price.text, price.origin),
        *needs,
        _minutes("used.minutes", FIT_MINUTES),
    )
    title = Sentence(USED_TITLE, {"pump": catalog.number_of(unit.entry_id), "unit": unit.unit_id})
    is_sound = unit.condition == TESTED_GOOD and unit.hours is not None
    return PlannedColumn(
        Way.USED,
        title,
        blanks,
        doubts,
        open_state=() if is_sound else (_state(unit),),
        sound=None if is_sound else Sentence(USED_SOUND),
    )


def _state(unit: SalvagedUnit) -> Sentence:
    hours = Sentence(NO_HOURS) if unit.hours is None else Sentence(HOURS, {"hours": f"{unit.hours:g}"})
    known = unit.condition and unit.condition != UNKNOWN_CONDITION
    return Sentence(USED_DOUBT, {"condition": unit.condition if known else Sentence(NO_CONDITION), "hours": hours})


def _new() -> PlannedColumn:
    blanks = (
        Blank("new.machine", LineKind.MACHINE, Sentence(MACHINE), "", NO_PRICE.origin),
        _minutes("new.minutes", SET_UP_MINUTES),
        _suggested_none("new.trade_in", LineKind.TRADE_IN, TRADE_IN),
    )
    return PlannedColumn(Way.NEW, Sentence(NEW_TITLE), blanks)


def _need_blanks(catalog: Catalog, needs: Sequence[Need]) -> tuple[Blank, ...]:
    return tuple(_need_blank(catalog, need, place) for place, need in enumerate(needs))


def _need_blank(catalog: Catalog, need: Need, place: int) -> Blank:
    part = need.listed
    price = NO_PRICE if part is None else part_price(catalog, part.part_id)
    what = Sentence(TO_MAKE, {"what": need.what}) if need.to_make else need.what
    figure = f"need.{part.part_id if part is not None else f'{place}.{need.what}'}"
    return Blank(figure, LineKind.PART, what, price.text, price.origin, need.quantity)


def _minutes(figure: str, what: str) -> Blank:
    return Blank(figure, LineKind.WORK, Sentence(what), "", NO_PRICE.origin)


def _suggested_none(figure: str, kind: LineKind, what: str) -> Blank:
    return Blank(figure, kind, Sentence(what), NONE, Origin(None, Sentence(SUGGESTED)))


def _is_electric(catalog: Catalog, job: Job | None) -> bool:
    row = catalog.machines.get(job.machine_id) if job and job.machine_id else None
    driver = catalog.drivers.get(row.driver_id) if row is not None else None
    return driver is not None and driver.power_kind == "electric"
