"""One job as it was left: what it rests on, what was chosen, answered and typed, and what was told of it by then."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref_app.services.fix_or_replace import Entries
from xref_app.services.job_told import Told
from xref_app.services.pump_answers import PumpAnswers
from xref_app.services.used_fact import UsedFact


@dataclass(frozen=True, slots=True)
class KeptJob:
    """All that a job carries. Of the customer there is nothing but the ``reference``, which the shop chooses freely.

    ``title`` is that of the open job; ``chosen_id`` and ``chosen_number`` name the pump chosen in its list, empty where
    none was judged. ``answers`` are those of "Is it the pump?", ``figures`` what was typed in "Fix or replace"; what
    the shop says there for all jobs is no part of one and not kept. ``outcome_ids`` are the outcomes entered on it.
    ``changed_at`` is when it was kept last (ISO 8601, UTC), empty before.
    """

    job_id: str
    reference: str = ""
    title: str = ""
    facts: tuple[UsedFact, ...] = ()
    chosen_id: str = ""
    chosen_number: str = ""
    answers: PumpAnswers = field(default_factory=PumpAnswers)
    figures: Entries = field(default_factory=Entries)
    outcome_ids: tuple[str, ...] = ()
    told: Told = field(default_factory=Told)
    changed_at: str = ""
