"""Typed money, minutes and shares: read exactly, or refused in one sentence."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.core.economics.columns import span
from xref_app.core.economics.reading import read_days, read_minutes, read_money, read_percent, read_share
from xref_app.core.economics.span import NOTHING, Span
from xref_app.core.quantity.errors import MeasureError


@pytest.mark.parametrize(
    ("text", "money"),
    [
        ("149", span("149")),
        ("149.50", span("149.50")),
        ("149,50", span("149.50")),
        (" 149.5 ", span("149.50")),
        (".50", span("0.50")),
        ("140-160", span("140", "160")),
        ("140 – 160", span("140", "160")),
        ("140 to 160", span("140", "160")),
        ("140 .. 160,25", span("140", "160.25")),
        ("$149", span("149")),
        ("149 $", span("149")),
        ("$140-$160", span("140", "160")),
        ("none", NOTHING),
        ("0", NOTHING),
    ],
)
def test_money_is_read_exactly(text: str, money: Span) -> None:
    assert read_money(text, sign="$") == money


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("70", span("70")),
        ("70 min", span("70")),
        ("1 h 10", span("70")),
        ("1h10", span("70")),
        ("1 h 10 min", span("70")),
        ("1:10", span("70")),
        ("1.5 h", span("90")),
        ("1,5 h", span("90")),
        ("60-90", span("60", "90")),
        ("60-90 min", span("60", "90")),
        ("2-4 min", span("2", "4")),
        ("1-2 h", span("60", "120")),
        ("1 h - 1 h 30", span("60", "90")),
        ("none", NOTHING),
    ],
)
def test_time_is_read_in_minutes(text: str, minutes: Span) -> None:
    assert read_minutes(text) == minutes


_LIKE = "Write it like 149, 149.50 or 140-160; none for nothing."


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("abc", f"“abc” is not an amount of money. {_LIKE}"),
        ("1 000", f"“1 000” is not an amount of money. {_LIKE}"),
        ("€149", f"“€149” is not an amount of money. {_LIKE}"),
        ("1,000", "“1,000” can mean thousands or a part of one. Write it like 1000 or 1.00."),
        ("1.299", "“1.299” can mean thousands or a part of one. Write it like 1299 or 1.30."),
        ("160-140", "“160-140” runs down. Write it like 140-160."),
        ("-5", f"“-5” is below zero. {_LIKE}"),
        ("10000001", f"“10000001” is more than any pump or machine costs. {_LIKE}"),
    ],
)
def test_other_money_is_refused_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as refused:
        read_money(text, sign="$")
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("1:75", "“1:75” is not a time. Write it like 70 min, 1 h 10 or 60-90."),
        ("2", "“2” can mean minutes or hours. Write it like 2 min or 2 h."),
        ("1.5", "“1.5” can mean minutes or hours. Write it like 1.5 min or 1.5 h."),
        ("101 h", "“101 h” is more than 100 hours. Write it like 70 min, 1 h 10 or 60-90."),
    ],
)
def test_other_time_is_refused_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as refused:
        read_minutes(text)
    assert str(refused.value) == sentence


def test_shares_percentages_and_days() -> None:
    assert read_share("2/3") == Fraction(2, 3)
    assert read_share("66 %") == Fraction(66, 100)
    assert read_percent("7,5 %") == Decimal("7.5")
    assert read_days("365 days") == 365
    for read, text in ((read_share, "4/3"), (read_share, "0"), (read_share, "1/0"), (read_percent, "101")):
        with pytest.raises(MeasureError):
            read(text)
    for text in ("0", "365.5", "99999", "٣", "²"):
        with pytest.raises(MeasureError):
            read_days(text)


_CENTS = st.integers(0, 999_999_999)


@given(cents=_CENTS, more=_CENTS, mark=st.sampled_from(".,"), dash=st.sampled_from(["-", " - ", " to ", "–"]))
def test_what_is_written_is_read_back(cents: int, more: int, mark: str, dash: str) -> None:
    def written(amount: int) -> str:
        return f"{amount // 100}{mark}{amount % 100:02d}"

    low, high = sorted((cents, more))
    wanted = Span(Decimal(low) / 100, Decimal(high) / 100)
    assert read_money(f"{written(low)}{dash}{written(high)}") == wanted


@given(st.text(max_size=80))
@example("1" + "0" * 28)
def test_any_text_is_read_or_refused_in_one_sentence(text: str) -> None:
    for read in (read_money, read_minutes, read_percent, read_share, read_days):
        refusals: list[str] = []
        try:
            read(text)
        except MeasureError as error:
            refusals.append(str(error))
        assert all(one.endswith(".") and "\n" not in one for one in refusals)
