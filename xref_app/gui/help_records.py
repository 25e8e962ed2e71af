"""Help for the sheets "What happened" and "Health", by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

RECORDS_HELP: Mapping[str, str] = {
    "happened_results_list": marked(
        "help",
        "What happened with the pump on this machine. Choose with the arrow keys; nothing is chosen beforehand. What "
        "went well and what went wrong stands in the record of both, and is told the next time.",
    ),
    "happened_sizes_list": marked(
        "help",
        "The sizes the verdict rested on; below each the checks it counted in. Space, or a click, ticks those that may "
        "be wrong on file. Where the verdict had said that it fits, what is ticked counts as not known until somebody "
        "measures it again. A scan ticks nothing.",
    ),
    "happened_suspects_button": marked(
        "help", "Ticks every size that is looked at first after this result. Space takes single ticks away again."
    ),
    "happened_note_line": marked("help", "What was seen, in a few words. It stands in the record."),
    "happened_write_button": marked(
        "help",
        "Writes down what happened and what may be wrong, in one act. F12 does the same from anywhere on the sheet; "
        "Ctrl+Z takes it back.",
    ),
    "happened_leave_button": marked(
        "help", "Goes back to the work sheet; what was entered here is kept for this pump in this job."
    ),
    "happened_on_button": marked(
        "help", "Shows the sizes and the note, where both sides have no room beside each other."
    ),
    "happened_back_button": marked("help", "Shows the results again."),
    "health_lines_list": marked(
        "help",
        "What is not right with the catalog. A cross: the program had said that it fits, and it did not; these come "
        "first. An unequal sign: readings that contradict each other. An exclamation mark: rows that are damaged. "
        "Enter opens the machine and the pump as a job.",
    ),
    "health_open_button": marked("help", "Opens the machine and the pump of the chosen line as a new job."),
    "health_right_button": marked(
        "help",
        "Takes the blame off the sizes of a fit that failed, with a reason: something else was the matter. They count "
        "again as they were read. Ctrl+Z takes it back.",
    ),
    "health_mend_button": marked(
        "help",
        "Tells what the newest whole copy has for the rows that are damaged or lost, then asks. Rows of which the copy "
        "may hold an older state are counted apart: look at them afterwards.",
    ),
    "health_check_button": marked(
        "help", "Reads every row of the catalog and compares it with what was written. Changes nothing. Esc stops."
    ),
    "health_leave_button": marked("help", "Stops reading, or goes back to the work sheet."),
}
