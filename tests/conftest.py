"""No test is timed: a busy machine must not fail one. Figures are printed by tests/bench."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("untimed", parent=settings.default, deadline=None)
settings.load_profile("untimed")
