"""How torque gets in: which checks of the shaft in the bore make sense at all."""

from __future__ import annotations

from xref_app.core.fit.finding import Finding
from xref_app.core.fit.question import Question
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import BoreForm, ShaftForm
from xref_app.core.sentence import Sentence, marked

NOT_DIRECT = marked("findings", "Not judged: this shaft does not go into this pump, see how torque gets in.")


def goes_in_directly(machine: Machine, pump: Pump) -> bool | None:
    """Say whether a straight keyed shaft meets a hollow keyed bore; None while either form is not known."""
    shaft, bore = machine.shaft.form, pump.bore.form
    if shaft is None or bore is None:
        return None
    return shaft.value is ShaftForm.STRAIGHT_KEYED and bore.value is BoreForm.HOLLOW_KEYED


def not_direct_or_none(question: Question, machine: Machine, pump: Pump) -> Finding | None:
    """Return 'unknown' for a check of the shaft in the bore where the one does not go into the other, else None.

    Through a coupling its bracket decides the lengths, and that is made to measure.
    """
    if goes_in_directly(machine, pump) is not False:
        return None
    return question.unsure(Sentence(NOT_DIRECT), (), ("shaft_projection_mm",))
