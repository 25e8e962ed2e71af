"""Entries by the exact name somebody gives: an id, or a number or a machine's model, capitals apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from xref_app.search.pattern import literal_number
from xref_app.services.catalog import Catalog


def entries_called(catalog: Catalog, name: str) -> tuple[str, ...]:
    """Return the ids of the entries of which ``name`` is the id, a number or the model, in the order of the ids."""
    wanted = name.casefold()
    return tuple(sorted(one for one in _asked(catalog, name) if one == name or wanted in _names(catalog, one)))


def _asked(catalog: Catalog, name: str) -> Iterable[str]:
    """Return the entries to look at: of a large store those that have the id, or that the index finds."""
    if catalog.on_demand is None:
        return catalog.entries
    found = dict.fromkeys([name, *catalog.on_demand.numbered_like(literal_number(name))])
    catalog.read_ahead(found)
    return [one for one in found if one in catalog.entries]


def _names(catalog: Catalog, entry_id: str) -> Iterator[str]:
    yield from (one.number.casefold() for one in catalog.numbers.get(entry_id, ()))
    machine = catalog.machines.get(entry_id)
    if machine is not None:
        yield machine.model.casefold()
