"""ux.md A5: a seeded mix of 400 entries, none stored wrong by 25.4, at least 98 % accepted without a question."""

from __future__ import annotations

import random

from xref_app.core.quantity.inch_or_mm import inch_or_mm_or_none
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.show import show_inch
from xref_app.core.quantity.units import MM

ENTRIES = 400
SLIPS = 6  # decimal inches typed without a unit into a field shown in mm
# A shaft's diameter: what the field plausibly holds, mm.
LOWEST_MM, HIGHEST_MM = 10.0, 60.0


def entry(chance: random.Random, number: int) -> tuple[str, float]:
    """Return what somebody types and the size that was meant, mm."""
    parts = chance.randrange(26, 150)
    inch_mm = parts * 25.4 / 64
    if number < SLIPS:
        return f"{parts / 64:.3f}", round(parts / 64, 3) * 25.4
    fraction = show_inch(inch_mm)
    hundredths = chance.randrange(1000, 6000)
    tenths = chance.randrange(100, 600)
    bare = fraction.removesuffix(" in")
    return chance.choice(
        [
            (fraction, inch_mm),
            (fraction.replace("-", " ").replace(" in", '"'), inch_mm),
            (bare if "/" in bare else fraction, inch_mm),
            (f"{parts / 64:.6f} in", inch_mm),
            (f"{hundredths / 100:.2f}", hundredths / 100),
            (f"{hundredths / 100:.2f}".replace(".", ","), hundredths / 100),
            (f"{tenths / 10}mm", tenths / 10),
        ]
    )


def test_a_bench_full_of_mixed_entries() -> None:
    chance = random.Random(400)
    entries = [entry(chance, number) for number in range(ENTRIES)]
    accepted = [
        (text, meant)
        for text, meant in entries
        if inch_or_mm_or_none(text, default_unit=MM, minimum_mm=LOWEST_MM, maximum_mm=HIGHEST_MM) is None
    ]
    wrong = [text for text, meant in accepted if abs(parse_length_mm(text, default_unit="mm").value_mm - meant) > 1e-4]
    assert wrong == []
    assert len(accepted) >= 0.98 * ENTRIES
    assert len(accepted) == ENTRIES - SLIPS
