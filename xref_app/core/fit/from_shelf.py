"""How many pieces of each need lie on the shelf; the rest has to be ordered or made."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.fit.finding import Need


def pieces_from_shelf(needs: Sequence[Need]) -> tuple[int, ...]:
    """Return for each need how many of its pieces lie in a bin, n numbers in the order of n needs.

    No piece is counted twice: needs that rest on a bin take theirs first, then those that order more of the same part.
    """
    left: dict[str, int] = {}
    taken = [0] * len(needs)
    for place in sorted(range(len(needs)), key=lambda one: _is_to_order(needs[one])):
        part = needs[place].listed
        if part is None:
            continue
        lying = part.lying if part.to_order else part.count
        free = left.setdefault(part.part_id, lying)
        taken[place] = min(needs[place].quantity, free)
        left[part.part_id] = free - taken[place]
    return tuple(taken)


def _is_to_order(need: Need) -> bool:
    return need.listed is not None and need.listed.to_order
