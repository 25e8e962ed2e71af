"""A messy list of an invented supplier, as ux.md A14 tells of it: titles, two rows of headings, commas, inch marks."""

from __future__ import annotations

from pathlib import Path

SUPPLIER = "Invented Supply"
NAME = "liste_2026.csv"
_TITLES = "Invented Supply;;;;;;;\nPrice list 2026, prices on request;;;;;;;\n;;;;;;;\n"
_HEADINGS = "Part;Maker;Type;Shaft;Pressure;Flow;Form;Replaces\nNo.;;;mm;psi;l/min;;\n"
_ODD = (
    'ZQ-017;Quillet;Cast, three plungers;19,05";2.700;10,5;;',
    'ZQ-018;Quillet;Cast, three plungers;25,4";3.000;12,0;;',
    "ZQ-044;Quillet;Cast, three plungers;22,2;2.700;10,5;round;ZQ-004",
    "ZQ-090;Quillet;Forged, with unloader;25,4;27000;10,5;;",
    "ZQ-091;Quillet;Forged, with unloader;25,4;28000;11,5;;",
    ";Quillet;Forged, with unloader;25,4;2.700;10,5;;",
    "ZQ-001;Quillet;Another with that number;28,5;2.700;10,5;;",
    "ZQ-060;Quillet;Light;N/A;N/A;tbd;;",
    "ZQ-061;Quillet;Light;19,05;2.700;-;;",
)


def good_rows(count: int) -> str:
    """Return rows of which every cell can be read."""
    sizes = ("19,05", "25,4", "22,2", "20,0")
    rows = (
        f"ZQ-{place:03};Quillet;Light, axial;{sizes[place % 4]};{2000 + 10 * (place % 90)};{9 + place % 8},5;;"
        for place in range(1, count + 1)
        if place not in {17, 18, 44, 60, 61, 90, 91}
    )
    return "\n".join(rows)


def messy_list(folder: Path, good: int = 24, name: str = NAME) -> Path:
    """Write the list and return where; of its rows 2 + 1 need a look and 3 are refused."""
    path = folder / name
    path.write_text(f"{_TITLES}{_HEADINGS}{good_rows(good)}\n" + "\n".join(_ODD) + "\n", encoding="cp1252")
    return path
