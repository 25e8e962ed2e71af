"""What readings can be, out as the JSON that data_schema/identified.schema.json describes."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.identify.answer import Candidate, Evidence, Identified, NextMeasurement
from xref_app.core.quantity.range import Range

Json = dict[str, object]


def identified_json(identified: Identified, *, notes: Sequence[str] = ()) -> Json:
    """Return the answer as plain values ready for ``json.dumps``.

    Args:
        identified: The answer.
        notes: What is to be told before its own notes.
    """
    return {
        "candidates": [_candidate(one) for one in identified.candidates],
        "ambiguous": identified.ambiguous,
        "next_measurement": _next(identified.next_measurement),
        "notes": [*notes, *(str(note) for note in identified.notes)],
    }


def holes_json(diameter_mm: Range | None, holes_xy_mm: Sequence[tuple[float, float]]) -> Json:
    """Return the bolt circle and its holes, to stand beside the answer; no circle is null."""
    return {
        "diameter_mm": None if diameter_mm is None else _limits(diameter_mm),
        "holes_xy_mm": [[_rounded(x), _rounded(y)] for x, y in holes_xy_mm],
    }


def _candidate(candidate: Candidate) -> Json:
    return {
        "label": candidate.label,
        "system": candidate.system,
        "nominal_mm": _rounded(candidate.nominal_mm),
        "decides": candidate.decides,
        "source": candidate.source,
        "evidence": [_evidence(one) for one in candidate.evidence],
    }


def _evidence(evidence: Evidence) -> Json:
    return {
        "reading": evidence.reading,
        "read": _limits(evidence.read),
        "limits": _limits(evidence.limits),
        "said": str(evidence.said),
    }


def _next(asked: NextMeasurement | None) -> Json | None:
    if asked is None:
        return None
    return {"reading": asked.reading, "ask": str(asked.ask), "between": list(asked.between)}


def _limits(limits: Range) -> list[float]:
    return [_rounded(limits.low), _rounded(limits.high)]


def _rounded(value: float) -> float:
    """Return the value without the noise of float sums, and no minus before zero."""
    return round(value, 6) + 0.0
