"""One cell of a supplier's list, read: good, not known, to be looked at with what it can mean, or refused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Field, Kind
from xref_app.core.quantity.errors import MeasureError, WordError, shown
from xref_app.core.quantity.quantities import FIELD_UNITS, parse_quantity
from xref_app.core.quantity.units import NO_UNIT, UNITS, Unit
from xref_app.core.sentence import Sentence, marked
from xref_app.services.field_reading import FieldReading, OutsideUsualError, read_typed_field
from xref_app.services.supplier_columns import Column
from xref_app.services.supplier_decimals import Decimals, has_thousands_by_point, is_written_with, plainly
from xref_app.services.supplier_words import FAULTS, NOT_KNOWN
from xref_app.services.unit_draft import Typed

INCH_AND_COMMA = marked("supplier", "{field} “{text}”: an inch mark and a decimal comma. Which is meant?")
TWO_READINGS = marked("supplier", "{field} “{text}” can be read in two ways. Which is meant?")
OTHER_MARK = marked("supplier", "{field} “{text}” is not written with the decimal mark of this list. Is this meant?")
INCH_OR_MM = marked("supplier", "{field} “{text}”: inch or mm?")
NO_UNIT_SAID = marked("supplier", "{field} “{text}” has no unit: say the unit of its column.")
DIFFERENT_UNITS = marked("supplier", "{field} “{text}”: the two values are not the same. Which is meant?")
A_FAULT = marked("supplier", "{field} “{text}” is a fault of the spreadsheet, not a value.")
A_DATE = marked("supplier", "{field} “{text}”: a spreadsheet took it for a date; look up what was there.")
NEARLY = marked("supplier", "{field} “{text}” is not a word of this field. Is it “{word}”?")
CANNOT = marked("supplier", "{field}: {why}")

_DATE: Final = re.compile(r"\d{4}-\d{2}-\d{2}(?:T[\d:.]+)?")
_INCH: Final = re.compile(r"(?:[\"″”“]|''|′′|\bin\b\.?|\binch(?:es)?\b|\bzoll\b)\s*$", re.IGNORECASE)
_COMMA: Final = re.compile(r"\d,\d|(?<!\d),\d")
_SECOND: Final = re.compile(r"\s*(?:\(([^()]+)\)|(?:\s[/=|]\s|;)([^()/=|;]+))\s*$")
# What a supplier writes after two conversions of one value differs by rounding (house rule: no more than this share).
_ROUNDED: Final = 0.01
_FEWER_NOUGHTS: Final = re.compile(r"(\.\d+?)0+(?!\d)")
_GIVE_OR_TAKE: Final = r"±|\+/-"
_ONE_MORE: Final = re.compile(r"\.\d+")
_BY_SYMBOL: Final = {one.symbol: one for one in UNITS if one.symbol}
_SPACED: Final = frozenset({Kind.HOLES, Kind.HEIGHTS})


class CellState(StrEnum):
    """How a cell stands."""

    BLANK = "not known"
    GOOD = "good"
    LOOK = "needs a look"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class CellReading:
    """One cell: what it says, and of a cell that is not good why, with what can be meant.

    ``text`` is as it stands in the file, or what a person typed instead; ``choices`` are texts to type instead.
    ``reading`` is there for a good cell only.
    """

    place: int
    text: str
    state: CellState
    reason: Sentence | str = ""
    choices: tuple[str, ...] = ()
    reading: FieldReading | None = None


def says_nothing(text: str) -> bool:
    """Say whether a cell is empty or says that nothing is known: never a zero."""
    plain = re.sub(r"[\s.]", "", text.casefold())
    return not plain or plain in NOT_KNOWN


def fault_of(text: str) -> bool:
    """Say whether a cell holds what a spreadsheet program writes where a formula failed."""
    return text.strip().casefold() in FAULTS


@dataclass(frozen=True, slots=True)
class ColumnOfSizes:
    """How the cells of one column are read.

    ``field`` is what they tell; ``column`` says its place and the unit of bare numbers; ``decimals`` what stands before
    the decimals; ``how`` is ``claimed`` or ``sheet``. ``asks_thousands``: what a point may set off is asked about, for
    a number cell of a spreadsheet shows its decimals so, whatever mark the list is said to have.
    """

    field: Field
    column: Column
    decimals: Decimals
    how: str
    asks_thousands: bool = False


def read_cell(text: str, by: ColumnOfSizes, *, is_answer: bool = False) -> CellReading:
    """Return what a cell says; ``is_answer``: a person typed it instead of what stands there, so as people type."""
    if says_nothing(text):
        return CellReading(by.column.place, text, CellState.BLANK)
    decimals = Decimals.UNTOLD if is_answer else by.decimals
    cell = _Cell(by.field, text, by.column, decimals, by.how)
    if fault_of(text):
        return cell.fault()
    read = cell.number(is_answer=is_answer) if by.field.kind is Kind.NUMBER else cell.other()
    return cell.doubted(read, asks_thousands=by.asks_thousands and not is_answer)


@dataclass(frozen=True, slots=True)
class _Cell:
    field: Field
    text: str
    column: Column
    decimals: Decimals
    how: str

    def fault(self) -> CellReading:
        """Return the refusal of what a spreadsheet program writes where a formula failed."""
        return self._not_taken(Sentence(A_FAULT, self._named()))

    def doubted(self, read: CellReading, *, asks_thousands: bool) -> CellReading:
        """Return what was ``read``, or a question where it is good but not written with the mark that counts here."""
        is_of_numbers = self.field.kind is Kind.NUMBER or self.field.kind in _SPACED
        if read.state is not CellState.GOOD or not is_of_numbers:
            return read
        if not is_written_with(self.text, self.decimals):
            other = Decimals.POINT if self.decimals is Decimals.COMMA else Decimals.COMMA
            plain = plainly(self.text, other if is_written_with(self.text, other) else self.decimals)
            return self._look(OTHER_MARK, (self._spelled_out(plain),))
        if asks_thousands and has_thousands_by_point(self.text):
            return self._look(TWO_READINGS, tuple(self._other_readings()))
        return read

    def _spelled_out(self, plain: str) -> str:
        """Return a text with its unit; one that a person would not write, with a unit behind the ±, as it stands."""
        if self.field.kind in _SPACED or re.search(_GIVE_OR_TAKE, plain):
            return plain
        return (self._with_unit(plain) or plain).strip()

    def number(self, *, is_answer: bool) -> CellReading:
        """Return what a cell of one number says."""
        if _DATE.fullmatch(self.text.strip()):
            return self._look(A_DATE, ())
        if not is_answer and _INCH.search(self.text) and _COMMA.search(self.text) and self.field.unit == "mm":
            bare = _INCH.sub("", plainly(self.text, Decimals.COMMA)).strip()
            return self._look(INCH_AND_COMMA, (f"{bare} in", f"{bare} mm"))
        second = _SECOND.search(self.text)
        if second is not None and self._names_unit(one := self.text[: second.start()]):
            other = second[1] or second[2]
            if self._names_unit(other):
                return self._of_two(plainly(one, self.decimals), plainly(other, self.decimals))
        return self._one(plainly(self.text, self.decimals))

    def _one(self, plain: str) -> CellReading:
        with_unit = self._with_unit(plain)
        if with_unit is None:
            return self._look(NO_UNIT_SAID, ())
        try:
            reading = self._read(with_unit)
        except (MeasureError, OutsideUsualError) as error:
            choices = tuple(self._other_readings())
            return self._look(TWO_READINGS, choices) if choices else self._refused(error)
        if reading.question is not None:
            asked = reading.question
            bare = f"{float(asked.number):g}"
            return self._look(INCH_OR_MM, (f"{bare} {asked.read_as.symbol}", f"{bare} {asked.likely.symbol}"))
        return self._good(reading, with_unit.removeprefix(plain))

    def _of_two(self, first: str, second: str) -> CellReading:
        """Return what a cell says that gives its value in two units."""
        try:
            one, other = self._read(first), self._read(second)
        except (MeasureError, OutsideUsualError) as error:
            return self._refused(error)
        values = (one.observed.value or 0.0, other.observed.value or 0.0)
        if abs(values[0] - values[1]) > _ROUNDED * max(abs(values[0]), abs(values[1])):
            return self._look(DIFFERENT_UNITS, (first.strip(), second.strip()))
        return self._good(one, "")

    def other(self) -> CellReading:
        """Return what a cell of words, threads or several numbers says."""
        plain = plainly(self.text, self.decimals) if self.field.kind in _SPACED else self.text
        unit = self.column.unit if self.column.unit in {"mm", "in"} else ""
        if self.field.kind in _SPACED and not unit and not re.search(r"(?:mm|in|\")\s*$", plain):
            return self._look(NO_UNIT_SAID, ())
        try:
            typed = Typed((plain,), how=self.how, unit=unit or "mm")
            return self._good(read_typed_field(self.field, typed), "")
        except WordError as error:
            return self._look(NEARLY, (error.instead,), word=error.instead)
        except XrefError as error:
            return self._refused(error)

    def _with_unit(self, plain: str) -> str | None:
        """Return the text with a unit: its own or its column's; None where neither says one and none is told."""
        canonical = FIELD_UNITS[self.field.unit]
        if canonical is NO_UNIT or self._names_unit(plain) or not self._is_bare(plain):
            return plain
        unit = _BY_SYMBOL.get(self.column.unit)
        if unit is None:
            only = [one for one in UNITS if one.kind is canonical.kind]
            unit = canonical if len(only) == 1 else None
        if unit is None:
            return None
        return plain if "/" in plain and canonical.kind.value == "length" else f"{plain.strip()} {unit.symbol}"

    def _names_unit(self, text: str) -> bool:
        return self._reads(text, None) or self._reads(_FEWER_NOUGHTS.sub(r"\1", text), None)

    def _is_bare(self, text: str) -> bool:
        return self._reads(text, FIELD_UNITS[self.field.unit]) or bool(list(self._other_readings(needs_unit=False)))

    def _reads(self, text: str, default: Unit | None) -> bool:
        try:
            for side in re.split(_GIVE_OR_TAKE, text):
                parse_quantity(side, FIELD_UNITS[self.field.unit].kind, default_unit=default)
                default = FIELD_UNITS[self.field.unit]
        except MeasureError:
            return False
        return True

    def _other_readings(self, *, needs_unit: bool = True) -> Iterator[str]:
        """Yield what the cell can mean with decimal comma and with decimal point, where those are two things."""
        ways = dict.fromkeys(plainly(self.text, one) for one in (Decimals.COMMA, Decimals.POINT))
        if len(ways) < 2:
            return
        for way in ways:
            # 2.700 psi is asked about as it stands; 2.7 psi can only mean one thing.
            for spelled in (way, _FEWER_NOUGHTS.sub(r"\1", way), _ONE_MORE.sub(r"\g<0>0", way)):
                if self._reads(spelled, FIELD_UNITS[self.field.unit]):
                    is_whole = not needs_unit or not self.column.unit or self._names_unit(spelled)
                    yield spelled if is_whole else self._united(spelled)
                    break

    def _united(self, way: str) -> str:
        return f"{way.strip()} {self.column.unit}"

    def _read(self, plain: str) -> FieldReading:
        return read_typed_field(self.field, Typed((plain,), how=self.how))

    def _good(self, reading: FieldReading, added: str) -> CellReading:
        observed = replace(reading.observed, as_typed=f"{' '.join(self.text.split())}{added}")
        good = replace(reading, observed=observed)
        return CellReading(self.column.place, self.text, CellState.GOOD, reading=good)

    def _look(self, template: str, choices: tuple[str, ...], **more: str) -> CellReading:
        reason = Sentence(template, {**self._named(), **more})
        return CellReading(self.column.place, self.text, CellState.LOOK, reason, choices)

    def _refused(self, error: XrefError) -> CellReading:
        if isinstance(error, OutsideUsualError):
            return self._not_taken(str(error))
        return self._not_taken(Sentence(CANNOT, {"field": self.field.title, "why": str(error)}))

    def _not_taken(self, reason: Sentence | str) -> CellReading:
        return CellReading(self.column.place, self.text, CellState.REFUSED, reason)

    def _named(self) -> dict[str, str]:
        return {"field": self.field.title, "text": shown(self.text)}
