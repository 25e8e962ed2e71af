"""Names of test cases: the same in every process, whatever order a set comes in."""

from __future__ import annotations

from collections.abc import Mapping


def told(case: object) -> str:
    """Return a case in words, what is in a set sorted."""
    if isinstance(case, Mapping):
        return ", ".join(f"{name} {told(value)}" for name, value in case.items()) or "nothing more"
    if isinstance(case, frozenset | set):
        return " and ".join(sorted(str(one) for one in case))
    return str(case)
