"""Find what a typed number, model or scan could mean."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from xref_app.core.model.catalog import Entry, MachineRow, Number
from xref_app.core.sentence import Sentence
from xref_app.search.filed import NumberRow
from xref_app.search.hit import NumberHit
from xref_app.search.index import NumberIndex
from xref_app.search.read_as import read_typed
from xref_app.services.answers import Found, Hit
from xref_app.services.catalog import Catalog
from xref_app.services.narrowed import folded, narrowed, splits
from xref_app.services.replacements import Replacements

MOST_HITS = 20
"""Hits shown; the others are counted (house rule)."""

# Whole matches come first: further down there is no model of exactly that name.
_EXACT_ENOUGH = 5


@dataclass(frozen=True)
class Finder:
    """The numbers of one catalog, ready to be searched. Build it once per catalog."""

    catalog: Catalog
    index: NumberIndex

    @cached_property
    def _said(self) -> Replacements:
        return Replacements.of(self.catalog)

    @classmethod
    def over(cls, catalog: Catalog) -> Finder:
        """Return a finder over every number and machine model of ``catalog``."""
        return cls(catalog, NumberIndex.build(row for entry_id in catalog.entries for row in _rows(catalog, entry_id)))

    def after(self, catalog: Catalog, changed: Iterable[str]) -> Finder:
        """Return a finder over ``catalog``, in which only the ``changed`` entries are not as they were.

        Both share one index, which is told of those entries only: this finder leaves out what is no longer in its own
        catalog.
        """
        for entry_id in changed:
            self.index.tell(entry_id, _rows(catalog, entry_id) if entry_id in catalog.entries else ())
        return Finder(catalog, self.index)

    def find(self, text: str, *, limit: int = MOST_HITS) -> Found:
        """Return the entries ``text`` could mean, best first; replaced pumps are followed by what replaces them.

        Raises:
            PatternError: ``text`` cannot be understood (an unclosed bracket, say).
        """
        if not text.strip():
            return Found(Sentence(""), (), 0)
        reading = read_typed(text, self.index, limit=limit)
        if reading.hits is None:
            return Found(reading.read_as, (), 0, reading.advice)
        self.catalog.read_ahead(hit.entry_id for hit in reading.hits.hits)
        there = [hit for hit in reading.hits.hits if hit.entry_id in self.catalog.entries]
        hits = self._one_per_model([self._hit(hit) for hit in there])
        with_more = None if any(folded(hit.number) == folded(text) for hit in hits) else self._narrowed(text)
        if with_more is not None:
            return with_more
        hidden = len(reading.hits.hits) - len(hits)
        hits = self._with_replacements(hits)
        return Found(reading.read_as, tuple(hits[:limit]), reading.hits.total - hidden, reading.advice or reading.note)

    def _narrowed(self, text: str) -> Found | None:
        """Return the model that ``text`` begins with and the builds that the rest leaves; None where it is none."""
        for split in splits(text):
            for hit in self.index.find(split.model, limit=_EXACT_ENOUGH, kinds=("machine",)).hits:
                row = self.catalog.machines.get(hit.entry_id)
                if row is not None and folded(row.model) == folded(split.model):
                    return narrowed(self.catalog, row, split.rest)
        return None

    def _hit(self, hit: NumberHit) -> Hit:
        entry = self.catalog.entries[hit.entry_id]
        return Hit(hit.entry_id, hit.kind, hit.number, entry.maker, entry.name, hit.matched, hit.guessed, hit.score)

    def _one_per_model(self, hits: list[Hit]) -> list[Hit]:
        """Return the hits with each machine model once: which of its builds is meant is asked later, never guessed."""
        kept: list[Hit] = []
        models: set[str] = set()
        for hit in hits:
            row = self.catalog.machines.get(hit.entry_id)
            if row is not None:
                if row.model in models:
                    continue
                models.add(row.model)
            kept.append(hit)
        return kept

    def _with_replacements(self, hits: list[Hit]) -> list[Hit]:
        """Return ``hits`` and the ends of the replaced-by chains that start at them, each end with its route."""
        found = {hit.entry_id: hit for hit in hits}
        for hit in hits:
            for route in self._said.routes(hit.entry_id):
                end = found.get(route[-1]) or self._bare_hit(route[-1], hit.score)
                if not end.route:
                    names = tuple(self.catalog.number_of(step) for step in route)
                    found[route[-1]] = replace(end, route=names, claim=self._said.claim(self.catalog, route))
        return list(found.values())

    def _bare_hit(self, entry_id: str, score: float) -> Hit:
        """Return an entry that was not typed but led to."""
        entry, number = self.catalog.entries[entry_id], self.catalog.number_of(entry_id)
        return Hit(entry_id, entry.kind, number, entry.maker, entry.name, (), (), score)


def _rows(catalog: Catalog, entry_id: str) -> Iterator[NumberRow]:
    entry = catalog.entries[entry_id]
    return rows_to_find(entry, catalog.numbers.get(entry_id, ()), catalog.machines.get(entry_id))


def rows_to_find(entry: Entry, numbers: Iterable[Number], machine: MachineRow | None) -> Iterator[NumberRow]:
    """Yield what an entry is found by: its numbers, and a machine its model."""
    for number in numbers:
        yield NumberRow(number.number, entry.entry_id, entry.kind)
    if machine is not None:
        yield NumberRow(machine.model, entry.entry_id, "machine")


def is_guessed(hit: Hit) -> bool:
    """Say whether the number was recognised through a character that nobody could read."""
    return bool(hit.guessed)
