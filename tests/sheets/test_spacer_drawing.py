"""Spacers to make are drawn as the plan counts on them: which, how many, how closely, under which bolts."""

from __future__ import annotations

from collections.abc import Mapping
from io import StringIO
from typing import Any

import ezdxf.filemanagement
import pytest

from tests.core.fit.cases import case_with
from tests.core.fit.test_face_checks import ON_FLAT, spacers
from xref_app.core.plan.judge import judge
from xref_app.services.side_view import spacer_of
from xref_app.sheets.dxf_file import dxf_bytes
from xref_app.sheets.shapes import Drawing, Line
from xref_app.sheets.svg_file import svg_bytes

UNDER_ALL: dict[str, Any] = {**ON_FLAT, "shelf": []}
UNDER_TWO_LEGS: dict[str, Any] = {
    "machine.face.seat_heights_mm": None,
    "machine.face.seat_kind": "flat face",
    "pump.flange.seat_heights_mm": [0, 0, -1, -2],
    "shelf": [],
}
# 5/16 in is 7.9375 mm; the house makes the hole 0.6 mm wider than the bolt and the piece 8 mm wider than its hole.
HOLE_MM, OUTSIDE_MM = 7.9375 + 0.6, 7.9375 + 8.6


def drawn(changes: Mapping[str, Any]) -> Drawing:
    drawing = spacer_of((case_with(changes),))
    assert drawing is not None
    return drawing


def rows(drawing: Drawing) -> list[list[str]]:
    return [[str(cell) for cell in row] for row in drawing.table[1:]]


def test_one_kind_under_every_bolt_is_drawn_once_with_how_many_to_make() -> None:
    drawing = drawn(UNDER_ALL)
    # 3.1 mm of boss at most, the seats let the faces 0.1 closer, ±0.05: 3.25 mm; see test_face_checks.
    assert rows(drawing) == [["A", "4", "3.25 ± 0.05", "8.5 +0.2/-0", "16.5 ± 0.5", "every bolt"]]
    assert sorted(one.diameter_mm for one in drawing.circles) == pytest.approx([HOLE_MM, OUTSIDE_MM])
    assert sorted(str(one.text) for one in drawing.sizes) == ["hole 8.5 mm", "outside 16.5 mm", "thick 3.25 ± 0.05 mm"]


def test_what_levels_single_legs_names_its_leg_and_is_made_as_closely_as_it_would_be_picked() -> None:
    # The legs of holes 3 and 4, at 180 and 270 degrees on a circle of 92 mm, are 1 and 2 mm low.
    assert rows(drawn(UNDER_TWO_LEGS)) == [
        ["A", "1", "2.00 ± 0.02", "8.5 +0.2/-0", "16.5 ± 0.5", "(0.0, -46.0)"],
        ["B", "1", "1.00 ± 0.02", "8.5 +0.2/-0", "16.5 ± 0.5", "(-46.0, 0.0)"],
    ]


def test_every_length_on_the_sheet_is_as_long_as_its_words_say() -> None:
    for changes in (UNDER_ALL, UNDER_TWO_LEGS):
        for size in drawn(changes).sizes:
            told = float(str(size.text).split()[1])
            assert abs(size.second[0] - size.first[0]) == pytest.approx(told, abs=0.051), str(size.text)


def test_the_cut_is_as_thick_as_the_piece_and_as_high_as_it_is_wide() -> None:
    drawing = drawn(UNDER_ALL)
    edges = [one for one in drawing.segments if one.line is Line.PART]
    across = {round(x, 6) for one in edges for x in (one.x1_mm, one.x2_mm)}
    heights = sorted({round(y, 6) for one in edges for y in (one.y1_mm, one.y2_mm)})
    assert max(across) - min(across) == pytest.approx(3.25)
    assert heights == pytest.approx([-OUTSIDE_MM / 2, -HOLE_MM / 2, HOLE_MM / 2, OUTSIDE_MM / 2])
    # Round view and cut lie apart.
    assert min(across) > max(one.x_mm + one.diameter_mm / 2 for one in drawing.circles)


def test_pieces_stand_apart_and_each_bears_its_name() -> None:
    drawing = drawn(UNDER_TWO_LEGS)
    rounds = [one for one in drawing.circles if one.diameter_mm > HOLE_MM + 1]
    assert len(rounds) == 2
    assert abs(rounds[0].x_mm - rounds[1].x_mm) > OUTSIDE_MM + 2.0
    named = {str(one.text): one.x_mm for one in drawing.labels}
    assert named == {"A: make 1": rounds[0].x_mm, "B: make 1": rounds[1].x_mm}
    assert [str(one.text) for one in drawn(UNDER_ALL).labels] == ["A: make 4"]


def test_the_notes_give_material_and_every_tolerance_that_stands_in_no_row() -> None:
    notes = [str(note) for note in drawn(UNDER_ALL).notes]
    assert notes == [
        "steel; both sides flat, edges broken",
        "As made: hole up to 0.2 mm larger, never smaller, and in the middle; outside ± 0.5 mm",
        "Pieces of one thickness alike within 0.02 mm: make them together, and measure each with the micrometer",
    ]
    assert str(drawn(UNDER_TWO_LEGS).notes[-1]) == "x right and y up from the shaft, looking at the engine's face"


def test_the_drawing_makes_what_the_verdict_asks_for_and_nothing_else() -> None:
    listed = {**UNDER_ALL, "shelf": spacers((3.25, 4))}
    mixed = {**UNDER_TWO_LEGS, "shelf": spacers((1.0, 1))}
    for changes in ({}, UNDER_ALL, UNDER_TWO_LEGS, listed, mixed):
        case = case_with(changes)
        asked = sorted((need.quantity, str(need.what).split()[1]) for need in judge(case).needs if need.to_make)
        drawing = spacer_of((case,))
        made = [] if drawing is None else sorted((int(row[1]), row[2].split()[0]) for row in rows(drawing))
        assert made == asked
    assert spacer_of((case_with(listed),)) is None
    assert [row[2] for row in rows(drawn(mixed))] == ["2.00 ± 0.02"]


def test_no_hole_is_drawn_while_the_bolt_is_not_known() -> None:
    assert spacer_of((case_with({**UNDER_ALL, "machine.face.bolt": None}),)) is None


@pytest.mark.parametrize("changes", [UNDER_ALL, UNDER_TWO_LEGS])
def test_dxf_reopened_has_hole_outside_and_thickness_to_a_thousandth(changes: Mapping[str, Any]) -> None:
    drawing = drawn(changes)
    file = ezdxf.filemanagement.read(StringIO(dxf_bytes(drawing).decode("utf-8")))
    assert not file.audit().errors
    space = file.modelspace()
    found = sorted(2 * one.dxf.radius for one in space.query("CIRCLE") if one.dxf.layer == "PART")
    kinds = len(drawing.table) - 1
    assert found == pytest.approx([HOLE_MM] * kinds + [OUTSIDE_MM] * kinds, abs=0.001)
    rims = [
        one
        for one in space.query("LINE")
        if one.dxf.layer == "PART" and abs(one.dxf.end.y - one.dxf.start.y) == pytest.approx(HOLE_MM, abs=0.001)
    ]
    across = sorted(one.dxf.start.x for one in rims)
    thick = sorted(far - near for near, far in zip(across[::2], across[1::2], strict=True))
    assert thick == pytest.approx(sorted(float(row[2].split()[0]) for row in rows(drawing)), abs=0.001)


def test_svg_holds_the_table_and_the_bar() -> None:
    text = svg_bytes(drawn(UNDER_TWO_LEGS)).decode("utf-8")
    for words in ("Spacers to make", "2.00 ± 0.02", "Under the bolt at (x, y) mm", "(-46.0, 0.0)", "100 mm"):
        assert words in text
