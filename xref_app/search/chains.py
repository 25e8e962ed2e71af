"""Which entries a replaced entry leads to, step by step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Final

from xref_app.core.model.catalog import ReplacedBy

# House rules: a longer chain, or more routes, is a fault in the catalog rather than something to read at the counter.
MOST_STEPS: Final = 12
MOST_ROUTES: Final = 64


def links_from(rows: Iterable[ReplacedBy]) -> dict[str, tuple[str, ...]]:
    """Return for each replaced entry the entries that replace it, in the order of ``rows``, each once."""
    links: dict[str, dict[str, None]] = {}
    for row in rows:
        links.setdefault(row.entry_id, {})[row.new_entry_id] = None
    return {entry_id: tuple(newer) for entry_id, newer in links.items()}


def follow(entry_id: str, links: Mapping[str, Sequence[str]]) -> tuple[tuple[str, ...], ...]:
    """Return every route from ``entry_id`` to an entry that nothing replaces, oldest entry first.

    A route ends early where it would come back to itself, or after ``MOST_STEPS`` steps; at most ``MOST_ROUTES``
    routes are given. No route: ``entry_id`` is not replaced.

    Args:
        entry_id: The old entry.
        links: The entries that replace an entry, see ``links_from``.
    """
    return tuple(islice(_routes((entry_id,), links), MOST_ROUTES))


def _routes(so_far: tuple[str, ...], links: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, ...]]:
    newer = [entry for entry in links.get(so_far[-1], ()) if entry not in so_far]
    if newer and len(so_far) <= MOST_STEPS:
        for entry in newer:
            yield from _routes((*so_far, entry), links)
    elif len(so_far) > 1:
        yield so_far
