"""Is it the unit we think it is?"""

from __future__ import annotations

from xref_app.core.fit.finding import Finding
from xref_app.core.fit.question import Question
from xref_app.core.model.case import Case
from xref_app.core.sentence import Sentence, marked

IDENTITY = Question("identity", "is it the unit we think it is", "house rule: a guessed character never decides")

READ = marked("findings", "The number was read whole.")
GUESSED = marked(
    "findings",
    "The number was read through characters nobody can make out; measure one size of the unit to confirm it.",
)

SET_ASIDE = marked(
    "findings",
    "Part of what is stored about this unit or machine does not match its check sum and is set aside; "
    "put back the last copy, or measure again.",
)

# The sizes that confirm a unit by itself: quick to take and seldom alike on two different pumps.
CONFIRMING_FIELDS = ("bore_diameter_mm", "bore_depth_mm", "flange_holes_xy_mm")


def judge_identity(case: Case) -> Finding:
    """Judge whether the number was read whole, and whether all that is stored about the unit is intact."""
    if case.set_aside:
        return IDENTITY.unsure(Sentence(SET_ASIDE), (), CONFIRMING_FIELDS)
    if not case.guessed_number:
        return IDENTITY.passes(Sentence(READ))
    return IDENTITY.unsure(Sentence(GUESSED), (), CONFIRMING_FIELDS)
