"""What a supplier's list would bring, before anything of it is taken."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from xref_app.core.progress import Progress
from xref_app.exchange.supplier_sheet import RawFile, RawSheet
from xref_app.services.catalog import Catalog
from xref_app.services.supplier_columns import ColumnMap
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_known import HeldRows, Owners, Source, numbers_in, tidied
from xref_app.services.supplier_rows import Answers, RowReading, RowState, folded_number, read_rows
from xref_app.store.engine import Store
from xref_app.store.number_owners import owners_of_numbers

CLAIMED: Final = "claimed"
SHEET: Final = "sheet"


@dataclass(frozen=True)
class SaidOfFile:
    """What a person says of a list: whose it is, how its values are known, and what its columns are.

    ``how`` is ``claimed`` (a seller says so) or ``sheet`` (the maker's own list). ``answers`` are typed instead of
    cells, by row and column from 0; ``accepted`` are rows, from 0, that are taken although they need a look.
    """

    columns: ColumnMap
    supplier: str = ""
    how: str = CLAIMED
    sheet: int = 0
    answers: Answers = field(default_factory=lambda: MappingProxyType({}))
    accepted: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Preview:
    """A list as it would be taken.

    ``title_rows`` are the places of what stands above the headings, ``passed_over`` of titles and repeated headings
    below them. ``owners`` carry the numbers of the list, those ``of_kind`` are what the list is of, and ``replaced`` is
    what replaces what already, by entry. ``decimals`` is what stands before the decimals of each column of sizes.
    ``to_take`` are the rows that the take would write.
    """

    file: RawFile
    said: SaidOfFile
    rows: tuple[RowReading, ...]
    title_rows: tuple[int, ...]
    passed_over: tuple[int, ...]
    owners: Owners
    of_kind: frozenset[str]
    replaced: frozenset[tuple[str, str]]
    decimals: Mapping[int, Decimals]

    @property
    def sheet(self) -> RawSheet:
        """Return the sheet that was read."""
        return self.file.sheets[self.said.sheet]

    @property
    def source(self) -> Source:
        """Return what is written down as the source."""
        return Source(tidied(self.said.supplier), self.file.name, self.said.how)

    @property
    def to_take(self) -> tuple[RowReading, ...]:
        """Return the good rows, and those to be looked at that a person accepted as they are."""
        accepted = self.said.accepted
        return tuple(
            one for one in self.rows if one.state is RowState.GOOD or (one.place in accepted and one.is_only_questioned)
        )

    def of(self, state: RowState) -> tuple[RowReading, ...]:
        """Return the rows that stand so."""
        return tuple(one for one in self.rows if one.state is state)

    @property
    def counts(self) -> Mapping[RowState, int]:
        """Return how many rows stand in each way."""
        return {state: len(self.of(state)) for state in RowState}


def previewed(file: RawFile, said: SaidOfFile, catalog: Catalog, store: Store, progress: Progress) -> Preview:
    """Return what ``file`` would bring into ``catalog``; nothing is written.

    Raises:
        WorkCancelledError: nobody waits any more.
    """
    rows = file.sheets[said.sheet].rows
    is_workbook = not (file.encoding or file.separator)
    read = read_rows(rows, said.columns, said.answers, how=said.how, progress=progress, has_number_cells=is_workbook)
    owners = owners_of_numbers(store, numbers_in(read.rows), folded_number)
    source = Source(tidied(said.supplier), file.name, said.how)
    holding = HeldRows(catalog, owners, source, said.columns.kind)
    held = holding.held(read.rows, progress)
    titles = tuple(place for place in range(said.columns.headings_from) if any(rows[place]))
    of_kind = frozenset(one for owners_of in owners.values() for one in holding.of_kind(owners_of))
    return Preview(file, said, held, titles, read.passed_over, owners, of_kind, holding.replaced, read.decimals)
