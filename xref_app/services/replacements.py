"""What the catalog says replaces what: routes between entries that are there, and the words for a claim of one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from xref_app.core.model.known import How, weakest
from xref_app.core.sentence import Sentence, marked
from xref_app.search.chains import follow, links_from
from xref_app.services.catalog import Catalog

REPLACES = marked("find", "said to replace {old} ({how})")
REPLACES_BY_WAY = marked("find", "said to replace {old} by way of {between} ({how})")
IN_A_CIRCLE = marked("find", "said to replace {old}, and {old} to replace it: ask which is the newer")


@dataclass(frozen=True, slots=True)
class Replacements:
    """The links of one catalog to entries that are in it; how each is known.

    A link to an entry that was withdrawn is left out, and with it what only that entry leads to.
    """

    links: Mapping[str, tuple[str, ...]]
    hows: Mapping[tuple[str, str], How]

    @classmethod
    def of(cls, catalog: Catalog) -> Replacements:
        """Return what is said in ``catalog``; where one link is said twice the stronger saying counts."""
        there = [row for row in catalog.replaced_by if row.new_entry_id in catalog.entries]
        hows: dict[tuple[str, str], How] = {}
        for row in there:
            step, how = (row.entry_id, row.new_entry_id), How[row.how.upper()]
            hows[step] = min(how, hows.get(step, how))
        return cls(links_from(there), hows)

    def routes(self, entry_id: str) -> tuple[tuple[str, ...], ...]:
        """Return every route from an entry to what nothing replaces, oldest entry first."""
        return follow(entry_id, self.links)

    def newer(self, entry_id: str) -> Mapping[str, tuple[str, ...]]:
        """Return each entry said to replace ``entry_id``, at once or at last, with the shortest route to it."""
        found: dict[str, tuple[str, ...]] = {}
        for route in self.routes(entry_id):
            for steps in range(2, len(route) + 1):
                end, kept = route[steps - 1], found.get(route[steps - 1])
                if kept is None or steps < len(kept):
                    found[end] = route[:steps]
        return found

    def claim(self, catalog: Catalog, route: Sequence[str]) -> Sentence:
        """Return what is said of the end of ``route``, as weak as its weakest step: never more than somebody's word."""
        old, *between, end = (catalog.number_of(entry_id) for entry_id in route)
        if self._leads_back(route):
            return Sentence(IN_A_CIRCLE, {"old": old})
        how = weakest(self.hows[step] for step in pairwise(route))
        values = {"old": old, "between": ", ".join(between), "how": how.word if how is not None else "", "new": end}
        return Sentence(REPLACES_BY_WAY if between else REPLACES, values)

    def _leads_back(self, route: Sequence[str]) -> bool:
        """Say whether the end of the route is said to be replaced, sooner or later, by its beginning."""
        seen, open_ends = {route[-1]}, [route[-1]]
        while open_ends:
            for newer in self.links.get(open_ends.pop(), ()):
                if newer == route[0]:
                    return True
                if newer not in seen:
                    seen.add(newer)
                    open_ends.append(newer)
        return False
