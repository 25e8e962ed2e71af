"""Help for the shelf sheet and the bar that asks, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

SHELF_HELP: Mapping[str, str] = {
    "shelf_filter_line": marked(
        "help",
        "Type words that must all fit: a name, a kind, a bin, a job, or a size such as 3.2, 5/16 or 1.25 in. A bare "
        "number is looked for in mm and in inches. Enter goes to the list.",
    ),
    "shelf_low_button": marked("help", "Shows only the bins that hold no more than their low mark, or all again."),
    "shelf_places_list": marked(
        "help",
        "One line for each place: how many are free, how many lie there and are reserved, the price and when they were "
        "counted. A wedge with “low” marks a bin to fill up; a broken block with “too few” one in which less lies "
        "than is reserved.",
    ),
    "shelf_held_list": marked(
        "help", "Who reserved how many for which job, and since when. Release and Take out mean the chosen line."
    ),
    "shelf_reserve_button": marked(
        "help", "Puts pieces by for a job. They stay where they lie and count for that job only."
    ),
    "shelf_release_button": marked("help", "Gives the chosen reservation free again."),
    "shelf_take_button": marked(
        "help", "Takes the chosen reservation out of its bin, or free pieces where nothing is reserved."
    ),
    "shelf_put_button": marked("help", "Puts pieces into the bin: its count rises."),
    "shelf_count_button": marked("help", "Writes down what was counted today, also where it is less than is reserved."),
    "shelf_mark_button": marked("help", "Says at how many pieces the bin is marked low; empty takes the mark away."),
    "shelf_move_button": marked("help", "Says that all of it lies in another bin from now on, reservations too."),
    "shelf_label_button": marked("help", "Shows the label of the chosen place as it will be printed, with its code."),
    "shelf_leave_button": marked("help", "Goes back to the work sheet."),
    "fit_reserve_button": marked(
        "help",
        "Reserves everything in this list that lies on the shelf for one job, all of it or nothing, and says what has "
        "to be ordered.",
    ),
    "ask_pieces_line": marked("help", "How many pieces: a whole number. F12 does it, Esc leaves."),
    "ask_job_line": marked("help", "What the shop calls the job: its number, or any words. F12 does it, Esc leaves."),
    "ask_bin_line": marked("help", "The label of the bin it is moved to. F12 does it, Esc leaves."),
    "ask_why_line": marked("help", "The reason, in a few words. It stands in the record. F12 does it, Esc leaves."),
    "ask_who_line": marked("help", "Who does it. It stands in the record, and is remembered."),
    "ask_do_button": marked("help", "Does what is asked above. F12 does the same; Ctrl+Z takes it back."),
    "ask_leave_button": marked("help", "Asks no more; nothing is changed. Esc does the same."),
}
