"""The drawings of a case: both faces, the view from the side with the parts, and the plate and spacers to make."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from xref_app.core.fields.fields import Side, field_for
from xref_app.core.fit.apart import bare_apart_mm
from xref_app.core.fit.bolt_size import bolt_of_or_none
from xref_app.core.fit.finding import Outcome
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.pattern import PATTERN
from xref_app.core.model.case import Case
from xref_app.core.plan.face_plan import FacePlan, face_plan
from xref_app.core.plan.judge import judge_each
from xref_app.core.plan.made_pieces import made_pieces
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.gauge_drawing import gauge_drawing
from xref_app.sheets.plate_drawing import plate_drawing, plate_shapes
from xref_app.sheets.plate_figure import plate_figure
from xref_app.sheets.shapes import Drawing
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.side_lengths import Between
from xref_app.sheets.spacer_drawing import spacer_drawing

ON_PLATE = marked(
    "drawing",
    "This pump goes on an adapter plate: these holes meet the plate and not the engine. Drill nothing by this paper.",
)
FIRST_VERSION = marked("drawing", "Two versions of {fields}: the first is drawn")


def face_of(cases: Sequence[Case], contradicted: tuple[str, ...]) -> Drawing:
    """Return both faces, one over the other, at the turn the verdict rests on."""
    first = cases[0]
    drawing = face_drawing(first.machine, first.pump, judge_each(tuple(cases), contradicted).clocking_deg)
    plate = _plan_of(first).plate
    return drawing if plate is None else drawing.with_shapes(*plate_shapes(plate_figure(plate)))


def plate_of(cases: Sequence[Case]) -> Drawing | None:
    """Return the adapter plate to make; None where the plan has none."""
    plate = _plan_of(cases[0]).plate
    return None if plate is None else plate_drawing(plate_figure(plate))


def spacer_of(cases: Sequence[Case]) -> Drawing | None:
    """Return the spacers to make; None where the plan has none, or it is not known which bolt goes through them."""
    pieces = made_pieces(_plan_of(cases[0]))
    return spacer_drawing(pieces) if pieces else None


def gauge_of(cases: Sequence[Case], contradicted: tuple[str, ...]) -> Drawing:
    """Return the pump's own face to hold against the engine, without what is a hint only."""
    judgement = judge_each(tuple(cases), contradicted)
    drawing = gauge_drawing(without_hints(cases[0]).pump, judgement.clocking_deg)
    if any(one.check == PATTERN.check and one.outcome is Outcome.BY_PARTS for one in judgement.findings):
        drawing = drawing.with_shapes(notes=(Sentence(ON_PLATE),))
    theirs = [field_for(field).title for field in contradicted if field_for(field).side is Side.PUMP]
    if not theirs:
        return drawing
    return drawing.with_shapes(notes=(Sentence(FIRST_VERSION, {"fields": ", ".join(theirs)}),))


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
    plan = _plan_of(case)
    parts, plate = plan.parts, plan.plate
    bolt = parts.bolts[0] if parts.bolts else None
    return Between(
        spacers_mm=tuple(piece.thickness_mm for piece in parts.stack_under(0).pieces),
        bolt_length_mm=None if bolt is None else bolt.length_mm,
        seats_mm=bare_apart_mm(plan.case.machine, plan.case.pump, parts),
        plate_mm=None if plate is None else plate.thickness_mm,
        pump_bolt=None if plate is None else bolt_of_or_none(plate.pump_bolt_thread),
    )


# All drawings of one pump ask for its plan, one after the other.
@lru_cache(maxsize=2)
def _plan_of(case: Case) -> FacePlan:
    return face_plan(without_hints(case))
