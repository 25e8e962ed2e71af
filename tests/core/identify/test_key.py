"""Keys against ASME B17.1 and ISO 773; neighbours of the two systems are never taken for each other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.identify.key import StandardKey, identify_key, standard_keys
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError

CALIPER_MM = 0.05


@st.composite
def read_keys(draw: st.DrawFn) -> tuple[StandardKey, Range, Range]:
    key = draw(st.sampled_from(standard_keys()))
    width, height = (
        Range.around(draw(st.floats(limits.low, limits.high)) + draw(st.floats(-CALIPER_MM, CALIPER_MM)), CALIPER_MM)
        for limits in (key.width.key_mm, key.height_mm)
    )
    return key, width, height


@given(read_keys())
def test_the_true_key_is_always_among_the_candidates(case: tuple[StandardKey, Range, Range]) -> None:
    key, width, height = case
    for found in (identify_key(width), identify_key(width, height)):
        assert key.width.label in [one.label for one in found.candidates]
        assert found.ambiguous is (len(found.candidates) > 1)


@pytest.mark.parametrize(
    ("label", "width_mm", "height_mm"),
    # Source: ASME B17.1 (square keys) and DIN 6885-1 (a printed table and a library of key sizes agree).
    [
        ("3/32 in", 2.381, 2.381),
        ("3/16 in", 4.7625, 4.7625),
        ("1/2 in", 12.7, 12.7),
        ("5 mm", 5, 5),
        ("8 mm", 8, 7),
        ("10 mm", 10, 8),
        ("14 mm", 14, 9),
        ("16 mm", 16, 10),
    ],
)
def test_height_goes_with_width(label: str, width_mm: float, height_mm: float) -> None:
    key = next(key for key in standard_keys() if key.width.label == label)
    assert key.width.width_mm == pytest.approx(width_mm, abs=1e-3)
    assert key.height_mm.high == pytest.approx(height_mm, abs=1e-3)


@pytest.mark.parametrize(
    ("width_mm", "label"), [(4.76, "3/16 in"), (5.0, "5 mm"), (6.0, "6 mm"), (6.35, "1/4 in"), (4.72, "3/16 in")]
)
def test_a_caliper_tells_the_neighbours_apart(width_mm: float, label: str) -> None:
    found = identify_key(Range.around(width_mm, CALIPER_MM))
    assert [one.label for one in found.candidates] == [label]
    assert not found.ambiguous


def test_a_coarse_reading_leaves_both_neighbours() -> None:
    for middle, labels in ((4.87, {"3/16 in", "5 mm"}), (6.15, {"1/4 in", "6 mm"})):
        found = identify_key(Range.around(middle, 0.2))
        assert {one.label for one in found.candidates} == labels
        assert found.ambiguous
        assert found.next_measurement is not None
        assert set(found.next_measurement.between) == labels


def test_height_tells_5_16_from_8_mm() -> None:
    # 7.938 and 8 mm overlap within a caliper's doubt; 5/16 is square, 8 mm is 7 high (ISO 773).
    width = Range.around(7.95, CALIPER_MM)
    found = identify_key(width)
    assert found.next_measurement is not None
    assert found.next_measurement.reading == "height_mm"
    assert [one.label for one in identify_key(width, Range.around(7.0, CALIPER_MM)).candidates] == ["8 mm"]
    assert [one.label for one in identify_key(width, Range.around(7.92, CALIPER_MM)).candidates] == ["5/16 in"]


def test_a_key_between_two_sizes_is_none_of_them_and_says_by_how_much() -> None:
    found = identify_key(Range.around(4.87, CALIPER_MM))
    assert found.candidates == ()
    assert "0.058 to 0.157 mm wider than a 3/16 in key" in str(found.notes[0])
    assert "0.080 to 0.180 mm narrower than a 5 mm key" in str(found.notes[1])


def test_a_height_of_another_key_leaves_it_open() -> None:
    found = identify_key(Range.around(4.76, CALIPER_MM), Range.around(7.0, CALIPER_MM))
    assert [one.label for one in found.candidates] == ["3/16 in"]
    assert found.ambiguous
    assert found.next_measurement is not None
    assert found.next_measurement.reading == "height_mm"
    assert "stepped or filed" in str(found.notes[0])


def test_a_width_that_is_no_size_is_refused() -> None:
    with pytest.raises(ReadingError, match="is not a size"):
        identify_key(Range(0, 1))
