"""All numbers of the catalog, and the entries that a typed number could mean.

Stores (``compact``) never change: what is added goes into small ones beside the large one, which are put together as
they grow; what is removed is struck out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import RLock
from typing import TYPE_CHECKING, Final

from xref_app.search.damage import read_from_file
from xref_app.search.filed import NumberRow, collector_at_rest
from xref_app.search.hit import NumberHit
from xref_app.search.pattern import NumberPattern, parse_number

if TYPE_CHECKING:
    from pathlib import Path

    from xref_app.search.compact import Compact
    from xref_app.search.stores import Snapshot, Stores

DEFAULT_LIMIT: Final = 20


@dataclass(frozen=True, slots=True)
class NumberHits:
    """The best hits, best first, how many entries match in all, and what was understood.

    ``total`` counts the entries that match without a slip, or, when none does, the hits. With ``total_is_least`` there
    are more: counting them all would take too long.
    """

    hits: tuple[NumberHit, ...]
    total: int
    pattern: NumberPattern
    total_is_least: bool = False


class NumberIndex:
    """Finds entries by what can be read of their numbers."""

    def __init__(self) -> None:
        self._pending: list[NumberRow] = []
        self._stores: Stores | None = None
        self._is_from_file = False
        # A save in one thread tells the index of changed entries while another still asks it.
        self._using = RLock()

    @classmethod
    def build(cls, rows: Iterable[NumberRow]) -> NumberIndex:
        """Return an index of ``rows``; their order does not matter. The work is done at the first question."""
        index = cls()
        with collector_at_rest():
            index._pending = list(rows)
        return index

    @classmethod
    def opened(cls, path: Path, stamp: str) -> NumberIndex | None:
        """Return the index that the file holds; None if there is none, it is damaged, or its stamp is another.

        Damage inside its arrays, which nobody reads at once, shows at a question: ``find`` and the others then raise
        ``DamagedArrayError``, and the index is to be built anew.
        """
        from xref_app.search.index_file import open_index  # noqa: PLC0415 numpy only when somebody asks
        from xref_app.search.stores import Stores  # noqa: PLC0415

        found = open_index(path, stamp)
        if found is None:
            return None
        index = cls()
        index._is_from_file = True
        index._stores = Stores(opened=found.store, overlong=found.overlong)
        return index

    @classmethod
    def opened_sound(cls, path: Path, stamp: str) -> NumberIndex | None:
        """Return the same once every byte of the file has been compared with its sum; for work behind the window."""
        from xref_app.search.index_file import is_sound  # noqa: PLC0415 numpy only when somebody asks

        return cls.opened(path, stamp) if is_sound(path) else None

    def save(self, path: Path, stamp: str) -> None:
        """Put everything together and write it to ``path``. Takes seconds for a million entries.

        Raises:
            OSError: the file cannot be written; what was there before still is.
        """
        from xref_app.search.index_file import write_index  # noqa: PLC0415 numpy only when somebody asks

        taken = self.snapshot()
        with read_from_file(is_from_file=self._is_from_file):
            fresh = taken.put_together()
        self.replace(taken, fresh)
        write_index(path, fresh, self._opened().overlong, stamp)

    def snapshot(self) -> Snapshot:
        """Return what is filed now: its ``put_together`` may run in the background, see ``replace``."""
        with self._using:
            return self._opened().snapshot()

    def replace(self, taken: Snapshot, fresh: Compact) -> None:
        """Go on with ``fresh``, which was made of ``taken``; what was added or removed since then stays so."""
        with self._using:
            self._opened().replace(taken, fresh)

    def __len__(self) -> int:
        return len(self._pending) if self._stores is None else len(self._stores)

    def add(self, row: NumberRow) -> None:
        """File one more number."""
        with self._using:
            if self._stores is None:
                self._pending.append(row)
            else:
                self._stores.add(row)

    def remove(self, entry_id: str) -> None:
        """Forget all numbers of ``entry_id``; one that is not there is no fault."""
        with self._reading():
            if self._stores is None:
                self._pending = [row for row in self._pending if row.entry_id != entry_id]
            else:
                self._stores.remove(entry_id)

    def tell(self, entry_id: str, rows: Iterable[NumberRow]) -> None:
        """Have an entry found by ``rows`` from now on, and by nothing else."""
        self.remove(entry_id)
        for row in rows:
            self.add(row)

    def find(
        self, text: str | NumberPattern, *, limit: int = DEFAULT_LIMIT, kinds: Collection[str] | None = None
    ) -> NumberHits:
        """Return the entries that ``text`` could mean, best first.

        Numbers some slips away (rank class ``EDIT``) follow when fewer entries match, none of them whole.

        Args:
            text: What was typed, or the pattern read from it.
            limit: At most so many hits; the total counts all.
            kinds: Only entries of these kinds; None for all.

        Raises:
            PatternError: ``text`` cannot be understood as a number.
            DamagedArrayError: the file it was opened from is damaged inside.
        """
        from xref_app.search.answering import answer  # noqa: PLC0415 numpy only when somebody asks

        pattern = parse_number(text) if isinstance(text, str) else text
        with self._reading():
            found = answer(pattern, self._opened(), limit, kinds)
        return NumberHits(tuple(found.hits), found.total, pattern, found.total_is_least)

    def count(self, pattern: NumberPattern, kinds: Collection[str] | None = None) -> int:
        """Return how many entries match ``pattern`` without any slip; of very many, how many at least."""
        from xref_app.search.answering import counted  # noqa: PLC0415 numpy only when somebody asks

        with self._reading():
            return counted(pattern, self._opened(), kinds)

    @contextmanager
    def _reading(self) -> Iterator[None]:
        with self._using, read_from_file(is_from_file=self._is_from_file):
            yield

    def _opened(self) -> Stores:
        with self._using:
            if self._stores is None:
                from xref_app.search.stores import Stores  # noqa: PLC0415 numpy only when somebody asks

                with collector_at_rest():
                    self._stores = Stores(self._pending)
                self._pending = []
            return self._stores
