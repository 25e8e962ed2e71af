"""Bolts: printed proof loads (ISO 898-1), printed stress areas (ISO 898-1, ASME B1.1), lengths."""

from __future__ import annotations

from itertools import pairwise

import pytest

from xref_app.core.standards.bolts import (
    bolt_grades,
    preload_n,
    proof_stress_mpa,
    standard_lengths_mm,
    stress_area_mm2,
)
from xref_app.core.standards.errors import NotInStandardError


@pytest.mark.parametrize(
    ("bolt", "area_mm2"),
    # Source: nominal stress areas as printed in ISO 898-1 (metric) and in ASME B1.1 (square inches).
    [
        ("M6", 20.1),
        ("M8", 36.6),
        ("M10", 58.0),
        ("M12", 84.3),
        ("1/4-20", 0.0318 * 645.16),
        ("5/16-18", 0.0524 * 645.16),
        ("3/8-16", 0.0775 * 645.16),
        ("1/2-13", 0.1419 * 645.16),
    ],
)
def test_stress_area_is_the_printed_one(bolt: str, area_mm2: float) -> None:
    assert stress_area_mm2(bolt) == pytest.approx(area_mm2, rel=0.003)


@pytest.mark.parametrize(
    ("bolt", "nominal_mm", "grade", "load_n"),
    [
        # Source: proof loads of ISO 898-1 as printed to the hundred on a fastener chart.
        ("M6", 6, "8.8", 11600),
        ("M8", 8, "8.8", 21200),
        ("M10", 10, "8.8", 33700),
        ("M12", 12, "8.8", 48900),
        ("M8", 8, "10.9", 30400),
        ("M10", 10, "10.9", 48100),
        ("M12", 12, "10.9", 70000),
    ],
)
def test_proof_load_is_the_printed_one(bolt: str, nominal_mm: float, grade: str, load_n: float) -> None:
    load = preload_n(proof_mpa=proof_stress_mpa(grade, nominal_mm), area_mm2=stress_area_mm2(bolt), share=1)
    assert load == pytest.approx(load_n, abs=100)


def test_proof_stress_steps_down_or_up_where_the_standard_says() -> None:
    # Source: SAE J429: grade 2 drops above 3/4 in, grade 5 above 1 in; ISO 898-1: class 8.8 rises above 16 mm.
    assert proof_stress_mpa("2", 19.05) == pytest.approx(55 * 6.894757, rel=1e-6)
    assert proof_stress_mpa("2", 22.225) == pytest.approx(33 * 6.894757, rel=1e-6)
    assert proof_stress_mpa("5", 25.4) == pytest.approx(85 * 6.894757, rel=1e-6)
    assert proof_stress_mpa("5", 28.575) == pytest.approx(74 * 6.894757, rel=1e-6)
    assert (proof_stress_mpa("8.8", 16), proof_stress_mpa("8.8", 20)) == (580, 600)


def test_a_stronger_grade_never_has_the_lower_proof_stress() -> None:
    for standard, weakest_first in (("SAE J429", ("1", "2", "5", "8")), ("ISO 898-1", ("8.8", "10.9", "12.9"))):
        size_mm = 10 if standard.startswith("ISO") else 9.525
        for weak, strong in pairwise(weakest_first):
            assert proof_stress_mpa(weak, size_mm) < proof_stress_mpa(strong, size_mm)
        assert {row.grade for row in bolt_grades() if row.standard == standard} == set(weakest_first)


def test_unknown_bolts_are_refused_in_one_sentence() -> None:
    with pytest.raises(NotInStandardError, match=r"^A bolt of grade 9\.9 and 8 mm is not in our tables of SAE J429"):
        proof_stress_mpa("9.9", 8)
    with pytest.raises(
        NotInStandardError, match=r"^A bolt “G3/8” is not in our table of threads; write it like M8x1\.25"
    ):
        stress_area_mm2("G3/8")
    with pytest.raises(NotInStandardError, match=r"^The system “cubits” is not in our table of bolt lengths"):
        standard_lengths_mm("cubits")


@pytest.mark.parametrize(("system", "shortest", "longest"), [("inch", 19.05, 76.2), ("metric", 10, 80)])
def test_lengths_ascend_without_a_step_that_would_leave_a_bolt_without_a_length(
    system: str, shortest: float, longest: float
) -> None:
    lengths = standard_lengths_mm(system)
    assert (lengths[0], lengths[-1]) == (shortest, longest)
    assert all(0 < upper - lower <= 10 for lower, upper in pairwise(lengths))
