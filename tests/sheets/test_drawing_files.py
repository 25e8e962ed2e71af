"""SVG and DXF hold the drawing at true size, and words cannot break them."""

from __future__ import annotations

import builtins
import math
import re
from collections.abc import Mapping, Sequence
from io import StringIO
from xml.etree import ElementTree as ET

import ezdxf.filemanagement
import pytest
from ezdxf.document import Drawing as DxfFile

from tests.sheets.test_plate_drawing import PLATE
from tests.sheets.test_side_drawing import case
from xref_app.core.sentence import Sentence
from xref_app.sheets.dxf_file import DxfNotInstalledError, dxf_bytes, layer_of
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.letter_widths import estimated_width_mm
from xref_app.sheets.page import CHECK, page_for
from xref_app.sheets.plate_drawing import plate_drawing
from xref_app.sheets.shapes import Arc, Circle, Drawing, Label, Line, Outline, Segment
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.svg_file import svg_bytes

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '</text><script>alert("1")</script> & <!-- \' ]]> \x00\x0b\ud800 %%d %%u {0} ünï 漢'


def faces() -> Drawing:
    return face_drawing(case().machine, case().pump, 0.0)


def hostile() -> Drawing:
    words = Sentence("{words}", {"words": HOSTILE})
    label = Label(0, 0, words, Line.MACHINE, 0, 5)
    return Drawing((Circle(0, 0, 10, Line.PART), label), (words,), (words,), title=words, table=((words, words),))


def dxf(drawing: Drawing) -> DxfFile:
    return ezdxf.filemanagement.read(StringIO(dxf_bytes(drawing).decode("utf-8")))


def svg(drawing: Drawing) -> ET.Element:
    return ET.fromstring(svg_bytes(drawing))  # noqa: S314 - written by us just now


def test_dxf_reopened_has_every_hole_where_it_was_measured_and_as_wide() -> None:
    circles = list(dxf(faces()).modelspace().query("CIRCLE"))
    found = {
        (one.dxf.layer, round(one.dxf.center.x, 3), round(one.dxf.center.y, 3), round(2 * one.dxf.radius, 4))
        for one in circles
    }
    wanted = {
        (layer, x, y, across)
        for layer, across in ((layer_of(Line.MACHINE), 7.9375), (layer_of(Line.PUMP), 8.7))
        for x, y in ((46, 0), (0, 46), (-46, 0), (0, -46))
    }
    assert wanted <= found
    assert len(found) == len(wanted) + 2


def test_dxf_is_in_millimetres_and_sound_by_its_own_librarys_audit() -> None:
    file = dxf(plate_drawing(PLATE))
    # DXF reference, $INSUNITS: 4 is millimetres.
    assert file.header["$INSUNITS"] == 4
    assert not file.audit().errors
    names = {one.dxf.layer for one in file.modelspace()}
    assert {"PART", "THREAD", "CENTRE", "CHECK", "TEXT"} <= names
    drilled = [one for one in file.modelspace().query("CIRCLE") if one.dxf.layer == "PART"]
    assert sorted(round(2 * one.dxf.radius, 3) for one in drilled) == [6.9, 8.7, 15.0, 40.0, 60.0, 140.0]


def test_dxf_holds_arcs_and_outlines_as_such() -> None:
    drawing = Drawing((Arc(5, 6, 20, Line.PART, 30, 90), Outline(((0, 0), (9, 0), (9, 9)), Line.PART)))
    space = dxf(drawing).modelspace()
    arc = space.query("ARC").first
    assert arc is not None
    assert (arc.dxf.start_angle, arc.dxf.end_angle, arc.dxf.radius) == (30, 120, 10)
    outline = space.query("LWPOLYLINE").first
    assert outline is not None
    assert outline.dxf.flags & 1


def test_dxf_has_a_bar_of_100_mm_and_one_of_4_inches() -> None:
    bars = [
        abs(one.dxf.end.x - one.dxf.start.x)
        for one in dxf(faces()).modelspace().query("LINE")
        if one.dxf.layer == "CHECK" and one.dxf.end.y == one.dxf.start.y
    ]
    assert sorted(bars) == pytest.approx([100.0, 101.6])


def test_words_cannot_break_dxf() -> None:
    file = dxf(hostile())
    texts = [one.dxf.text for one in file.modelspace().query("TEXT")]
    assert any("alert" in text for text in texts)
    assert not any("%%" in text for text in texts)
    assert not file.audit().errors


def test_without_its_library_dxf_says_so_in_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without_ezdxf(
        name: str,
        where: Mapping[str, object] | None = None,
        here: Mapping[str, object] | None = None,
        wanted: Sequence[str] | None = (),
        level: int = 0,
    ) -> object:
        if name.startswith("ezdxf"):
            raise ImportError(name)
        return real(name, where, here, wanted, level)

    monkeypatch.setattr(builtins, "__import__", without_ezdxf)
    with pytest.raises(DxfNotInstalledError) as caught:
        dxf_bytes(faces())
    assert str(caught.value) == (
        "Writing DXF needs the library ezdxf, and it is not installed here – "
        "install it with pip install 'xref-app[dxf]', or save the drawing as SVG."
    )


def test_svg_measures_one_unit_to_the_mm() -> None:
    root = svg(faces())
    box = [float(one) for one in root.attrib["viewBox"].split()]
    assert (root.attrib["width"], root.attrib["height"]) == (
        f"{root.attrib['viewBox'].split()[2]}mm",
        f"{root.attrib['viewBox'].split()[3]}mm",
    )
    page = page_for(faces(), estimated_width_mm)
    assert page is not None
    assert box[2:] == pytest.approx([page.width_mm, page.height_mm], abs=1e-4)
    holes = {
        (float(one.attrib["cx"]) - page.origin_mm[0], page.height_mm - float(one.attrib["cy"]) - page.origin_mm[1])
        for one in root.iter(f"{SVG}circle")
        if float(one.attrib["r"]) == pytest.approx(7.9375 / 2, abs=1e-4)
    }
    assert sorted((round(x, 3), round(y, 3)) for x, y in holes) == [(-46, 0), (0, -46), (0, 46), (46, 0)]


def test_words_cannot_break_svg() -> None:
    root = svg(hostile())
    kinds = {one.tag.removeprefix(SVG) for one in root.iter()}
    assert kinds <= {"svg", "title", "rect", "g", "line", "circle", "text", "polygon", "path"}
    texts = " ".join(one.text or "" for one in root.iter(f"{SVG}text"))
    assert '</text><script>alert("1")</script>' in texts
    assert "漢" in texts
    assert not re.search("[\x00-\x08\x0b\ud800]", texts)


def test_svg_is_black_on_white_and_tells_lines_apart_by_strokes() -> None:
    text = svg_bytes(side_drawing(case().machine, case().pump)).decode("utf-8")
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', text))
    assert colours == {"none", "black", "white"}
    looks = {
        found[0]: found[1] for found in re.findall(r'<g id="(\w+)" (stroke-width="[^"]+"(?: stroke-dash[^>]+)?)', text)
    }
    assert len({looks[line] for line in ("machine", "pump", "between", "centre")}) == 4


def test_every_sheet_carries_both_bars_and_what_to_do_with_them() -> None:
    for drawing in (faces(), side_drawing(case().machine, case().pump), plate_drawing(PLATE)):
        root = svg(drawing)
        texts = [one.text for one in root.iter(f"{SVG}text")]
        assert {"100 mm", "4 in"} <= set(texts)
        assert CHECK in " ".join(filter(None, texts))
    assert CHECK == "Measure this bar: if it is not 100 mm, do not trace."


def test_everything_lies_on_the_sheet() -> None:
    for drawing in (faces(), side_drawing(case().machine, case().pump), plate_drawing(PLATE), hostile()):
        page = page_for(drawing, estimated_width_mm)
        assert page is not None
        left, bottom, right, top = page.content.box
        assert left >= 5
        assert bottom >= 5
        assert right <= page.width_mm - 5 or drawing.title.values  # the hostile words are one long word
        assert top <= page.height_mm - 5


def test_a_sheet_that_is_too_small_is_refused() -> None:
    assert page_for(faces(), estimated_width_mm, size_mm=(100.0, 297.0)) is None
    assert page_for(faces(), estimated_width_mm, size_mm=(210.0, 150.0)) is None
    assert page_for(faces(), estimated_width_mm, size_mm=(210.0, 297.0)) is not None


def test_an_arc_runs_the_same_way_in_svg() -> None:
    path = next(svg(Drawing((Arc(0, 0, 20, Line.PART, 0, 90),))).iter(f"{SVG}path")).attrib["d"].split()
    x1, y1, x2, y2 = (float(path[place]) for place in (1, 2, -2, -1))
    # From the right to the top: left by one radius and, y running down on the sheet, up by one.
    assert (x2 - x1, y2 - y1) == pytest.approx((-10, -10), abs=1e-3)
    assert math.isclose(float(path[4]), 10)
    assert path[7:9] == ["0", "0"]


def test_a_segment_drawn_by_hand_is_as_long_in_both_files() -> None:
    drawing = Drawing((Segment(-20, 5, 22.5, 5, Line.PART),))
    line = next(one for one in dxf(drawing).modelspace().query("LINE") if one.dxf.layer == "PART")
    assert (line.dxf.start.x, line.dxf.end.x, line.dxf.end.y) == pytest.approx((-20, 22.5, 5))
