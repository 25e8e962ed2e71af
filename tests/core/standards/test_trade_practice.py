"""Facts of the trade: figures in order, speeds below synchronous, what was never checked is a hint."""

from __future__ import annotations

import pytest

from xref_app.core.standards.shaft_sizes import standard_sizes
from xref_app.core.standards.trade_practice import Practice, practices, practices_about

TOPICS = {
    "shaft", "speed", "ports", "heat", "supply", "storage", "assembly", "maintenance", "mount", "spacer", "power",
    "compat", "safety",
}  # fmt: skip


def item(practice: Practice) -> str:
    return f"{practice.topic}: {practice.item}"


@pytest.mark.parametrize("practice", practices(), ids=item)
def test_figures_come_with_a_unit_and_in_order(practice: Practice) -> None:
    assert practice.fact
    if practice.low is not None:
        assert practice.unit
        assert practice.high is None or practice.low <= practice.high
    else:
        assert practice.high is None


@pytest.mark.parametrize("practice", practices(), ids=item)
def test_what_was_not_seen_in_a_second_place_is_a_hint(practice: Practice) -> None:
    unseen = practice.checked_against in {"not checked in a second place", "standard numbers recalled"}
    assert practice.decides is not unseen


def test_topics_are_the_known_ones_and_each_has_facts() -> None:
    assert {practice.topic for practice in practices()} == TOPICS
    assert sum(len(practices_about(topic)) for topic in TOPICS) == len(practices()) == 54
    assert practices_about("weather") == ()


@pytest.mark.parametrize(
    ("words", "hertz", "poles"),
    [("60 Hz 2-pole", 60, 2), ("50 Hz 2-pole", 50, 2), ("60 Hz 4-pole", 60, 4), ("50 Hz 4-pole", 50, 4)],
)
def test_motor_speeds_lie_a_little_below_synchronous(words: str, hertz: int, poles: int) -> None:
    # Source: textbook: synchronous speed = 120 f / p; induction motors slip a few per cent.
    (practice,) = [one for one in practices_about("speed") if words in one.item]
    synchronous = 120 * hertz / poles
    assert practice.low is not None
    assert practice.high is not None
    assert 0.93 * synchronous <= practice.low <= practice.high < synchronous


def test_thermal_relief_opens_between_inlet_limit_and_boiling() -> None:
    (relief,) = [one for one in practices_about("heat") if "relief" in one.item]
    assert relief.unit == "deg F"
    assert relief.high is not None
    assert 104 < relief.high < 212


def test_shafts_are_standard_sizes() -> None:
    inches = {round(size.diameter_mm / 25.4, 4) for size in standard_sizes() if size.system == "inch"}
    metric = {size.diameter_mm for size in standard_sizes() if size.system == "metric"}
    for practice in practices_about("shaft"):
        known = inches if practice.unit == "in" else metric
        assert practice.low in known, practice
        assert practice.high in known, practice
