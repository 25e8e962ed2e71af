"""Several readings, instruments, crests and edges: arithmetic that must never claim more than was read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.fields.fields import field_for
from xref_app.core.quantity.crests import pitch_from_crests_mm
from xref_app.core.quantity.edges import EdgeReading, Taken, centre_distance_mm, centre_distance_of_both_mm
from xref_app.core.quantity.instruments import DOUBTS, Instrument, doubt_of
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.quantity.readings import ReadingError, gathered

SIZES_MM = st.floats(5, 200)


@given(st.lists(st.floats(1, 300), min_size=1, max_size=6), st.floats(0, 0.5))
def test_the_range_holds_what_every_reading_allows_and_no_more(values: list[float], doubt: float) -> None:
    found = gathered(values, doubt=doubt)
    assert all(Range.around(value, doubt).within(found.range) for value in values)
    assert found.range.low == pytest.approx(min(values) - doubt)
    assert found.range.high == pytest.approx(max(values) + doubt)
    assert found.doubt >= doubt
    assert found.spread == max(values) - min(values)


@given(SIZES_MM, st.lists(st.floats(-0.05, 0.05), min_size=1, max_size=6))
def test_the_truth_lies_inside_and_honest_readings_raise_no_note(true: float, errors: list[float]) -> None:
    found = gathered([true + error for error in errors], doubt=0.05)
    assert found.range.low - SAME_MM <= true <= found.range.high + SAME_MM
    assert found.notes == ()


def test_readings_further_apart_than_the_instrument_explains_are_told() -> None:
    found = gathered([19.02, 19.2, 19.03], doubt=0.05)
    assert "differ by 0.18" in str(found.notes[0])
    assert "explains 0.1 at most" in str(found.notes[0])
    assert gathered([19.02, 19.12], doubt=0.05).notes == ()


@pytest.mark.parametrize(("values", "doubt"), [([], 0.1), ([float("nan")], 0.1), ([1.0], float("inf")), ([1.0], -0.1)])
def test_readings_that_are_none_are_refused(values: list[float], doubt: float) -> None:
    with pytest.raises(ReadingError):
        gathered(values, doubt=doubt)


def test_calipers_have_the_doubts_of_the_fields() -> None:
    # The design: outside ±0.05, inside ±0.10, depth and projection ±0.10, seat heights ±0.05 mm (house rule).
    for instrument, field in (
        (Instrument.CALIPER_OUTSIDE, "shaft_diameter_mm"),
        (Instrument.CALIPER_INSIDE, "bore_diameter_mm"),
        (Instrument.CALIPER_DEPTH, "shaft_projection_mm"),
        (Instrument.STRAIGHTEDGE_AND_FEELER, "face_seat_heights_mm"),
    ):
        assert doubt_of(instrument) == field_for(field).default_doubt


def test_every_instrument_has_a_doubt_that_grows_where_it_should() -> None:
    assert set(DOUBTS) == set(Instrument)
    assert doubt_of(Instrument.PRESSURE_GAUGE, reading=100) == 5
    assert doubt_of(Instrument.PRESSURE_GAUGE, reading=300) == pytest.approx(9)
    assert doubt_of(Instrument.MICROMETER, reading=300) == 0.01


def test_the_shop_may_set_its_own_doubt() -> None:
    shop = {Instrument.CALIPER_OUTSIDE: 0.02, Instrument.PRESSURE_GAUGE: 1.0}
    assert doubt_of(Instrument.CALIPER_OUTSIDE, shop=shop) == 0.02
    assert doubt_of(Instrument.PRESSURE_GAUGE, reading=300, shop=shop) == 1.0
    assert doubt_of(Instrument.CALIPER_INSIDE, shop=shop) == 0.10
    with pytest.raises(ReadingError, match="no half-width"):
        doubt_of(Instrument.CALIPER_OUTSIDE, shop={Instrument.CALIPER_OUTSIDE: -0.02})


@pytest.mark.parametrize("tpi", [11, 11.5, 14, 18, 27])
def test_one_inch_of_crests_has_one_crest_more_than_threads(tpi: float) -> None:
    # Definition: pitch = 25.4 / TPI. Over two inches a thread of TPI shows 2 · TPI + 1 crests.
    pitch = pitch_from_crests_mm(
        crests_counted_with_both_ends=int(2 * tpi) + 1, first_to_last_crest_mm=Range.around(50.8, 0.1)
    )
    assert pitch.middle == pytest.approx(25.4 / tpi)
    assert pitch.doubt == pytest.approx(0.1 / (2 * tpi))


def test_one_crest_is_no_pitch() -> None:
    with pytest.raises(ReadingError, match="first crest and the last"):
        pitch_from_crests_mm(crests_counted_with_both_ends=1, first_to_last_crest_mm=Range(1, 2))


HOLES_MM = st.tuples(st.floats(4, 20), st.floats(4, 20))


@given(st.floats(25, 250), HOLES_MM, st.lists(st.floats(-0.1, 0.1), min_size=4, max_size=4))
def test_every_way_from_edge_to_edge_holds_the_true_distance(
    true: float, holes: tuple[float, float], errors: list[float]
) -> None:
    sum_of_radii = sum(holes) / 2
    near = Range.around(true - sum_of_radii + errors[0], 0.1)
    far = Range.around(true + sum_of_radii + errors[1], 0.1)
    diameters = tuple(Range.around(hole + error, 0.1) for hole, error in zip(holes, errors[2:], strict=True))
    for found, doubt in (
        (centre_distance_mm(EdgeReading(near, Taken.NEAR_EDGES, diameters)), 0.2),
        (centre_distance_mm(EdgeReading(far, Taken.FAR_EDGES, diameters)), 0.2),
        (centre_distance_of_both_mm(near_edges=near, far_edges=far), 0.1),
    ):
        assert Range.exactly(true).within(found)
        assert found.doubt == pytest.approx(doubt)


def test_one_diameter_stands_for_two_equal_holes() -> None:
    hole = Range.exactly(8.7)
    assert centre_distance_mm(EdgeReading(Range.exactly(73.8), Taken.FAR_EDGES, (hole,))).middle == pytest.approx(65.1)
    assert centre_distance_mm(EdgeReading(Range.exactly(56.4), Taken.NEAR_EDGES, (hole,))).middle == pytest.approx(65.1)


@pytest.mark.parametrize("diameters", [None, (), (Range(8, 9), Range(8, 9), Range(8, 9)), (Range(0, 9),)])
def test_edges_without_usable_diameters_are_refused(diameters: tuple[Range, ...] | None) -> None:
    with pytest.raises(ReadingError):
        centre_distance_mm(EdgeReading(Range(50, 51), Taken.NEAR_EDGES, diameters))


def test_edges_that_contradict_are_refused() -> None:
    with pytest.raises(ReadingError, match="further apart"):
        centre_distance_of_both_mm(near_edges=Range.around(60, 0.1), far_edges=Range.around(50, 0.1))
    with pytest.raises(ReadingError, match="between the centres"):
        centre_distance_mm(EdgeReading(Range(5, 6), Taken.FAR_EDGES, (Range(8, 9),)))
