"""Inch fractions: the exact rule, a printed table, and what a general parser makes of them."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.show import show_inch

# Millimetres to four decimals of 1/64 in to 1 in: the common decimal-equivalents chart of machine shops, as carried in
# the project's reference table of inch fractions (source there: NIST SP 811, 1 in = 25.4 mm exactly).
CHART_TEXT = """
0.3969 0.7937 1.1906 1.5875 1.9844 2.3812 2.7781 3.175 3.5719 3.9688 4.3656 4.7625 5.1594 5.5562 5.9531 6.35
6.7469 7.1437 7.5406 7.9375 8.3344 8.7312 9.1281 9.525 9.9219 10.3187 10.7156 11.1125 11.5094 11.9062 12.3031 12.7
13.0969 13.4937 13.8906 14.2875 14.6844 15.0812 15.4781 15.875 16.2719 16.6687 17.0656 17.4625 17.8594 18.2562 18.6531
19.05 19.4469 19.8438 20.2406 20.6375 21.0344 21.4312 21.8281 22.225 22.6219 23.0187 23.4156 23.8125 24.2094 24.6062
25.0031 25.4
"""
CHART_MM = CHART_TEXT.split()

# Half of the chart's last decimal.
CHART_ROUNDING_MM = 0.00005001


def test_chart_is_whole() -> None:
    assert len(CHART_MM) == 64


@pytest.mark.parametrize("parts", range(1, 64))
def test_fraction_agrees_with_the_chart(parts: int) -> None:
    length = parse_length_mm(f"{parts}/64 in")
    assert length.value_mm == pytest.approx(float(CHART_MM[parts - 1]), abs=CHART_ROUNDING_MM)


def spellings(whole: int, parts: int, bottom: int) -> list[str]:
    """Return every way to write the same inch size."""
    fraction = f"{parts}/{bottom}"
    numbers = [f"{whole} {fraction}", f"{whole}-{fraction}", f"{whole}–{fraction}"] if whole else [fraction]
    numbers += [number.replace("/", "⁄") for number in numbers]
    decimal = f"{float(whole + Fraction(parts, bottom)):.8f}".rstrip("0")
    numbers += [decimal] + ([] if len(decimal.partition(".")[2]) == 3 else [decimal.replace(".", ",")])
    ends = [" in", "in", '"', " inch", " IN.", " inches", "″", "”", "''", "-in", "\u00a0in"]
    return [number + end for number in numbers for end in ends]


@pytest.mark.parametrize("bottom", [2, 4, 8, 16, 32, 64])
@pytest.mark.parametrize("whole", [0, 1, 3, 11])
def test_every_spelling_of_every_64th_is_exact(whole: int, bottom: int) -> None:
    for parts in range(1, bottom):
        exact = (whole + Fraction(parts, bottom)) * Fraction(254, 10)
        for text in spellings(whole, parts, bottom):
            assert parse_length_mm(text).mm == exact, text


@pytest.mark.parametrize("parts", range(1, 512))
def test_shown_fraction_reads_back_exactly(parts: int) -> None:
    exact = Fraction(parts, 64) * Fraction(254, 10)
    assert parse_length_mm(show_inch(float(exact))).mm == exact


ONE_CHARACTER = [("½", 12.7), ("¼", 6.35), ("¾", 19.05), ("⅛", 3.175), ("⅜", 9.525), ("⅝", 15.875), ("⅞", 22.225)]


@pytest.mark.parametrize(("sign", "mm"), ONE_CHARACTER)
def test_one_character_fractions(sign: str, mm: float) -> None:
    assert parse_length_mm(f'{sign}"').value_mm == mm
    assert parse_length_mm(f"1{sign} in").value_mm == pytest.approx(25.4 + mm, abs=1e-12)


# What pint 0.25.3 makes of shop notation without a word of warning, and what it means.
MISREAD = [("1 1/4 in", 0.25 * 25.4, 31.75), ("22,2 mm", 222.0, 22.2)]


@pytest.mark.parametrize(("text", "pint_mm", "right_mm"), MISREAD)
def test_what_a_general_parser_misreads_is_read_rightly(text: str, pint_mm: float, right_mm: float) -> None:
    assert pint.UnitRegistry().Quantity(text).to("mm").magnitude == pytest.approx(pint_mm)
    assert parse_length_mm(text).value_mm == right_mm


def test_inch_mark_is_an_inch_and_capital_mm_a_millimetre() -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    assert registry.Quantity('7/8"').dimensionless
    assert str(registry.Quantity("1 MM").units) == "megamolar"
    assert parse_length_mm('7/8"').value_mm == 22.225
    assert parse_length_mm("1 MM").value_mm == 1.0


def test_a_thread_is_no_subtraction() -> None:
    assert pint.UnitRegistry().Quantity("3/4-11.5").magnitude == pytest.approx(-10.75)
    with pytest.raises(MeasureError, match="is not a length with a unit"):
        parse_length_mm("3/4-11.5", default_unit="mm")
