"""What is published of a thread that was identified, by the label of its candidate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from xref_app.core.identify.thread_forms import thread_forms
from xref_app.core.quantity.range import Range
from xref_app.core.standards.errors import NotInStandardError


@dataclass(frozen=True, slots=True)
class ThreadFacts:
    """One thread, both genders together.

    ``designation`` is what a case and the catalog call it; ``seal_mm`` the seal that the label names besides.
    ``outside_mm`` is what a caliper may read over the crests of the male thread between its ends, ``inside_mm`` across
    those of the female one; None where it has no such gender. ``tpi`` is None for a metric thread.
    """

    label: str
    designation: str
    system: str
    pitch_mm: float
    tpi: float | None
    angle_deg: float
    taper: bool
    outside_mm: Range | None
    inside_mm: Range | None
    seal_mm: float | None
    source: str
    confidence: str


def thread_facts(label: str) -> ThreadFacts:
    """Return the facts of the thread that an answer labels so.

    Raises:
        NotInStandardError: no candidate has that label.
    """
    forms = [form for form in thread_forms() if form.label == label]
    if not forms:
        raise NotInStandardError(f"The thread “{label}”", "our list of threads", "take a label that an answer gives")
    first = forms[0]
    return ThreadFacts(
        label=first.label,
        designation=first.designation,
        system=first.system,
        pitch_mm=first.row.pitch_mm,
        tpi=first.row.tpi,
        angle_deg=first.row.angle_deg,
        taper=first.taper,
        outside_mm=_first(form.outside_mm("") for form in forms),
        inside_mm=_first(form.inside_mm for form in forms),
        seal_mm=first.seal_mm,
        source=first.source,
        confidence=first.row.confidence,
    )


def _first(limits: Iterable[Range | None]) -> Range | None:
    return next((one for one in limits if one is not None), None)
