"""Every picture that the measure card can ask for: all fields of the schema, all steps of its cards."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.fields.fields import Field, Kind, all_fields
from xref_app.services.card import CardStep, Picture, StepKind
from xref_app.services.card_holes import COUNT, DIFFERS, EVEN, FAR, MEASURED_SAME, NEAR, HolesCard
from xref_app.services.card_thread import _STEPS as THREAD_STEPS
from xref_app.sheets.jaws import JawDrawing, jaw_drawing


def hole_steps(field: Field, holes: int, spacing: str = MEASURED_SAME) -> Iterator[CardStep]:
    """Walk the card of a face's holes to its end: nothing is left out that it can ask."""
    card, answers = HolesCard(field), {COUNT: str(holes), EVEN: spacing}
    for first in ({}, {COUNT: str(holes)}):
        step = card.step(first)
        assert step is not None, "the card asks for count and spacing"
        yield step
    while (step := card.step(answers)) is not None:
        yield step
        answers[step.key] = "" if step.key in (FAR, NEAR) else MEASURED_SAME if step.kind is StepKind.CHOICE else "40"


def pictures_of(field: Field, holes: int = 4) -> Iterator[Picture]:
    """Return each picture that the card of ``field`` can ask for, once."""
    match field.kind:
        case Kind.HOLES:
            steps = [*hole_steps(field, holes), *hole_steps(field, holes, DIFFERS)]
            yield from dict.fromkeys(step.picture for step in steps)
        case Kind.THREAD:
            yield from dict.fromkeys(step.picture for step in THREAD_STEPS.values() if step.picture.step)
        case _:
            yield Picture()


def drawing_of(field_id: str, picture: Picture) -> JawDrawing | None:
    """Ask for a drawing as the measure card does."""
    return jaw_drawing(field_id, step=picture.step, holes=picture.holes, way=picture.way)


def every_picture() -> dict[str, JawDrawing]:
    """Return each picture by name: faces with 3, 4 and 5 holes, threads once."""
    found: dict[str, JawDrawing] = {}
    for field_id, field in all_fields().items():
        if field.kind is Kind.THREAD and field_id != "inlet_thread":
            continue
        for holes in (3, 4) if field_id == "face_holes_xy_mm" else (5,):
            for picture in pictures_of(field, holes):
                drawing = drawing_of(field_id, picture)
                count = f"of {picture.holes}" if field.kind is Kind.HOLES else ""
                if drawing is not None:
                    found[f"{field_id} {picture.step} {count} {picture.way}".strip()] = drawing
    return found
