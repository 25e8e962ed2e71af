"""The trade's troubles that are put into the sample on purpose, by entry."""

from __future__ import annotations

from tests.sample.engine_families import SMALL_SQUARE
from tests.sample.said import holes

# Pump, field, and the two sizes that two people measured; nothing says which is right.
# The first makes no difference on the family's machines, the others do.
CONTRADICTIONS: dict[str, dict[str, tuple[str, str]]] = {
    "P-008": {"bore_depth_mm": ("70.0 mm", "74.5 mm")},
    "P-036": {"flange_holes_xy_mm": (SMALL_SQUARE, holes(44.45, 45, 135, 225, 315))},
    "P-058": {"bore_depth_mm": ("92.0 mm", "84.0 mm")},
}

# Numbers of different pumps that differ by one character that a worn plate does not tell apart.
LOOK_ALIKES: tuple[tuple[str, str, str, str], ...] = (
    ("P-002", "KO7-4410", "P-031", "K07-4410"),
    ("P-005", "TR1I26", "P-033", "TR1126"),
    ("P-007", "W8-3350", "P-035", "WB-3350"),
    ("P-010", "MS-2240", "P-037", "M5-2240"),
    ("P-012", "RZ-1180", "P-053", "R2-1180"),
    ("P-014", "G6-7715", "P-055", "66-7715"),
)

# The same pump under four numbers.
FOUR_NUMBERS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "P-001": (
        ("NX 270-25", "maker", "sheet"),
        ("NX270-25/B", "plate", "plate"),
        ("HY-40417", "seller", "claimed"),
        ("0270.25.1", "old", "sheet"),
    ),
    "P-030": (
        ("DR 34-2700", "maker", "sheet"),
        ("DR34-27", "plate", "plate"),
        ("KL8833-2", "seller", "claimed"),
        ("34.27.00", "old", "sheet"),
    ),
}

# Each row is one chain, oldest first.
CHAINS: tuple[tuple[str, ...], ...] = (
    ("P-020", "P-013", "P-006", "P-001"),
    ("P-047", "P-041", "P-034", "P-030"),
    ("P-062", "P-057", "P-052"),
    ("P-072", "P-069"),
)

# Habits somebody wrote down; they may hint and never decide.
HABITS: tuple[tuple[str, str, str], ...] = (
    ("P-015", "bore_keyway_width_mm", "3/16 in"),
    ("P-040", "bore_keyway_width_mm", "3/16 in"),
    ("D-05", "face_material", "aluminium"),
)

# A value that was found wrong and taken out of use.
WITHDRAWN: tuple[tuple[str, str, str], ...] = (
    ("P-001", "bore_depth_mm", "65.0 mm"),
    ("P-030", "flange_thickness_mm", "21.0 mm"),
)
