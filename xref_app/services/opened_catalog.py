"""Opening a catalog: a small one is read whole, of a large one the outline is kept in files beside its store.

The files say nothing that the store does not: they may be deleted at any time, and are made anew where they are
missing, damaged, or of a moment too long ago.
"""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.find_pump import Finder, rows_to_find
from xref_app.services.load_catalog import damage_of, load_catalog, refreshed, shop_damage
from xref_app.store.connect import file_of
from xref_app.store.engine import Store
from xref_app.store.entry_rows import EntryReader, EntryRows, Moment
from xref_app.store.errors import StoreError
from xref_app.store.repository import CatalogRepository

if TYPE_CHECKING:
    from collections.abc import Iterator

    from xref_app.services.outline import Outline
    from xref_app.services.stored_entries import StoredEntries

MOST_IN_MEMORY: Final = 5_000
"""Entries of a catalog that is read whole when it is opened, in about a second (house rule)."""

# After so many changed entries the files are made anew (house rule).
_MOST_CHANGED: Final = 2_000


def open_catalog(store: Store, progress: Progress = NO_PROGRESS, *, most_in_memory: int = MOST_IN_MEMORY) -> Finder:
    """Return the finder over what is in ``store`` now, and with it the catalog.

    Raises:
        StoreError: the store cannot be read.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    reader, repository = EntryReader(store), CatalogRepository(store)
    if reader.count() <= most_in_memory:
        return Finder.over(load_catalog(repository))
    from xref_app.services.stored_catalog import stored_catalog  # noqa: PLC0415 - numpy only for large stores

    large = _Large(reader, Beside.of(file_of(store)))
    found = large.kept() or large.read(progress)
    return Finder(stored_catalog(found.entries, repository, found.damage), found.index)


def forget_files(store: Store) -> None:
    """Remove what is kept beside ``store``: it proved damaged, and is made anew when the catalog is opened next."""
    beside = Beside.of(file_of(store))
    if beside is not None:
        for path in (beside.outline, beside.numbers):
            with suppress(OSError):
                path.unlink(missing_ok=True)


def reread(catalog: Catalog, store: Store, entry_ids: Collection[str]) -> Catalog:
    """Return ``catalog`` with these entries, and what is in doubt, as in ``store`` now; the rest of it is shared."""
    repository = CatalogRepository(store)
    if catalog.on_demand is None:
        return refreshed(catalog, repository, entry_ids)
    from xref_app.services.stored_catalog import restored  # noqa: PLC0415 - numpy only for large stores

    fresh = restored(catalog, entry_ids, repository.blamed_sizes())
    return replace(fresh, damaged=fresh.damaged.with_more(shop_damage(repository)))


@dataclass(frozen=True, slots=True)
class Beside:
    """The files kept beside a store."""

    outline: Path
    numbers: Path

    @classmethod
    def of(cls, store: Path | None) -> Beside | None:
        """Return the files of a store that is a file; None where nothing may be written."""
        if store is None:
            return None
        return cls(store.with_name(f"{store.name}.outline"), store.with_name(f"{store.name}.numbers"))


@dataclass(frozen=True, slots=True)
class _Found:
    entries: StoredEntries
    index: NumberIndex
    damage: Damage = Damage()  # noqa: RUF009 - a frozen value


class _Large:
    """A store too large to be read whole whenever it is opened."""

    def __init__(self, reader: EntryReader, beside: Beside | None) -> None:
        self._reader, self._beside = reader, beside

    def kept(self) -> _Found | None:
        """Return what the files hold, with what was changed since; None where they will not do."""
        from xref_app.services.outline import open_outline  # noqa: PLC0415
        from xref_app.services.stored_entries import StoredEntries  # noqa: PLC0415

        opened = open_outline(self._beside.outline) if self._beside else None
        if opened is None or self._beside is None:
            return None
        outline, moment = opened
        index = NumberIndex.opened_sound(self._beside.numbers, str(moment))
        touched = self._touched(moment)
        if index is None or touched is None or len(touched) > _MOST_CHANGED:
            return None
        entries = StoredEntries(self._reader, outline, moment, index)
        if touched:
            entries = entries.after(touched)
            for entry_id, rows in entries.read(touched).items():
                index.tell(entry_id, found_by(rows))
        return _Found(entries, index)

    def _touched(self, moment: Moment) -> frozenset[str] | None:
        """Return the entries changed since ``moment``; None where the history does not tell."""
        try:
            since = self._reader.digests_since(moment)
        except StoreError:
            return None
        return None if since is None else frozenset(since)

    def read(self, progress: Progress) -> _Found:
        """Return what the store holds, every row of it read and compared with its hash; the files are made anew."""
        from xref_app.services.outline import OutlineWriter  # noqa: PLC0415
        from xref_app.services.stored_entries import StoredEntries  # noqa: PLC0415

        writer = OutlineWriter()
        numbers: list[NumberRow] = []
        with self._reader.reading_all() as whole:
            for done, (entry_id, rows) in enumerate(whole.entries()):
                progress.step(done, len(whole.ids))
                writer.add(entry_id, rows)
                numbers += found_by(rows)
            damage = damage_of(whole.damaged, frozenset(whole.ids), vanished=not whole.is_whole())
            moment = whole.moment
        outline, index = writer.outline(), NumberIndex.build(numbers)
        if damage == Damage():
            self._keep(outline, index, moment)
        return _Found(StoredEntries(self._reader, outline, moment, index), index, damage)

    def _keep(self, outline: Outline, index: NumberIndex, moment: Moment) -> None:
        from xref_app.services.outline import write_outline  # noqa: PLC0415

        if self._beside is None:
            return
        # A store on a full or locked disk can still be asked; the files are tried again next time.
        with suppress(OSError):
            write_outline(self._beside.outline, outline, moment)
            index.save(self._beside.numbers, str(moment))


def found_by(rows: EntryRows) -> Iterator[NumberRow]:
    """Yield what an entry is found by."""
    if rows.entry is not None:
        yield from rows_to_find(rows.entry, rows.numbers, rows.machine)
