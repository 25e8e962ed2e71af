"""The two drawings of a case: both faces, and the view from the side with the parts the verdict rests on."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.apart import bare_apart_mm
from xref_app.core.fit.hints import without_hints
from xref_app.core.model.case import Case
from xref_app.core.plan.face_plan import face_plan
from xref_app.core.plan.judge import judge_each
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.shapes import Drawing
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.side_lengths import Between

FIRST_VERSION = marked("drawing", "Two versions of {fields}: the first is drawn")


def face_of(cases: Sequence[Case], contradicted: tuple[str, ...]) -> Drawing:
    """Return both faces, one over the other, at the turn the verdict rests on."""
    first = cases[0]
    return face_drawing(first.machine, first.pump, judge_each(tuple(cases), contradicted).clocking_deg)


def side_of(cases: Sequence[Case], contradicted: tuple[str, ...]) -> Drawing:
    """Return engine and pump from the side, with the spacer and the bolt that the verdict rests on."""
    first = cases[0]
    drawing = side_drawing(first.machine, first.pump, between_of(first))
    if not contradicted:
        return drawing
    titles = ", ".join(field_for(field).title for field in contradicted)
    return drawing.with_shapes(notes=(Sentence(FIRST_VERSION, {"fields": titles}),))


def between_of(case: Case) -> Between:
    """Return what the plan puts under the first bolt, and that bolt where it is a new one."""
    case = without_hints(case)
    parts = face_plan(case).parts
    bolt = parts.bolts[0] if parts.bolts else None
    return Between(
        spacers_mm=tuple(piece.thickness_mm for piece in parts.stack_under(0).pieces),
        bolt_length_mm=None if bolt is None else bolt.length_mm,
        seats_mm=bare_apart_mm(case.machine, case.pump, parts),
    )
