"""One measured amount in any unit: what every kind of quantity has in common."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.numerals import Numeral, split_numeral
from xref_app.core.quantity.units import INCH, Kind, Unit, unit_or_none
from xref_app.core.quantity.written import tidy

# An inch rule is divided no finer; a plate that says 3/4 in or 1 in means a size of such a rule (house rule).
_FINEST_INCH_PART = 64
_LARGEST_INCH_BOTTOM = 128


@dataclass(frozen=True, slots=True)
class Manner:
    """How one kind of quantity is written.

    Attributes:
        kind: What is measured.
        instead: Two good examples, for the sentence of a refusal.
        below_zero: Whether a minus sign makes sense.
        point_groups_in: Units whose plates carry whole numbers, so that 3.400 could mean 3400.
    """

    kind: Kind
    instead: str
    below_zero: bool = False
    point_groups_in: tuple[Unit, ...] = ()


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount as read.

    ``exact`` is in the canonical unit of the kind, ``last_digit`` is half of the last digit given, in the same unit.
    ``unit`` is the one ``number`` was read in and ``unit_given`` says whether the text named it.
    """

    exact: Fraction
    last_digit: Fraction
    number: Fraction
    unit: Unit
    unit_given: bool

    @property
    def value(self) -> float:
        """Return the canonical value as a float."""
        return float(self.exact)


def parse_amount(text: str, manner: Manner, *, default_unit: Unit | None = None) -> Amount:
    """Return the amount that ``text`` names, exactly.

    Args:
        text: As typed, like ``22,2 mm`` or ``2700 psi``.
        manner: How this kind is written.
        default_unit: The unit of a bare number; None refuses a bare number. A bare fraction of a length is in
            inches whatever the default (common practice, no published source: nobody writes 3/4 of a millimetre).

    Raises:
        MeasureError: the text is no such amount, or could mean two of them.
    """
    plain = tidy(text, instead=manner.instead)
    negative = plain.startswith("-")
    parts = split_numeral(plain.removeprefix("-"), found=text, instead=manner.instead)
    no_amount = f"is not {_a(manner.kind)}" + ("" if manner.kind is Kind.COUNT else " with a unit")
    if parts is None:
        raise MeasureError(text, no_amount, manner.instead)
    numeral, rest = parts
    unit = _unit(numeral, rest, manner, default_unit)
    if unit is None:
        raise MeasureError(text, _wrong_unit(rest, manner) or no_amount, manner.instead)
    if negative and not manner.below_zero:
        raise MeasureError(text, "is below zero", manner.instead)
    _refuse_doubtful(text, numeral, unit, manner)
    number = -numeral.value if negative else numeral.value
    return Amount(unit.to_canonical(number), _last_digit(numeral, unit), number, unit, bool(rest))


def _unit(numeral: Numeral, rest: str, manner: Manner, default_unit: Unit | None) -> Unit | None:
    if not rest:
        is_rule_size = manner.kind is Kind.LENGTH and numeral.bottom > 1 and default_unit is not None
        return INCH if is_rule_size else default_unit
    unit = _named(rest)
    return unit if unit is not None and unit.kind is manner.kind else None


def _named(rest: str) -> Unit | None:
    """Return the unit that ``rest`` names: after a space, a hyphen (3/4-in) or nothing, but not after both."""
    joined = rest[1:] if rest[0] in " -" else rest
    return unit_or_none(joined) if joined[:1] not in {" ", "-", ""} else None


def _wrong_unit(rest: str, manner: Manner) -> str:
    unit = _named(rest) if rest else None
    return "" if unit is None else f"is {_a(unit.kind)}, not {_a(manner.kind)}"


def _a(kind: Kind) -> str:
    return f"{'an' if kind is Kind.ANGLE else 'a'} {kind}"


def _refuse_doubtful(text: str, numeral: Numeral, unit: Unit, manner: Manner) -> None:
    mark = numeral.grouping_mark
    if mark == "," or (mark and unit in manner.point_groups_in):
        grouped, split = f"{numeral.value * 1000}", f"{float(numeral.value)}"
        instead = f"{f'{grouped} {unit.symbol}'.strip()} or {f'{split} {unit.symbol}'.strip()}"
        raise MeasureError(text, f"can mean {grouped} or {split}", instead)
    bottom = numeral.bottom
    if manner.kind is Kind.LENGTH and (bottom & (bottom - 1) or bottom > _LARGEST_INCH_BOTTOM):
        raise MeasureError(text, f"is divided in {bottom}, as no rule is", manner.instead)


def _last_digit(numeral: Numeral, unit: Unit) -> Fraction:
    step = numeral.step
    if unit == INCH and (numeral.bottom > 1 or numeral.is_whole):
        step = Fraction(1, max(_FINEST_INCH_PART, numeral.bottom))
    return step * unit.factor / 2
