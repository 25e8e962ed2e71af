"""Help for the sheet "Is it the pump?", by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked
from xref_app.services.pump_questions import questions

_CHOICE = marked(
    "help",
    "Left and Right choose, Up and Down go to the questions above and below, Enter goes to the question that helps "
    "most now. F4 says that it cannot be said. The mark ▸ stands at what the next step answers.",
)
_AMOUNT = marked(
    "help",
    "Type the reading with its unit, such as 10 L, 5 gal, 150 bar or 2200 psi; seconds, rpm and the nozzle's number "
    "need none. A range is written 3-4 or 3 to 4, a doubt 10 ± 0.5. What the catalog knows stands below and is used "
    "until something is typed. Enter goes on, F4 says that it cannot be said.",
)

IS_IT_HELP: Mapping[str, str] = {
    **{
        f"is_it_{name}_line" if one.amount is not None else f"is_it_{name}_choice": _AMOUNT
        if one.amount is not None
        else _CHOICE
        for name, one in questions().items()
    },
    "is_it_answer_text": marked(
        "help",
        "What to try next and what to mind while doing it, then what the answer rests on, every sum, and the causes "
        "with what speaks for and against each. The pump is only named where no other explanation is left.",
    ),
    "is_it_cannot_say_button": marked("help", "Says that nothing can be said of this question. F4 does the same."),
    "is_it_clear_button": marked("help", "Empties all answers of this job; once more brings them back."),
    "is_it_leave_button": marked("help", "Goes back to the work sheet. What was typed is kept for the job."),
}
