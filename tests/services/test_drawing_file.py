"""Drawings of a case: with the parts the verdict rests on, saved by the ending of the name, or not at all."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.services.tiny import tiny
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.progress import Progress
from xref_app.exchange.case_file import load_case
from xref_app.services.desk import CatalogDesk
from xref_app.services.drawing_file import DrawingFormatError, NothingDrawnError, plain_makers, save_drawing
from xref_app.services.side_view import between_of, face_of, side_of
from xref_app.sheets.side_drawing import side_drawing

EXAMPLE = Path(__file__).parents[1] / "core" / "fit" / "example_case.json"


class Patient(Progress):
    """Work that nobody stops."""

    def step(self, done: int, total: int) -> None:
        assert done <= total


def case(*, depth_mm: float = 65.0, bolt_mm: float | None = 31.75) -> Case:
    example = load_case(EXAMPLE).cases[0]
    bolt = None if bolt_mm is None else Dimension(bolt_mm, 0.05)
    return replace(
        example,
        machine=replace(example.machine, face=replace(example.machine.face, bolt_length_mm=bolt)),
        pump=replace(example.pump, bore=replace(example.pump.bore, depth_mm=Dimension(depth_mm, 0.1))),
    )


def test_the_spacer_of_the_verdict_lies_between_the_faces() -> None:
    # 62.6 leaves 0.7 of the 1.6 mm needed; the shelf has four spacers of 3.2 mm.
    asked = case(depth_mm=62.6)
    assert between_of(asked).spacers_mm == (3.2,)
    told = [str(one.text) for one in side_of((asked,), ()).sizes]
    assert "spacer 3.20 mm" in told
    assert "bottom clearance 3.5 to 4.2 mm" in told
    assert between_of(case()).spacers_mm == ()


def test_the_bolt_to_be_bought_is_the_one_that_is_drawn() -> None:
    asked = case(bolt_mm=None)
    # 12 mm of flange, a washer of up to 1.9 and 11.9 mm of thread in aluminium: 1 in is too short, 1 1/4 in is next.
    assert between_of(asked).bolt_length_mm == pytest.approx(31.75)
    assert str(side_of((asked,), ()).notes[0]) == "Shown with a bolt of 31.8 mm"
    assert str(side_of((case(),), ()).notes[0]) == "Shown with the old bolt"


def test_of_two_versions_the_first_is_drawn_and_said_to_be() -> None:
    both = (case(), case(depth_mm=64.0))
    drawing = side_of(both, ("bore_depth_mm",))
    assert "Two versions of Bore depth: the first is drawn" in [str(one) for one in drawing.notes]
    assert "bottom clearance 2.8 to 3.3 mm" in [str(one.text) for one in drawing.sizes]


def test_the_desk_draws_the_side_of_a_pump_of_the_catalog() -> None:
    catalog = tiny()
    desk = CatalogDesk(catalog, "tiny")
    job = desk.open_job("P1", None, Patient())
    drawing = desk.side(job, "P1", Patient())
    assert str(drawing.title) == "Engine and pump from the side, cut along the shaft and through one bolt"
    assert drawing.not_known
    assert catalog.number_of("P1") in str(drawing.about)
    assert job.title in str(drawing.about)
    assert desk.face(job, "P1", Patient()).title != drawing.title


@pytest.mark.parametrize("name", ["faces.svg", "FACES.SVG", "faces.dxf"])
def test_the_ending_of_the_name_chooses_the_format(tmp_path: Path, name: str) -> None:
    path = save_drawing(face_of((case(),), ()), tmp_path / name, plain_makers())
    begins = path.read_bytes()[:20]
    assert begins.startswith(b"<?xml" if name.lower().endswith("svg") else b"  0\nSECTION")


def test_another_ending_is_refused_in_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(DrawingFormatError) as caught:
        save_drawing(face_of((case(),), ()), tmp_path / "faces.png", plain_makers())
    assert str(caught.value) == "“faces.png” names no kind of drawing – let its name end in .svg or .dxf."
    assert not list(tmp_path.iterdir())


def test_a_drawing_of_nothing_is_not_saved(tmp_path: Path) -> None:
    with pytest.raises(NothingDrawnError, match=r"nothing to draw yet .*Shaft projection, .*: not known"):
        save_drawing(side_drawing(Machine(), Pump()), tmp_path / "side.svg", plain_makers())
    assert not list(tmp_path.iterdir())
