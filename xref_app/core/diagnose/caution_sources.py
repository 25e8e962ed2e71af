"""Where each caution of a step comes from; the words are ours."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from xref_app.core.diagnose import steps

_PRACTICE: Final = "common practice, no published source"

CAUTION_SOURCES: Final[Mapping[str, str]] = {
    steps.MANUAL: "House rule.",
    steps.JET: "CDC pressure-washer guidance",
    steps.STOPPED: "OSHA 29 CFR 1910.147",
    steps.EXHAUST: "NIOSH Update 93-117",
    steps.SHOCK: "NFPA 70 NEC 422.49",
    steps.BACKFLOW: "the local plumbing code",
    steps.HOT: _PRACTICE,
    steps.FROZEN: _PRACTICE,
    steps.MOVING: _PRACTICE,
    steps.BURST: _PRACTICE,
}
"""The source of each caution, by its template."""
