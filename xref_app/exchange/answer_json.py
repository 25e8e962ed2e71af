"""A judgement out as the JSON that data_schema/finding.schema.json describes."""

from __future__ import annotations

from xref_app.core.fit.finding import Finding, Judgement, Need, Quantity, Shown
from xref_app.core.model.catalog import OutcomeRow

Json = dict[str, object]


def answer_json(judgement: Judgement) -> Json:
    """Return the judgement as plain values ready for ``json.dumps``."""
    return {
        "verdict": judgement.verdict.value,
        "checks": [_finding(finding) for finding in judgement.findings],
        "parts": [_need(need) for need in judgement.needs],
        "measure_next": list(judgement.measure_next),
        "danger": [str(line) for line in judgement.danger],
        "cautions": [str(line) for line in judgement.cautions],
        "claims": list(judgement.claims),
        "clocking_deg": judgement.clocking_deg,
        "notes": [str(line) for line in judgement.notes],
    }


def outcome_json(row: OutcomeRow, *, is_same_machine: bool) -> Json:
    """Return what happened before as plain values; it stands beside the judgement and changes nothing in it."""
    return {
        "outcome": row.outcome_id,
        "machine": row.machine_id,
        "same_machine": is_same_machine,
        "result": row.result,
        "note": row.note,
        "seen_by": row.seen_by,
        "seen_on": row.seen_on,
    }


def _finding(finding: Finding) -> Json:
    return {
        "check": finding.check,
        "finding": finding.outcome.word,
        "needed": _shown(finding.needed),
        "offered": _shown(finding.offered),
        "gap": _shown(finding.gap),
        "reason": str(finding.reason),
        "source": finding.source,
        "measure": list(finding.measure),
        "known_by": {field: how.word for field, how in finding.used},
        "danger": None if finding.danger is None else str(finding.danger),
        "change": None if finding.change is None else str(finding.change),
        "notes": [str(note) for note in finding.notes],
        "on_arrival": finding.on_arrival,
    }


def _shown(shown: Shown) -> object:
    if not isinstance(shown, Quantity):
        return shown
    return {"low": _rounded(shown.range.low), "high": _rounded(shown.range.high), "unit": shown.unit}


def _rounded(value: float) -> float:
    """Return the value without the noise of float sums."""
    return round(value, 6)


def _need(need: Need) -> Json:
    told: Json = {
        "what": str(need.what),
        "quantity": need.quantity,
        "listed": need.listed is not None,
        "to_make": need.to_make,
    }
    if need.listed is not None:
        told |= {
            "part_id": need.listed.part_id,
            "name": need.listed.name,
            "bin": "" if need.listed.to_order else need.listed.bin,
            "cost": need.listed.cost,
        }
    return told
