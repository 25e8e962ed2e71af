"""What a person typed into one field, read: value, doubt, both units, and what must be asked before it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Field, Kind
from xref_app.core.model.catalog import Observation
from xref_app.core.model.known import Known
from xref_app.core.model.observed import known_of
from xref_app.core.quantity.inch_or_mm import InchOrMm, inch_or_mm_or_none
from xref_app.core.quantity.instruments import DOUBTS, Instrument, doubt_of
from xref_app.core.quantity.observed import FieldForm, FieldKind, Observed, read_field
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import gathered
from xref_app.core.quantity.show import exact_text, show_mm, show_range, show_value
from xref_app.core.quantity.units import INCH, MM
from xref_app.core.sentence import Sentence, marked
from xref_app.services.facts import shown_value
from xref_app.services.unit_draft import Typed

SPREAD_GOOD = marked("readings", "{count} readings, spread {spread}: good.")

# Values said by a plate, a sheet or a seller are good to half of the last digit given (design rule of doubt).
_SAID = {"plate", "sheet", "claimed"}
_MEASURED = "measured"
_LENGTH_UNITS = {"mm": MM, "in": INCH}


class OutsideUsualError(XrefError):
    """A value that no such thing has.

    Attributes:
        title: The field.
        found: The text as typed.
        usual: What the field usually holds, in words.
    """

    def __init__(self, title: str, found: str, usual: str) -> None:
        super().__init__(
            f"{title} “{found}” lies outside {usual}: look for a slip of typing or unit, then type it again."
        )
        self.title = title
        self.found = found
        self.usual = usual


class RaisedSeatError(XrefError):
    """A seat said to stand above the straightedge that lies on the highest ones."""

    def __init__(self, title: str, height_mm: float) -> None:
        super().__init__(
            f"{title}: no seat stands above the straightedge, and one reads {height_mm:g} mm; the highest seats are 0, "
            "a gap under the straightedge is written with a minus, like 0; 0; 0; -2."
        )
        self.title = title
        self.height_mm = height_mm


@dataclass(frozen=True, slots=True)
class FieldReading:
    """One field as read. ``question`` must be answered before it may be kept: nothing is stored while it stands."""

    field: Field
    observed: Observed
    how: str
    spread: Sentence | None = None
    question: InchOrMm | None = None

    @property
    def known(self) -> Known:
        """Return the value as the judge holds it."""
        return known_of(self.field, self.observation(0, ""))

    @property
    def shown(self) -> str:
        """Return the value as people read it, lengths in both units, with its doubt."""
        value, doubt = self.observed.value, self.observed.doubt
        if value is None:
            return shown_value(self.field, self.known)
        if not doubt:
            return show_value(value, self.field.unit)
        if self.field.unit == "mm":
            return f"{show_mm(value, doubt)} = {show_value(value, 'mm').partition('(')[2].rstrip(')')}"
        return show_range(Range.around(value, doubt), self.field.unit)

    def observation(self, observation_id: int, entry_id: str) -> Observation:
        """Return the observation to keep; who and when are not in it yet."""
        return Observation(
            observation_id,
            entry_id,
            self.field.field_id,
            self.observed.as_typed,
            self.observed.value,
            self.observed.text,
            self.observed.doubt,
            self.how,
        )


def read_typed_field(field: Field, typed: Typed, doubts: Mapping[Instrument, float] | None = None) -> FieldReading:
    """Return what a person typed into ``field``.

    Args:
        field: The field it stands in.
        typed: The readings as typed, at least one.
        doubts: The shop's own half-widths by instrument, mm; None for the house's.

    Raises:
        MeasureError: a reading is nothing the field can hold.
        OutsideUsualError: no such thing has that value.
    """
    if typed.worked:
        form = _form(field, typed, field.default_doubt)
        worked = read_field(form, typed.worked)
        doubt = typed.worked_doubt if field.kind in {Kind.HOLES, Kind.HEIGHTS} and typed.worked_doubt else worked.doubt
        as_typed = "; ".join(typed.texts) or typed.worked
        return FieldReading(field, Observed(as_typed, worked.value, worked.text, doubt), typed.how)
    texts = [text for text in typed.texts if text.strip()]
    if field.kind is not Kind.NUMBER:
        form = _form(field, typed, field.default_doubt)
        observed = read_field(form, texts[0] if texts else "")
        if field.kind is Kind.HEIGHTS:
            _refuse_above_straightedge(field, observed)
        return FieldReading(field, observed, typed.how)
    return _number(field, typed, texts or [""], doubts)


def _refuse_above_straightedge(field: Field, observed: Observed) -> None:
    """Refuse heights whose sign was forgotten: read as they stand, the short leg would be the only long one."""
    highest = max(float(height) for height in observed.text.split(";"))
    if highest > 0:
        raise RaisedSeatError(field.title, highest)


def is_water_end(field: Field) -> bool:
    """Say whether the field is the end of a hose or a port, which may be a coupler or seal in one of several forms."""
    return field.field_id.endswith("_thread")


def usual_text(field: Field) -> str:
    """Return what a field usually holds, in words: ``8 to 60 mm (0.315 to 2.3622 in)``."""
    if field.minimum is None or field.maximum is None:
        return ""
    return show_range(Range(field.minimum, field.maximum), field.unit)


def _form(field: Field, typed: Typed, default_doubt: float) -> FieldForm:
    unit = _LENGTH_UNITS[typed.unit] if field.unit == "mm" else None
    return FieldForm(FieldKind(field.kind.value), field.unit, field.choices, default_doubt, unit, is_water_end(field))


def _number(field: Field, typed: Typed, texts: list[str], doubts: Mapping[Instrument, float] | None) -> FieldReading:
    form = _form(field, typed, _tool_doubt(field, typed, doubts))
    read = [read_field(form, text) for text in texts]
    question = next((asked for text in texts if (asked := _question(field, typed, text)) is not None), None)
    for one in read:
        if question is None and one.value is not None and not _is_usual(field, one.value):
            raise OutsideUsualError(field.title, one.as_typed.strip(), usual_text(field))
    first = _said(field, typed, read[0])
    if len(read) == 1:
        return FieldReading(field, first, typed.how, None, question)
    values = [one.value for one in read if one.value is not None]
    found = gathered(values, doubt=max(one.doubt or 0.0 for one in read))
    as_typed = "; ".join(text.strip() for text in texts)
    observed = Observed(as_typed, found.value, "", found.doubt)
    spread = exact_text(round(found.spread, 3), field.unit)
    said = found.notes[0] if found.notes else Sentence(SPREAD_GOOD, {"count": len(read), "spread": spread})
    return FieldReading(field, observed, typed.how, said, question)


def _tool_doubt(field: Field, typed: Typed, doubts: Mapping[Instrument, float] | None) -> float:
    """Return the half-width of one bare reading: the tool's, where one was named that measures this kind of size."""
    if typed.how != _MEASURED or not typed.instrument:
        return field.default_doubt
    instrument = Instrument(typed.instrument)
    if DOUBTS[instrument].unit != field.unit:
        return field.default_doubt
    return doubt_of(instrument, shop=doubts)


def _said(field: Field, typed: Typed, observed: Observed) -> Observed:
    """Return a value off a plate or sheet with the doubt of its last digit; ratings are taken as said."""
    if typed.how not in _SAID or not field.default_doubt or "±" in observed.as_typed or "+/-" in observed.as_typed:
        return observed
    return Observed(observed.as_typed, observed.value, observed.text, observed.last_digit, observed.last_digit)


def unit_question(text: str, *, unit: str, usual_mm: tuple[float, float]) -> InchOrMm | None:
    """Return the question to ask about a length that is only likely in the other unit, or None.

    Args:
        text: As typed; its doubt, if it has one, plays no part.
        unit: What a bare number is read in, ``mm`` or ``in``.
        usual_mm: What it can be, mm.

    Raises:
        MeasureError: the text is no length.
    """
    plain = text.replace("+/-", "±").partition("±")[0]
    low, high = usual_mm
    return inch_or_mm_or_none(plain, default_unit=_LENGTH_UNITS[unit], minimum_mm=low, maximum_mm=high)


def _question(field: Field, typed: Typed, text: str) -> InchOrMm | None:
    if field.unit != "mm" or field.minimum is None or field.maximum is None:
        return None
    return unit_question(text, unit=typed.unit, usual_mm=(field.minimum, field.maximum))


def _is_usual(field: Field, value: float) -> bool:
    return (field.minimum is None or value >= field.minimum) and (field.maximum is None or value <= field.maximum)
