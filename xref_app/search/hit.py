"""One entry that a typed number could mean."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.search.ranking import RankClass


@dataclass(frozen=True, slots=True)
class NumberHit:
    """One entry that the typed number could mean, under the number of its that matches best.

    ``matched`` and ``guessed`` are positions in ``number`` (from 0); ``score`` runs from 0 to 100.
    """

    entry_id: str
    kind: str
    number: str
    matched: tuple[int, ...]
    guessed: tuple[int, ...]
    score: float
    rank: RankClass
