"""The end of a hose, port or fitting."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.model.known import Dimension, Fact
from xref_app.core.model.words import Gender


@dataclass(frozen=True, slots=True)
class End:
    """One end of a water joint. ``seal_mm`` tells apart the two seals that share the M22x1.5 thread."""

    thread: Fact[str] | None = None
    gender: Fact[Gender] | None = None
    seal_mm: Dimension | None = None
