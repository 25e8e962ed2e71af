"""The two drawings of a case: both faces, and the view from the side with the parts the verdict rests on."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.bolts import BOLT_NEED
from xref_app.core.fit.finding import Judgement
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.judge import judge_each
from xref_app.core.fit.spacing import spacing
from xref_app.core.model.case import Case
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
    between = between_of(first, judge_each(tuple(cases), contradicted))
    drawing = side_drawing(first.machine, first.pump, between)
    if not contradicted:
        return drawing
    titles = ", ".join(field_for(field).title for field in contradicted)
    return drawing.with_shapes(notes=(Sentence(FIRST_VERSION, {"fields": titles}),))


def between_of(case: Case, judgement: Judgement) -> Between:
    """Return the one spacer that reach and pilot share, and the bolt to be bought; nothing where none is needed."""
    spacer = spacing(without_hints(case.machine), without_hints(case.pump), case.shelf).part
    spacers = () if spacer is None or spacer.thickness_mm is None else (spacer.thickness_mm,)
    lengths = [need.what.values["length"] for need in judgement.needs if need.what.template == BOLT_NEED]
    length = next((one for one in lengths if isinstance(one, float)), None)
    return Between(spacers_mm=spacers, bolt_length_mm=length)
