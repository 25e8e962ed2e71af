"""Help for the sheet of the jobs kept, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

JOBS_HELP: Mapping[str, str] = {
    "jobs_kept_table": marked(
        "help",
        "The last 200 jobs, newest first. A job is kept by itself, a second after each change: what it rests on, the "
        "pump chosen, what was answered and typed, and what was told by then. Enter opens one as it was left and says "
        "what has changed since. Of the customer nothing is kept but the reference.",
    ),
    "jobs_filter_line": marked(
        "help",
        "Shows only the jobs that hold every word typed here: of the reference, the numbers, the machine, the verdict, "
        "the outcome or the day. Enter goes down to them.",
    ),
    "jobs_reopen_button": marked("help", "Opens the chosen job as it was left."),
    "jobs_leave_button": marked("help", "Goes back to the work sheet."),
    "reopened_more_button": marked("help", "Shows all that has changed since the job was left, or folds it again."),
    "reopened_close_button": marked("help", "Closes this line; the job stays open. Esc does the same."),
    "reopened_changes_view": marked(
        "help",
        "What has changed since the job was left, gravest first: what is gone, the verdict, checks, sizes, parts. What "
        "is shown below is how it stands now.",
    ),
}
