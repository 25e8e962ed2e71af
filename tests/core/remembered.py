"""Which columns of which table are from memory though their row as a whole is not."""

from __future__ import annotations

from collections.abc import Mapping

# Columns that a row's confidence calls remembered though the row as a whole is not.
REMEMBERED_COLUMNS: Mapping[tuple[str, str], str] = {
    ("bolt_torques", "from memory for K"): r"torque_(dry|lubricated)",
    ("faces_engine", "from memory for the thread"): r"bolt_thread",
    ("iso286_upper_deviations", "from memory for N9"): r"N9_um",
    ("joints", "from memory for how it seals"): r"sealed_by",
    ("keys_metric", "from memory for the key height zone"): r"key_height_zone",
    ("shafts_engine", "from memory for the tapped hole and shaft limits"): r"end_hole|shaft_(min|max)_in",
    ("shafts_nema", "from memory for the key length"): r"key_length_in",
    ("threads", "from memory for limits"): r"(external|internal)_(major|pitch|minor)_(min|max)",
    ("threads", "from memory for its tolerance and the useful length"): r"effective_length",
    ("threads", "dash-size pairing from memory"): r"port_dash",
    ("trade_practice", "from memory for 140 F"): r"value_low",
}
