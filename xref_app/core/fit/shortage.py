"""Whether the shelf holds enough of each piece for all findings at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref_app.core.fit.finding import Finding, Need, Outcome
from xref_app.core.model.shelf import Part
from xref_app.core.sentence import Sentence, marked

RUNS_SHORT = marked("findings", "{name}: {wanted} pieces are needed in all and {count} are there.")


def with_shelf_counted(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return the findings, a 'by parts' turned into a failure where another finding already used the last pieces.

    Two findings that ask for one piece in the same words share it (the spacer that serves reach and pilot).
    """
    used: dict[tuple[Part, str], int] = {}
    counted: list[Finding] = []
    for finding in findings:
        wanted = _pieces(finding.needs)
        short = next((key for key in wanted if _total(key, wanted, used) > key[0].count), None)
        if short is None:
            used.update(wanted)
            counted.append(finding)
        else:
            counted.append(_short(finding, short[0], _total(short, wanted, used)))
    return tuple(counted)


def _pieces(needs: Sequence[Need]) -> dict[tuple[Part, str], int]:
    """Return how many pieces of each listed part are asked for in which words."""
    wanted: dict[tuple[Part, str], int] = {}
    for need in needs:
        if need.listed is not None:
            key = (need.listed, str(need.what))
            wanted[key] = wanted.get(key, 0) + need.quantity
    return wanted


def _total(key: tuple[Part, str], wanted: dict[tuple[Part, str], int], used: dict[tuple[Part, str], int]) -> int:
    """Return how many pieces of ``key``'s part are needed once ``wanted`` joins what is already used."""
    return sum(count for (part, _), count in {**used, **wanted}.items() if part == key[0])


def _short(finding: Finding, part: Part, wanted: int) -> Finding:
    values = {"name": part.name or part.kind.value, "wanted": wanted, "count": part.count}
    return replace(finding, outcome=Outcome.FAIL, reason=Sentence(RUNS_SHORT, values), needs=())
