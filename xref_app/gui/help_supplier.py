"""Help for the sheet "Read supplier file", by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

SUPPLIER_HELP: Mapping[str, str] = {
    "supplier_columns_button": marked("help", "Shows the columns of the list, and above them the list as a whole."),
    "supplier_rows_button": marked("help", "Shows the rows of the list, those that are open first."),
    "supplier_columns_list": marked(
        "help",
        "The list as a whole, then its columns: what stands above each, some of its cells, and after the arrow what it "
        "is taken as. Enter goes to what it can be. What was said of a supplier's columns comes up the next time.",
    ),
    "supplier_rows_list": marked(
        "help",
        "The rows of the list. A question mark: needs a look. A cross: refused. A plus: accepted as it is. A tick: "
        "good. An equal sign: entered already. Enter goes to the answers. Good and accepted rows are taken with F12.",
    ),
    "supplier_on_button": marked("help", "Shows what is chosen, where both sides have no room beside each other."),
    "supplier_back_button": marked("help", "Shows the list again."),
    "supplier_name_line": marked(
        "help",
        "Whose list it is. It stands as the source behind every value, and what was said of the columns of this "
        "supplier comes up. A supplier known already is completed while you type; Enter goes on to the columns.",
    ),
    "supplier_kind_combo": marked(
        "help", "What the list lists. Whether an engine burns petrol decides much, so it is never guessed."
    ),
    "supplier_kind_list": marked("help", "Pumps, petrol engines or electric motors."),
    "supplier_how_combo": marked(
        "help",
        "How the values are known. A seller only claims; in the maker's own list they count as the maker's sheet.",
    ),
    "supplier_how_list": marked("help", "Claimed by a seller, or the maker's own list."),
    "supplier_sheet_combo": marked("help", "Which sheet of the workbook is looked at."),
    "supplier_sheet_list": marked("help", "The sheets of the workbook that hold anything."),
    "supplier_separator_combo": marked(
        "help", "What parts the cells of a text file. Another one reads the file anew; answers given so far are gone."
    ),
    "supplier_separator_list": marked("help", "Semicolon, comma, tab or upright stroke."),
    "supplier_headings_line": marked(
        "help",
        "In which rows the headings stand, counted as above the list: 4, or 4-5, or none. Enter guesses the columns "
        "anew from these rows; what was said of a column stays where the same words stand above it, answers given so "
        "far are gone. It comes up with the next list of this supplier that has the same headings there.",
    ),
    "supplier_decimals_combo": marked(
        "help",
        "What stands before decimals in the whole list. Comma or point decides what could mean two things, such as "
        "1,125; what cannot be written so is asked about, and so is an inch mark with a comma. As it seems: what the "
        "numbers themselves tell, column by column.",
    ),
    "supplier_decimals_list": marked("help", "As it seems, comma or point."),
    "supplier_filter_line": marked(
        "help",
        "Type parts of what the column is, such as: bore mm. Enter goes to the list below. A unit counts for bare "
        "numbers; a cell that names its own unit is read in that.",
    ),
    "supplier_taken_list": marked(
        "help", "What the column can be. Enter, or a click, takes it; arrow keys only look. A scan takes nothing."
    ),
    "supplier_answers_list": marked(
        "help",
        "What is asked about the row, and below each question the answers. Enter, or a click, gives one; nothing is "
        "chosen beforehand, and a scan answers nothing. “All” answers every cell asked about in the same way.",
    ),
    "supplier_instead_line": marked(
        "help",
        "What is to be read instead of the cell, written as people write it: 19,05 mm or 3/4 in. Enter takes it.",
    ),
    "supplier_take_button": marked(
        "help",
        "Takes the good and the accepted rows as one act, after asking who takes them. Ctrl+Z takes all of it back. "
        "Where it cannot be pressed yet, the line above says why.",
    ),
    "supplier_refused_button": marked(
        "help",
        "Saves the rows that are refused or need a look as a file for a spreadsheet, each with its reasons, to send "
        "back. Nothing in it can run as a formula.",
    ),
    "supplier_other_button": marked("help", "Chooses a file to read; a file dropped on the window is read as well."),
    "supplier_leave_button": marked(
        "help", "Stops reading, or goes back to the work sheet. The list is kept as it stands; Ctrl+Shift+R goes on."
    ),
}
