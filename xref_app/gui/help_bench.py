"""Help for the bench sheet and the versions of a size, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

BENCH_HELP: Mapping[str, str] = {
    "card_reading_line": marked(
        "help",
        "Type what the tool says: 3/4, 1 1/8, .750 in, 19,05 or 92.1mm. A bare number is in the unit shown first "
        "(Ctrl+U), a bare fraction is inches. Enter takes it, Shift+Enter takes it as one reading of several, F4 goes "
        "past what cannot be reached. A published size is offered below and never put in place of your reading.",
    ),
    "card_choices_list": marked("help", "What the reading could be. Down highlights a line, Enter takes it."),
    "card_tool_combo": marked("help", "What you measured with: it says how far the reading may be off."),
    "card_how_combo": marked(
        "help",
        "How the value is known: measured by you, read off the plate, from the maker's document, or a seller says so.",
    ),
    "card_take_button": marked("help", "Takes the reading and goes on to the next question. Enter does the same."),
    "card_again_button": marked(
        "help",
        "Takes the reading as one of several of the same size; the spread then tells how far to trust them. Where a "
        "field takes several steps it goes one step back, with what was answered there.",
    ),
    "card_skip_button": marked(
        "help", "Goes past what cannot be reached or read. It costs nothing: the field stays not known."
    ),
    "lines_fields_list": marked(
        "help",
        "Every field of this unit, as typed and as read. F2 measures the chosen one.",
    ),
    "unit_pump_button": marked("help", "The unit on the bench is a pump."),
    "unit_machine_button": marked("help", "The unit on the bench is a machine: engine or motor, face and water."),
    "unit_number_line": marked("help", "The number on the plate, or the model of a machine, as it is written."),
    "unit_maker_line": marked("help", "The maker, as the plate says it."),
    "unit_name_line": marked("help", "What the shop calls it, where it has no number."),
    "unit_note_line": marked("help", "Anything the next person should know."),
    "unit_who_line": marked("help", "Who measured. It stands beside every value, and is remembered."),
    "unit_photo_button": marked(
        "help", "Adds photos; files can also be dropped here. What a camera writes into a picture is taken out."
    ),
    "unit_hits_list": marked("help", "Entries that no reading contradicts, the likeliest first. Enter uses one."),
    "unit_save_button": marked(
        "help", "Saves the entry as one change, which Ctrl+Z takes back. Until then it is kept as an unfinished entry."
    ),
    "unit_leave_button": marked("help", "Goes back to the work sheet; the unfinished entry is kept."),
    "unit_discard_button": marked("help", "Forgets this unfinished entry."),
    "versions_rows_list": marked(
        "help",
        "Each version of the size: who measured it, when, and what the verdicts would be if it alone were right.",
    ),
    "versions_reason_line": marked("help", "Why the chosen version is right; it goes into the record with the date."),
    "versions_keep_button": marked(
        "help", "Sets the other versions aside, with your reason. They stay in the record, and Ctrl+Z brings them back."
    ),
    "versions_measure_button": marked("help", "Measures this size again on the bench."),
    "versions_leave_button": marked("help", "Goes back without settling anything."),
}
