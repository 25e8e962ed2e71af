"""One length of READINGS.json: a number, a text, a value with its doubt, or several of these, as a range in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from xref_app.core.fields.schema_files import Json, as_list
from xref_app.core.identify.thread_readings import GAUGE_SHARE
from xref_app.core.quantity.amounts import parse_amount
from xref_app.core.quantity.errors import MeasureError, shown
from xref_app.core.quantity.inch_or_mm import inch_or_mm_or_none
from xref_app.core.quantity.instruments import Instrument, doubt_of
from xref_app.core.quantity.lengths import LENGTH
from xref_app.core.quantity.observed import FieldForm, FieldKind, read_field
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import gathered
from xref_app.core.quantity.show import plain_number
from xref_app.core.quantity.units import MM
from xref_app.core.sentence import Sentence
from xref_app.exchange.json_file import JsonFileError

# Without a doubt of its own a text gets that of the instrument, below.
_FIELD = FieldForm(FieldKind.NUMBER, "mm")


@dataclass(frozen=True, slots=True)
class LengthForm:
    """How a length is read: the doubt of its instrument (mm, or a share of the reading), and what is plausible, mm."""

    doubt_mm: float
    least_mm: float
    most_mm: float
    doubt_share: float = 0.0

    @classmethod
    def of(cls, described: Json) -> LengthForm:
        """Return the form that ``described``, a property of readings.schema.json, names."""
        instrument = Instrument(str(described["instrument"]))
        least, most = (float(str(one)) for one in as_list(described["plausible_mm"]))
        if instrument is Instrument.THREAD_GAUGE:
            return cls(0.0, least, most, GAUGE_SHARE)
        return cls(doubt_of(instrument), least, most)


@dataclass(frozen=True, slots=True)
class ReadLength:
    """One length, mm, with all that its readings and their doubts allow, and what to be told about them."""

    range: Range
    notes: tuple[Sentence, ...] = ()


def read_length(where: str, value: object, form: LengthForm) -> ReadLength:
    """Return one length, or several readings of it brought to one.

    Args:
        where: Its place in the file.
        value: As the schema's ``length`` describes it, not null.
        form: What the instrument leaves open, and what is plausible.

    Raises:
        JsonFileError: a text is no length, a range reaches down to nothing, or a number without a unit is plausible
            in inches only.
    """
    if not isinstance(value, list):
        return ReadLength(_one(where, value, form))
    ranges = [_one(f"{where}.{place}", one, form) for place, one in enumerate(value)]
    together = gathered([one.middle for one in ranges], doubt=max(one.doubt for one in ranges))
    return ReadLength(together.range, together.notes)


def _one(where: str, value: object, form: LengthForm) -> Range:
    own: float | None = None
    if isinstance(value, Mapping):
        own, value = float(value["doubt"]), value["value"]
    text = value if isinstance(value, str) else plain_number(float(str(value)))
    try:
        observed = read_field(_FIELD, text)
        _refuse_likely_inches(where, _before_doubt(text), form)
    except MeasureError as error:
        raise JsonFileError(where, f"“{shown(error.found)}” {error.why}", f"write it like {error.instead}") from error
    if _before_doubt(text) != text:
        own = _doubt_once(where, own, observed.doubt)
    mm = observed.value or 0.0
    found = Range.around(mm, max(form.doubt_mm, form.doubt_share * mm) if own is None else own)
    if found.low <= 0:
        raise JsonFileError(where, f"it can be {found.low:g} mm", "no size reaches down to nothing; measure it again")
    return found


def _before_doubt(text: str) -> str:
    return text.replace("+/-", "±").partition("±")[0]


def _doubt_once(where: str, beside: float | None, inside: float | None) -> float | None:
    if beside is not None:
        raise JsonFileError(where, "the doubt stands there twice", "give it after the ± or under “doubt”")
    return inside


def _refuse_likely_inches(where: str, text: str, form: LengthForm) -> None:
    """Ask where a number without a unit is plausible in inches only; a unit that was written is believed."""
    amount = parse_amount(text, LENGTH, default_unit=MM)
    if amount.unit_given:
        return
    asked = inch_or_mm_or_none(text, default_unit=MM, minimum_mm=form.least_mm, maximum_mm=form.most_mm)
    if asked is not None:
        number = plain_number(float(Fraction(asked.number)))
        raise JsonFileError(
            where,
            f"{number} mm is outside {form.least_mm:g} to {form.most_mm:g} mm",
            f"inch or mm? Write “{number} in” or “{number} mm”",
        )
