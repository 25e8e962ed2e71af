"""Single changes of the example case: what each must give, derived by hand beside it (mutations.json)."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class Mutation:
    """One case: the changed values by path, the check it is about, and what that check and the verdict must be.

    ``why`` is the derivation: the numbers that lead there, in mm, bar, l/min, kW.
    """

    why: str
    changes: dict[str, Any]  # JSON values
    check: str
    finding: str
    verdict: str
    reason: str


MUTATIONS = tuple(
    Mutation(**row) for row in json.loads(Path(__file__).with_name("mutations.json").read_text(encoding="utf-8"))
)
