"""How pairs are told: units, sums, what is needed, what was left out."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QLocale

from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import UnitReservationRow
from xref_app.core.model.stock import spelled_job
from xref_app.core.plan.pair_value import PairParts, PairSum
from xref_app.core.sentence import marked
from xref_app.gui.messages import number_text, verdict_word
from xref_app.gui.shelf_words import day_text
from xref_app.services.best_pairs import MadePair, PairsWanted
from xref_app.services.pair_matrix import PairMatrix, PairUnit
from xref_app.services.pair_measure import PairMeasure

PAIR = marked("pairs", "{engine} with {pump}")
SUM = marked("pairs", "{value} left: sells for {sells} − parts {parts} − time {time} − both units {own}")
UNPRICED_ONE = marked("pairs", "One unit has no price and counts as 0.")
UNPRICED_BOTH = marked("pairs", "Neither unit has a price; both count as 0.")
NOTHING_NEEDED = marked("pairs", "needs nothing")
NEEDED = marked("pairs", "needs {pieces} pieces, all on the shelf")
NEEDED_ONE = marked("pairs", "needs 1 piece, on the shelf")
LACKING = marked("pairs", "needs {pieces} pieces, {lacking} of them to order or make")
LACKING_ONE = marked("pairs", "needs 1 piece, to order or make")
TO_BETTER = marked("pairs", "a pair above takes the last pieces it needs")
CLAIMS = marked("pairs", "holds only if what is claimed does")
FORCED = marked("pairs", "wanted")
MEASURE = marked("pairs", "{open} pairs are not known yet. Measure next: {title} of {number} ({minutes} min).")
SETTLES = marked("pairs", "{count} of them wait for nothing else.")
ASK = marked("pairs", "{count} of them ask for it, and for more besides.")
PUT_BY = marked("pairs", "{unit} is reserved for {job}")
PUT_BY_BY = marked("pairs", "{unit} is reserved for {job}: {who}, since {date}")
COUNTED = marked(
    "pairs",
    "{engines} engines by {pumps} pumps: {as_is} pairs fit as is, {with_parts} with parts, {open} not known yet.",
)
NO_ENGINE = marked(
    "pairs", "No good engine is free to pair up: units “tested good” or “runs” come in with xref-app import FOLDER."
)
NO_PUMP = marked(
    "pairs", "No good pump is free to pair up: units “tested good” or “runs” come in with xref-app import FOLDER."
)
WANTED = {
    PairsWanted.ANY_FIT: marked("pairs", "Whatever fits"),
    PairsWanted.ON_SHELF: marked("pairs", "Parts on the shelf"),
    PairsWanted.AS_IS: marked("pairs", "Fits as is"),
}
CONDITIONS = {
    "worn": marked("pairs", "worn"),
    "for parts": marked("pairs", "for parts"),
    "unknown": marked("pairs", "of unknown condition"),
}
_MONEY_DECIMALS, _MOST_MONEY = 2, 1_000_000.0


def said(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("pairs", template)).format(**values)


def money(value: float) -> str:
    """Return a sum of the shop's money as the locale writes it."""
    return ("−" if value < 0 else "") + QLocale().toString(float(abs(value)), "f", _MONEY_DECIMALS)


def read_money(text: str) -> float | None:
    """Return a sum of the shop's money, typed in the locale's way or with a point; None where it is none."""
    for locale in (QLocale(), QLocale.c()):
        value, is_number = locale.toDouble(text)
        if is_number and 0 <= value <= _MOST_MONEY:
            return float(value)
    return None


def unit_text(unit: PairUnit) -> str:
    """Return the unit's own number and what it is."""
    return f"{unit.unit_id} {unit.number}"


def pair_text(engine: PairUnit, pump: PairUnit) -> str:
    """Return the two units of a pair."""
    return said(PAIR, engine=unit_text(engine), pump=unit_text(pump))


def about_text(unit: PairUnit) -> str:
    """Return what is known of a unit as a thing: name, condition, hours, price, bin."""
    row = unit.unit
    hours = said(marked("pairs", "{hours} h"), hours=number_text(row.hours, 0)) if row.hours is not None else ""
    price = money(row.price) if row.price is not None else said(marked("pairs", "no price"))
    label = said(marked("pairs", "bin {bin}"), bin=row.bin) if row.bin else ""
    return ", ".join(part for part in (f"{row.unit_id}: {unit.name}", row.condition, hours, price, label) if part)


def sum_text(total: PairSum) -> str:
    """Return the sum of a pair as arithmetic, with what was not known in it."""
    words = said(
        SUM,
        value=money(total.value),
        sells=money(total.sells_for),
        parts=money(total.parts),
        time=money(total.time),
        own=money(total.own),
    )
    if not total.unpriced:
        return words
    return f"{words}. {said(UNPRICED_ONE if total.unpriced == 1 else UNPRICED_BOTH)}"


def parts_text(parts: PairParts) -> str:
    """Return how many pieces a pair needs and where they are."""
    if parts.pieces == 0:
        return said(NOTHING_NEEDED)
    if parts.all_on_shelf:
        return said(NEEDED_ONE) if parts.pieces == 1 else said(NEEDED, pieces=parts.pieces)
    return said(LACKING_ONE) if parts.pieces == 1 else said(LACKING, pieces=parts.pieces, lacking=parts.lacking)


def made_text(made: MadePair) -> str:
    """Return the second line of a pair that is to be made: verdict, parts, and what is to be minded."""
    words = [verdict_word(made.found.verdict)]
    if made.found.verdict is not Verdict.FITS:
        words.append(parts_text(made.parts))
    if made.parts_go_to_better:
        words.append(said(TO_BETTER))
    if made.found.rests_on_claims:
        words.append(said(CLAIMS))
    if made.is_forced:
        words.append(said(FORCED))
    return ", ".join(words)


def measure_text(measure: PairMeasure | None) -> str:
    """Return what to measure for the pairs that are not known yet; empty where there is none."""
    if measure is None:
        return ""
    minutes = number_text(measure.minutes, 1)
    first = said(MEASURE, open=measure.open, title=measure.title, number=measure.number, minutes=minutes)
    second = said(SETTLES, count=measure.by_itself) if measure.by_itself else said(ASK, count=measure.asking)
    return f"{first} {second}"


def put_by_text(row: UnitReservationRow, unit: PairUnit) -> str:
    """Return one unit that is put by, in a line."""
    values = {"unit": unit_text(unit), "job": spelled_job(row.job)}
    if not row.reserved_by:
        return said(PUT_BY, **values)
    return said(PUT_BY_BY, **values, who=row.reserved_by, date=day_text(row.reserved_on))


def left_out_text(matrix: PairMatrix) -> str:
    """Return which units are not paired up and why; empty where all are."""
    words = [f"{count} {said(CONDITIONS.get(one, one))}" for one, count in matrix.left_out.items()]
    if matrix.unknown_entries:
        words.append(said(marked("pairs", "{count} of no entry in the catalog"), count=matrix.unknown_entries))
    return said(marked("pairs", "Left out: {units}."), units=", ".join(words)) if words else ""


def count_text(matrix: PairMatrix) -> str:
    """Return how many pairs there are and how they are judged, and what was left out; or why there is none."""
    if not matrix.engines or not matrix.pumps:
        return said(NO_PUMP if matrix.engines else NO_ENGINE)
    counted = matrix.counted()
    words = said(
        COUNTED,
        engines=len(matrix.engines),
        pumps=len(matrix.pumps),
        as_is=counted[Verdict.FITS],
        with_parts=counted[Verdict.FITS_WITH_PARTS],
        open=counted[Verdict.NOT_KNOWN_YET],
    )
    return f"{words} {left_out_text(matrix)}".strip()
