"""The drawing of a designed plate gives every tolerance that its design counts on."""

from __future__ import annotations

from tests.core.plan.designs import designed
from tests.core.plan.pairs import nema_to_small_pump
from xref_app.core.plan.plate import Plate
from xref_app.sheets.plate_drawing import plate_drawing
from xref_app.sheets.plate_figure import plate_figure


def test_the_drawing_says_how_closely_the_plate_must_be_made_and_set() -> None:
    plate = designed(nema_to_small_pump())
    assert isinstance(plate, Plate)
    notes = [str(note) for note in plate_figure(plate).notes]
    assert f"steel, {plate.thickness_mm:.2f} ± 0.05 mm; both sides flat, edges broken" in notes
    assert (
        "As made: places ± 0.05 mm, bore and recesses ± 0.05 mm across, all depths ± 0.05 mm; drilled holes and "
        "counterbores up to 0.2 mm larger, never smaller"
    ) in notes
    assert any("Centre the plate on the shaft within 0.05 mm" in note for note in notes)


def test_the_drawing_gives_every_diameter_that_is_cut() -> None:
    plate = designed(nema_to_small_pump())
    assert isinstance(plate, Plate)
    figure = plate_figure(plate)
    notes = [str(note) for note in figure.notes]
    across = f"Outside {plate.outline_mm:.1f} mm across, bore {plate.centre_bore_mm:.2f} mm through"
    assert any(note.startswith(across) for note in notes)
    # 13/32 in, the normal clearance hole for 3/8 in of ASME B18.2.8: 10.319 mm, and 10.3 would be too small.
    assert str(figure.holes[0].what) == "10.32 through, counterbore 16.0 x 9.8 deep from the pump's side"


def test_in_a_small_place_the_notes_leave_the_drawing_its_room() -> None:
    plate = designed(nema_to_small_pump())
    assert isinstance(plate, Plate)
    drawing = plate_drawing(plate_figure(plate))
    assert drawing.told() == drawing.notes
    brief = drawing.told(3)
    assert brief[:2] == drawing.notes[:2]
    assert str(brief[2]) == f"{len(drawing.notes) - 2} more notes: Bigger (Ctrl+D) and paper show them"
    assert drawing.told(len(drawing.notes)) == drawing.notes
