"""What is known of very many entries, one after the other: rows in the same words are understood once."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Known
from xref_app.core.model.observed import PORT_VALUES, values_by_field
from xref_app.services.catalog import Catalog
from xref_app.services.machine_side import Values

# What the rows of one field say, and the field.
_Said = tuple[object, ...]


class KnownByRows:
    """Answers like ``Catalog.known``; about seven times as fast, and it holds every different value once."""

    def __init__(self, catalog: Catalog) -> None:
        self._catalog = catalog
        self._understood: dict[_Said, tuple[Known, ...]] = {}

    def known(self, *entry_ids: str) -> Values:
        """Return what is known by field of entries that are one thing on the bench."""
        catalog = self._catalog
        rows = _by_field(
            chain.from_iterable(catalog.observations.get(entry_id, ()) for entry_id in entry_ids),
            chain.from_iterable(catalog.ports.get(entry_id, ()) for entry_id in entry_ids),
        )
        found = {field_id: self._versions(field_id, of_field) for field_id, of_field in rows.items()}
        return {field_id: versions for field_id, versions in found.items() if versions}

    def _versions(self, field_id: str, rows: _Rows) -> tuple[Known, ...]:
        key = (field_id, *rows.said)
        versions = self._understood.get(key)
        if versions is None:
            # A port's row says something of several fields; all but this one are somebody else's.
            versions = values_by_field(rows.observations, rows.ports).get(field_id, ())
            self._understood[key] = versions
        return versions


class _Rows:
    """The rows that say something of one field of one entry, and what they say."""

    __slots__ = ("observations", "ports", "said")

    def __init__(self) -> None:
        self.observations: list[Observation] = []
        self.ports: list[PortRow] = []
        self.said: list[object] = []


def _by_field(observations: Iterable[Observation], ports: Iterable[PortRow]) -> dict[str, _Rows]:
    found: dict[str, _Rows] = {}
    for one in observations:
        rows = found.setdefault(one.field, _Rows())
        rows.observations.append(one)
        rows.said.append((one.value, one.text, one.doubt, one.how))
    for port in ports:
        for ending in PORT_VALUES:
            rows = found.setdefault(f"{port.port}_{ending}", _Rows())
            rows.ports.append(port)
            rows.said.append((getattr(port, ending), port.how))
    return found
