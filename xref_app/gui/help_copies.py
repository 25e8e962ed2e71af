"""Help for the copies and the help bundle, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

COPIES_HELP: Mapping[str, str] = {
    "copies_kept_list": marked(
        "help",
        "The copies of the catalog, the newest first. A full disc: every row of it is as it was written. An "
        "exclamation mark: damaged, and never used. A copy is made by itself once a day, and before every import, "
        "catalog file and upgrade, and before another is put back. Enter tells what putting the chosen one back would "
        "do.",
    ),
    "copies_all_button": marked(
        "help",
        "Tells first what would vanish, be altered and come back, then asks. F12 puts the whole copy back as one act; "
        "what came since is withdrawn, not erased. The present state is copied before, and Ctrl+Z takes it back. What "
        "happened on the bench, and the doubts it raised, stay as they are.",
    ),
    "copies_missing_button": marked(
        "help",
        "Brings back only what the copy has and the catalog has no more. Nothing is altered, nothing taken away, and "
        "no reading that was withdrawn as wrong comes back.",
    ),
    "copies_now_button": marked("help", "Makes a copy at once, opens it again and reads every row of it. Esc stops."),
    "copies_elsewhere_button": marked(
        "help",
        "Makes a copy where you say: on a stick, on another disk. A copy on the same disk goes with the disk. It can "
        "be put back on any machine: From a file.",
    ),
    "copies_from_button": marked(
        "help",
        "Looks at a copy that lies elsewhere: on a stick, on another disk. It stands above the others, and is put back "
        "like them.",
    ),
    "copies_bundle_button": marked("help", "Shows what a file for somebody who helps you would hold."),
    "copies_leave_button": marked(
        "help", "Stops what is being read, copied or put back; where nothing is, goes back to the work sheet."
    ),
    "bundle_contents_view": marked("help", "Everything that would go into the bundle, word for word. Scroll it."),
    "bundle_names_button": marked(
        "help",
        "Takes in who did what and why, and your settings; pressed again, leaves them out. Only if whoever helps asks.",
    ),
    "bundle_save_button": marked("help", "Writes what is shown into a zip file where you say."),
    "bundle_leave_button": marked("help", "Goes back to the work sheet; nothing is written."),
}
