"""Help for the sheets "Catalog file", "Trust a supplier" and "Export", by objectName; translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

_TYPED = marked(
    "help",
    "The fingerprint as the supplier told you, by telephone or on paper: four groups of four on each line, small or "
    "capital letters, with or without spaces. Nothing can be pasted here, for what is copied from beside it proves "
    "nothing. Enter goes on to the next line.",
)

CATALOG_HELP: Mapping[str, str] = {
    "catalog_lines_table": marked(
        "help",
        "What the file would do, line by line: first your own kept jobs (») and outcomes (!) that it touches, then "
        "entries withdrawn (−), changed (≠) and added (+). Beside the list the chosen line is told in full, each old "
        "value before the new one. Nothing is changed by looking. Enter opens the job of a line that is about one.",
    ),
    "catalog_line_view": marked(
        "help", "The chosen line in full: all that the file does to it. The arrow keys scroll."
    ),
    "catalog_ours_button": marked(
        "help", "Shows only your own kept jobs and outcomes that the file touches; once more shows all."
    ),
    "catalog_withdrawn_button": marked(
        "help", "Shows only the entries that the supplier does not stand by any more; once more shows all."
    ),
    "catalog_changed_button": marked("help", "Shows only what the file changes; once more shows all."),
    "catalog_added_button": marked("help", "Shows only what the file adds; once more shows all."),
    "catalog_take_button": marked(
        "help",
        "Asks who takes the file, then F12 takes it: a copy of the catalog first, then all of the file in one act. "
        "Your own entries, readings, outcomes and shelf are never overwritten. F12 does the same from anywhere on the "
        "sheet.",
    ),
    "catalog_although_button": marked(
        "help",
        "Takes a file although a newer one of this supplier was taken before. It asks first, and the history says that "
        "it was done.",
    ),
    "catalog_trust_button": marked(
        "help", "Adds the keys of a supplier, so that catalog files signed with them are taken."
    ),
    "catalog_job_button": marked("help", "Opens the kept job of the chosen line."),
    "catalog_choose_button": marked("help", "Chooses another catalog file. Ctrl+Shift+G does the same."),
    "catalog_on_button": marked(
        "help", "Shows the chosen line in full and the acts, where both sides have no room beside each other."
    ),
    "catalog_back_button": marked("help", "Shows the list again."),
    "catalog_leave_button": marked(
        "help", "Stops reading or taking the file, or goes back to the work sheet. Nothing is changed by that."
    ),
    "trust_typed_1_line": _TYPED,
    "trust_typed_2_line": _TYPED,
    "trust_typed_3_line": _TYPED,
    "trust_typed_4_line": _TYPED,
    "trust_name_line": marked("help", "What you call this supplier. It stands beside every file of theirs."),
    "trust_trust_button": marked(
        "help", "Adds the keys, if the fingerprint you typed is theirs. F12 does the same from anywhere on the sheet."
    ),
    "trust_choose_button": marked("help", "Chooses the file with the supplier's two public keys, public.pem."),
    "trust_leave_button": marked("help", "Goes back to the catalog file; no keys are added."),
    "export_all_button": marked("help", "Writes every entry, the listed parts and what happened."),
    "export_job_button": marked(
        "help", "Writes the pump and the machine of the open job, and the pump that is chosen for it."
    ),
    "export_these_button": marked("help", "Writes the entries whose ids are typed in the line below."),
    "export_shelf_button": marked(
        "help", "Writes what lies on the shelf, what is put by for whom, and the used units as well."
    ),
    "export_ids_line": marked(
        "help", "The ids of the entries, with commas or spaces between them; they stand in brackets, such as (P-001)."
    ),
    "export_folder_button": marked(
        "help", "Writes a folder of CSV files with a description, which this program or any other reads again."
    ),
    "export_workbook_button": marked("help", "Writes one workbook to look at in a spreadsheet."),
    "export_write_button": marked("help", "Asks where it goes, then writes it. The catalog stays as it is."),
    "export_leave_button": marked("help", "Goes back to the work sheet."),
}
