"""Is it the unit we think it is?"""

from __future__ import annotations

from xref_app.core.fit.finding import Finding
from xref_app.core.fit.question import FieldNames, Question
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

IN_DOUBT = marked(
    "findings", "A pump that was said to fit did not, and these sizes were blamed for it: measure {fields} again."
)

# The sizes that confirm a unit by itself: quick to take and seldom alike on two different pumps.
CONFIRMING_FIELDS = ("bore_diameter_mm", "bore_depth_mm", "flange_holes_xy_mm")


def judge_identity(case: Case) -> Finding:
    """Judge whether the number was read whole, and whether what is stored about the unit is intact and in no doubt.

    A size in doubt keeps every verdict open, whatever the checks make of its absence: one that only looks on arrival,
    or that falls back on another size, would else say less than it did before the doubt.
    """
    if case.set_aside:
        return IDENTITY.unsure(Sentence(SET_ASIDE), (), CONFIRMING_FIELDS)
    if case.in_doubt:
        return IDENTITY.unsure(Sentence(IN_DOUBT, {"fields": FieldNames(case.in_doubt)}), (), case.in_doubt)
    if not case.guessed_number:
        return IDENTITY.passes(Sentence(READ))
    return IDENTITY.unsure(Sentence(GUESSED), (), CONFIRMING_FIELDS)
