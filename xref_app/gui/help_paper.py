"""Help for the print page, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

PAPER_HELP: Mapping[str, str] = {
    "paper_pages_view": marked(
        "help",
        "The pages as they will be printed, by the same painter. Up, Down, Page Up and Page Down move, Home and End go "
        "to the first and the last page. F6 goes to the buttons.",
    ),
    "paper_fit_button": marked(
        "help",
        "The fit sheet: verdict, what is needed, cautions, order of assembly, every check, and the drawings. Of a pump "
        "that is not known to fit it tells what to measure or which check fails, and nothing to build by.",
    ),
    "paper_gauge_button": marked(
        "help",
        "The pump's own face at true size, to hold against the engine before anything is ordered, on several pages "
        "where one is too small. Measure the printed bar first: if it is not 100 mm, the printer has changed the size.",
    ),
    "paper_card_button": marked(
        "help",
        "What to ask the supplier: every size of the pump that an open check asks for, and what is only claimed, each "
        "with how it is measured and a line for the answer.",
    ),
    "paper_label_button": marked(
        "help",
        "The label of the place chosen on the shelf: bin, name, and a code to scan or type into the entry line, which "
        "then shows the place.",
    ),
    "paper_a4_button": marked("help", "Prints on A4; remembered."),
    "paper_letter_button": marked("help", "Prints on Letter; remembered."),
    "paper_printer_choice": marked("help", "Which printer. The one used last comes first."),
    "paper_print_button": marked(
        "help",
        "Sends what is shown to the printer at true size. The sheet stays here until you leave it, also where the "
        "printer jams.",
    ),
    "paper_save_button": marked("help", "Saves what is shown as a PDF file; it needs no printer."),
    "paper_leave_button": marked("help", "Goes back to the work sheet."),
}
