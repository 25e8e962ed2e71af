"""The text of one field of data_schema, read as its kind of field wants it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from xref_app.core.quantity.amounts import Amount
from xref_app.core.quantity.choices import read_word, read_yes_no
from xref_app.core.quantity.couplers import names_coupler, parse_coupler
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.positions import read_heights, read_holes, read_sectors, rows_text
from xref_app.core.quantity.quantities import FIELD_UNITS, parse_quantity
from xref_app.core.quantity.seal_forms import end_designation
from xref_app.core.quantity.threads import parse_thread
from xref_app.core.quantity.units import MM, Kind, Unit

_WITH_DOUBT = "19.05 ± 0.02 mm"


class FieldKind(StrEnum):
    """What a field holds, spelled as in data_schema."""

    NUMBER = "number"
    WORD = "word"
    THREAD = "thread"
    HOLES = "holes"
    HEIGHTS = "heights"
    SECTORS = "sectors"
    YESNO = "yesno"


@dataclass(frozen=True, slots=True)
class FieldForm:
    """What must be known of a field to read it.

    ``unit`` is canonical (``"mm"``, ``"bar"`` ... or ``""``); ``words`` the closed list of a word field;
    ``default_doubt`` the half-width given to a bare number, canonical; ``shown_unit`` the unit a bare number is
    read in, None for the canonical one; ``is_water_end`` says that a plug-in coupler may stand for the thread.
    """

    kind: FieldKind
    unit: str = ""
    words: tuple[str, ...] = ()
    default_doubt: float = 0.0
    shown_unit: Unit | None = None
    is_water_end: bool = False


@dataclass(frozen=True, slots=True)
class Observed:
    """One field as read, ready for an Observation.

    A number has ``value``, ``doubt`` and ``last_digit`` (half of the last digit given: the doubt of a value off a
    plate or sheet) in the canonical unit, and an empty ``text``. Everything else has its one canonical ``text``;
    hole positions and seat heights have a doubt, too.
    """

    as_typed: str
    value: float | None = None
    text: str = ""
    doubt: float | None = None
    last_digit: float | None = None


def read_field(form: FieldForm, text: str) -> Observed:
    """Return what ``text`` says in a field of this form.

    A number may carry its own doubt: ``19.05 ± 0.02 mm``.

    Raises:
        MeasureError: the text is nothing this field can hold.
    """
    match form.kind:
        case FieldKind.NUMBER:
            return _number(form, text)
        case FieldKind.WORD:
            return Observed(text, text=read_word(text, form.words))
        case FieldKind.THREAD:
            return Observed(text, text=end_or_thread(text, is_water_end=form.is_water_end))
        case FieldKind.YESNO:
            return Observed(text, text="yes" if read_yes_no(text) else "no")
        case FieldKind.SECTORS:
            return Observed(text, text=rows_text(read_sectors(text)))
    return _lengths(form, text)


def end_or_thread(text: str, *, is_water_end: bool) -> str:
    """Return the one canonical way to write a thread, or the end of a hose or port: a coupler, a thread with its form.

    Raises:
        MeasureError: the text is none of these.
    """
    if not is_water_end:
        return parse_thread(text).designation
    return parse_coupler(text).designation if names_coupler(text) else end_designation(text)


def _lengths(form: FieldForm, text: str) -> Observed:
    unit = form.shown_unit or MM
    if form.kind is FieldKind.HOLES:
        rows = read_holes(text, default_unit=unit)
    else:
        rows = tuple((height,) for height in read_heights(text, default_unit=unit))
    return Observed(text, text=rows_text(rows), doubt=form.default_doubt)


def _number(form: FieldForm, text: str) -> Observed:
    canonical = FIELD_UNITS[form.unit]
    shown = form.shown_unit or canonical
    if "±" not in text and "+/-" not in text:
        amount = parse_quantity(text, canonical.kind, default_unit=shown)
        return _observed(text, amount, form.default_doubt)
    main, _, spread = text.replace("+/-", "±").partition("±")
    try:
        amount, doubt = _with_doubt((main, spread), canonical.kind, shown)
    except MeasureError as error:
        raise MeasureError(text, f"has a side of the ± that {error.why}", _WITH_DOUBT) from error
    if doubt < 0:
        raise MeasureError(text, "has a doubt below zero", _WITH_DOUBT)
    return _observed(text, amount, float(doubt))


def _with_doubt(parts: tuple[str, str], kind: Kind, shown: Unit) -> tuple[Amount, Fraction]:
    """Return the amount and its doubt, canonical; a unit written on one side of the ± stands for both."""
    main, spread = parts
    doubt = parse_quantity(spread, kind, default_unit=shown)
    amount = parse_quantity(main, kind, default_unit=doubt.unit)
    if amount.unit_given and not doubt.unit_given:
        doubt = parse_quantity(spread, kind, default_unit=amount.unit)
    return amount, doubt.number * doubt.unit.factor


def _observed(text: str, amount: Amount, doubt: float) -> Observed:
    return Observed(text, amount.value, "", doubt, float(amount.last_digit))
