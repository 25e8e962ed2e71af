"""Help for the pair sheet, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

PAIRS_HELP: Mapping[str, str] = {
    "pairs_matrix_table": marked(
        "help",
        "Every good engine (row) with every good pump (column), each with the mark of its verdict. Disc with a tick: "
        "fits as is. Square with a plus: fits with parts. Hollow diamond with a question mark: not known yet. Bare "
        "cross: does not fit. A small mark is kept out by the filter. A frame: to be made. A filled corner: wanted. A "
        "stroke: never. Only what surely fits is ever paired by itself; what fits only if a claim holds waits for you "
        "to want it surely. An engine alone says nothing of hoses and nozzle, so it stays “not known yet”; a whole "
        "machine without its pump does not.",
    ),
    "pairs_made_list": marked(
        "help",
        "The pairs that leave the most together after parts, time and the units' own prices, best first; below them "
        "what is reserved. A pair that would lose money is not made.",
    ),
    "pairs_sells_line": marked("help", "What a running machine sells for, in the shop's own money."),
    "pairs_rate_line": marked(
        "help",
        "What an hour of work costs. A pair takes 45 minutes, 3 for each piece it needs and 60 for each piece to make.",
    ),
    "pairs_engine_line": marked(
        "help", "What a machine with the engine of this row sells for; empty takes the figure for any machine."
    ),
    "pairs_filter_button": marked(
        "help", "Which pairs may be made: whatever fits, only with parts that lie on the shelf, only what fits as is."
    ),
    "pairs_force_button": marked(
        "help", "Makes this pair whatever the sum says, or leaves it to the sum again. The two must surely fit."
    ),
    "pairs_forbid_button": marked("help", "Never makes this pair, or leaves it to the sum again."),
    "pairs_reserve_button": marked(
        "help",
        "Reserves both units and the pieces that join them in one act, for the job in hand or under the names of the "
        "two. They are gone from all other pairs. Ctrl+Z takes it back.",
    ),
    "pairs_release_button": marked(
        "help", "Gives the reserved unit chosen in the list free again, with the other of its job."
    ),
    "pairs_leave_button": marked("help", "Stops judging, or goes back to the work sheet."),
}
