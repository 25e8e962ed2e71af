"""A plate's drawing holds its true geometry, and lies over both faces without hiding whose line is whose."""

from __future__ import annotations

from xref_app.core.sentence import Sentence
from xref_app.sheets.legend import legend
from xref_app.sheets.plate_drawing import HoleForm, PlateFigure, PlateHole, plate_drawing, plate_shapes
from xref_app.sheets.shapes import Circle, Drawing, Line

PLATE = PlateFigure(
    outside_mm=140.0,
    thickness_mm=12.7,
    bore_mm=40.0,
    pilot_mm=60.0,
    holes=(
        PlateHole("A1", 46.0, 0.0, 8.7, Sentence("8.7 through, 15 counterbore"), HoleForm.COUNTERBORED, 15.0),
        PlateHole("B1", -0.0, 50.0, 6.9, Sentence("5/16-24 UNF"), HoleForm.TAPPED, 7.9375),
    ),
)


def test_every_hole_stands_in_its_place_in_its_true_sizes() -> None:
    drawing = plate_drawing(PLATE)
    assert Circle(46.0, 0.0, 8.7, Line.PART) in drawing.circles
    assert Circle(46.0, 0.0, 15.0, Line.PART) in drawing.circles
    assert Circle(0.0, 50.0, 6.9, Line.PART) in drawing.circles
    # A thread is a thin line, so that nobody drills it.
    assert Circle(0.0, 50.0, 7.9375, Line.THREAD) in drawing.circles
    middle = {one.diameter_mm for one in drawing.circles if (one.x_mm, one.y_mm) == (0.0, 0.0)}
    assert middle == {140.0, 40.0, 60.0}


def test_the_table_names_each_hole_and_where_it_is() -> None:
    rows = [[str(cell) for cell in row] for row in plate_drawing(PLATE).table]
    assert rows == [
        ["Hole", "x mm", "y mm", "What"],
        ["A1", "46.000", "0.000", "8.7 through, 15 counterbore"],
        ["B1", "0.000", "50.000", "5/16-24 UNF"],
    ]
    assert [str(label.text) for label in plate_drawing(PLATE).labels] == ["A1", "B1"]


def test_over_both_faces_the_plate_keeps_a_line_of_its_own() -> None:
    faces = Drawing((Circle(0, 0, 19.05, Line.MACHINE), Circle(0, 0, 19.1, Line.PUMP)))
    both = faces.with_shapes(*plate_shapes(PLATE))
    assert Circle(0.0, 0.0, 140.0, Line.BETWEEN) in both.circles
    assert [line for line, _ in legend(both)] == [Line.MACHINE, Line.PUMP, Line.BETWEEN]
    assert [line for line, _ in legend(plate_drawing(PLATE))] == [Line.PART]
    assert both.reach_mm == 70.0
