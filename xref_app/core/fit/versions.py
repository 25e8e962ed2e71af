"""One finding out of those made under each version of a contradicted value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.sentence import Sentence, marked

AGREE = marked("findings", "Two versions of a size were judged; both give this.")
DISAGREE = marked("findings", "Two versions of a size disagree: {cases}. Measure it and settle which holds.")


def agreed(findings: Sequence[Finding], contradicted: Sequence[str] = ()) -> Finding:
    """Return the finding that holds under every version, else unknown, asking for what the findings rest on.

    Args:
        findings: n ≥ 1 findings of one check, one per version of the case.
        contradicted: The fields that come in several versions.
    """
    first = findings[0]
    if all(one == first for one in findings):
        return first
    if all(one.outcome is first.outcome and one.needs == first.needs for one in findings):
        return replace(first, notes=(*first.notes, Sentence(AGREE)))
    cases = " / ".join(dict.fromkeys(f"{one.outcome.word} ({one.reason})" for one in findings))
    used = {field for one in findings for field, _ in one.used}
    measure = [field for field in contradicted if field in used] or [field for one in findings for field in one.measure]
    return replace(
        first,
        outcome=Outcome.UNKNOWN,
        reason=Sentence(DISAGREE, {"cases": cases}),
        measure=tuple(dict.fromkeys(measure)),
        needs=(),
        change=None,
        danger=next((one.danger for one in findings if one.danger is not None), None),
    )
