"""Look-alikes: both halves against the published tables they come from, and the differences their words state."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import chain

import pytest

from xref_app.core.standards.exact import inch_mm
from xref_app.core.standards.faces import published_faces
from xref_app.core.standards.key_widths import standard_widths
from xref_app.core.standards.near_misses import LookAlike, NearMiss, near_misses, near_misses_of
from xref_app.core.standards.shaft_sizes import standard_sizes
from xref_app.core.standards.table_files import table_rows
from xref_app.core.standards.threads import thread_row

PAIRS = near_misses()
HALVES = [(pair.kind, half) for pair in PAIRS for half in (pair.item, pair.other)]
ROWS = table_rows("near_misses")
# Half of the last digit printed: three places for a size, four for a pitch.
SIZE_ROUNDING, PITCH_ROUNDING = 0.0005 + 1e-9, 0.00005 + 1e-9


def halves(kind: str) -> list[LookAlike]:
    return list(dict.fromkeys(half for found, half in HALVES if found == kind))


def named(item: LookAlike | NearMiss) -> str:
    return item.name if isinstance(item, LookAlike) else f"{item.item.name} and {item.other.name}"


@pytest.mark.parametrize("half", halves("thread"), ids=named)
def test_thread_is_a_row_of_the_table_of_threads(half: LookAlike) -> None:
    # Source: ASME B1.20.1, ISO 228-1, ISO 7-1, ASME B1.20.7, ISO 261, ASME B1.1 by way of the table of threads.
    row = thread_row(half.name)
    assert row.designation.startswith(half.name)
    assert half.size_mm == pytest.approx(row.pipe_od_mm or row.major_mm, abs=SIZE_ROUNDING)
    assert half.pitch_mm == pytest.approx(row.pitch_mm, abs=PITCH_ROUNDING)
    assert half.angle_deg == row.angle_deg
    assert half.taper.startswith("none") is row.taper.startswith("none")


@pytest.mark.parametrize("half", ["a", "b"])
def test_pitch_and_threads_per_inch_are_the_same_thing(half: str) -> None:
    # Source: 1 in = 25.4 mm exactly; printed pitch to 4 places, threads per inch to 3.
    for row in ROWS:
        pitch, tpi = row[f"pitch_{half}_mm"], row[f"tpi_{half}"]
        if tpi:
            assert float(pitch) == pytest.approx(25.4 / float(tpi), rel=0.0005 / float(tpi) + PITCH_ROUNDING), row


@pytest.mark.parametrize("half", halves("shaft"), ids=named)
def test_shaft_is_a_standard_size(half: LookAlike) -> None:
    (size,) = [size for size in standard_sizes() if size.label == half.name]
    assert half.size_mm == pytest.approx(size.diameter_mm, abs=SIZE_ROUNDING)


@pytest.mark.parametrize("half", halves("key"), ids=named)
def test_key_is_a_standard_width(half: LookAlike) -> None:
    # Source: ASME B17.1 and ISO 773 by way of the tables of keys.
    (width,) = [width for width in standard_widths() if f"{width.label} key" == half.name]
    assert half.size_mm == pytest.approx(width.width_mm, abs=SIZE_ROUNDING)


@pytest.mark.parametrize("half", halves("flange"), ids=named)
def test_pattern_is_as_large_as_its_name_says(half: LookAlike) -> None:
    metric = re.search(r"(\d+) mm", half.name)
    inch = re.search(r"([\d./-]+) in", half.name)
    assert bool(metric) is not bool(inch)
    expected = float(metric[1]) if metric else inch_mm(inch[1]) if inch else 0
    assert half.size_mm == pytest.approx(expected, abs=SIZE_ROUNDING)


@pytest.mark.parametrize(("name", "column"), [("5-7/8 in bolt circle", "circle"), ("4.500 in pilot", "pilot")])
def test_nema_halves_are_on_a_nema_face(name: str, column: str) -> None:
    # Source: NEMA MG 1, clause 4.4.4: AJ 5.875 and AK 4.500 of frames 56C to 145TC.
    (face,) = [face for face in published_faces() if face.name == "56C"]
    (half,) = [half for half in halves("flange") if half.name == name]
    size_mm = face.bolt_circle_mm if column == "circle" else face.pilot_mm.high
    assert half.size_mm == pytest.approx(size_mm, abs=SIZE_ROUNDING)


@pytest.mark.parametrize("pair", [pair for pair in PAIRS if pair.kind in {"shaft", "key"}], ids=named)
def test_words_state_the_difference_and_which_is_larger(pair: NearMiss) -> None:
    stated = re.search(r"(?:by|difference) (-?[\d.]+) mm", pair.looks_alike_because)
    assert stated
    assert float(stated[1].lstrip("-")) == pytest.approx(abs(pair.size_difference_mm), abs=0.0056)
    inch_is_larger = pair.size_difference_mm > 0
    assert ("inch shaft is larger" in pair.why_it_fails or "metric key is smaller" in pair.why_it_fails) is (
        inch_is_larger
    )


@pytest.mark.parametrize("pair", [pair for pair in PAIRS if "TPI differs" in pair.why_it_fails], ids=named)
def test_pitches_differ_where_the_words_say_so(pair: NearMiss) -> None:
    assert pair.item.pitch_mm != pair.other.pitch_mm


@pytest.mark.parametrize("pair", [pair for pair in PAIRS if "same TPI" in pair.why_it_fails], ids=named)
def test_pitches_are_equal_where_the_words_say_so(pair: NearMiss) -> None:
    assert pair.item.pitch_mm == pair.other.pitch_mm


@pytest.mark.parametrize("pair", PAIRS, ids=named)
def test_pair_is_found_from_either_half_and_turned(pair: NearMiss) -> None:
    assert pair in near_misses_of(pair.item.name)
    assert replace(pair, item=pair.other, other=pair.item) in near_misses_of(pair.other.name)


@pytest.mark.parametrize(
    ("written", "others"),
    [
        ("5/16-24", {"M8x1.25", "5/16-18 UNC"}),
        ("m8", {"5/16-18 UNC", "5/16-24 UNF"}),
        ("1/2-14 npt", {"G1/2", "R1/2"}),
        ("G 1/2", {"1/2-14 NPT", "M22x1.5", "M21x1.5"}),
        ("3/4 in", {"19 mm"}),
        ("24 mm", {"15/16 in"}),
        ("3/16 in key", {"5 mm key"}),
    ],
)
def test_look_alikes_of_what_people_write(written: str, others: set[str]) -> None:
    assert {pair.other.name for pair in near_misses_of(written)} == others


@pytest.mark.parametrize("item", ["", "3/8 in", "M99x9", "3/16 in"])
def test_nothing_is_a_look_alike_of_what_is_not_in_the_table(item: str) -> None:
    assert near_misses_of(item) == ()


def test_no_pair_stands_twice_either_way_round() -> None:
    pairs = [frozenset((pair.item.name, pair.other.name)) for pair in PAIRS]
    assert len(set(pairs)) == len(pairs)
    assert all(len(pair) == 2 for pair in pairs)


def test_pairs_from_memory_do_not_decide() -> None:
    hints = set(chain.from_iterable((pair.item.name, pair.other.name) for pair in PAIRS if not pair.decides))
    assert hints == {
        "G1/2",
        "M21x1.5",
        "6.5 in bolt circle",
        "FF165 / FT165 circle 165 mm",
        "4.500 in pilot",
        "FT115 circle 115 mm",
    }
