"""The counter's questions and the bench's work over one store whose catalog changes while the window is open."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import RLock
from typing import TypeVar

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.files.errors import DamagedArrayError
from xref_app.services.answers import Candidates, Found, Job
from xref_app.services.bench import Bench, BenchView, SavedUnit
from xref_app.services.both_versions import Versions, both_versions
from xref_app.services.catalog import Catalog
from xref_app.services.catalog_files import CatalogFiles
from xref_app.services.desk import CatalogDesk
from xref_app.services.find_pump import MOST_HITS
from xref_app.services.fix_or_replace import FixOrReplace
from xref_app.services.health_lines import CatalogHealth
from xref_app.services.jobs import JobBook
from xref_app.services.kept_tables import carry_over
from xref_app.services.load_catalog import restocked
from xref_app.services.opened_catalog import MOST_IN_MEMORY, forget_files, open_catalog, reread
from xref_app.services.pair_up import PairDesk
from xref_app.services.pump_told import Tellings, told_of
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.services.shared_work import SharedWork
from xref_app.services.shelf import ShopShelf
from xref_app.services.size_search import bench_ids
from xref_app.services.store_copies import StoreCopies
from xref_app.services.supplier_desk import SupplierDesk
from xref_app.services.undoing import UndoNames, entries_touched, undo_names
from xref_app.services.unit_draft import UnitDraft, UnitKind
from xref_app.services.what_happened import WhatHappened
from xref_app.sheets.shapes import Drawing
from xref_app.store.edits import RowEdit, Step, redo, save_edits, undo
from xref_app.store.engine import Store
from xref_app.store.entry_rows import EntryReader
from xref_app.store.errors import StoreError
from xref_app.store.repository import CatalogRepository
from xref_app.store.touched import entries_since, newest_serial

Answer = TypeVar("Answer")

_Opened = tuple[CatalogDesk, int]

# House rule: reading so many entries again one by one takes as long as opening a catalog anew.
_MOST_REREAD = 1_000


class LiveDesk:
    """Answers from the catalog of the moment; a save replaces it at once, so each answer is of one moment.

    Every method but ``title`` may be called in any thread: the catalog is a plain value, swapped as a whole.
    """

    def __init__(self, store: Store, name: str, *, most_in_memory: int = MOST_IN_MEMORY) -> None:
        self._store = store
        self._name = name
        self._most_in_memory = most_in_memory
        self._is_empty = not EntryReader(store).has_any()
        self._swapping = RLock()
        self._seen = 0  # the last change of the store that the catalog of the moment is known to have
        self._opened: CatalogDesk | None = None
        self._opening: SharedWork[_Opened] | None = None
        self._bench = Bench(store, lambda: self.catalog)
        self.shelf = ShopShelf(store, self._restock)
        self.fix = FixOrReplace(store, self._restock)
        self.pairs = PairDesk(store, self._restock)
        self.happened = WhatHappened(store, self._restock)
        self.health = CatalogHealth(store, self._restock)
        self.jobs = JobBook(store, lambda: self.catalog)
        self.copies = StoreCopies(store, is_sample=name == SAMPLE_NAME, changed=self._reopen)
        self.suppliers = SupplierDesk(store, lambda: self.catalog, self._taken)
        self.catalog_files = CatalogFiles(store, name, lambda: self.catalog, self.jobs.last, self._taken)

    @property
    def catalog(self) -> Catalog:
        """Return the catalog of the moment."""
        return self._desk().catalog

    def _desk(self, progress: Progress = NO_PROGRESS) -> CatalogDesk:
        """Return the desk over the catalog of the moment; it is opened at the first question, not before the window."""
        while (opened := self._opened) is None:
            opening = self._opening_now()
            found, seen = opening.result(progress)
            with self._swapping:
                if self._opening is opening:
                    self._opened, self._opening, self._seen = found, None, seen
        return opened

    def _opening_now(self) -> SharedWork[_Opened]:
        """Return the opening that is under way, or a new one; somebody who types on does not begin it anew."""
        with self._swapping:
            if self._opening is None or self._opening.has_failed:
                self._opening = SharedWork(self._open, "xref opening")
            return self._opening

    def _open(self, progress: Progress) -> _Opened:
        """Return the catalog, and the last change it surely has: what comes meanwhile is reread."""
        seen = newest_serial(self._store)
        catalog = open_catalog(self._store, progress, most_in_memory=self._most_in_memory)
        return CatalogDesk.over(catalog, self._name), seen

    def open_soon(self) -> None:
        """Begin to open the catalog, so that the first question need not wait for it; returns at once."""
        if self._opened is None:
            self._opening_now()

    def close(self) -> None:
        """Stop what is still being read and let the store go; nothing is asked any more."""
        opening = self._opening
        if opening is not None:
            opening.stop()
        self._store.dispose()

    def _asked(self, progress: Progress, ask: Callable[[CatalogDesk], Answer]) -> Answer:
        """Return the answer to a question; where the files beside the store prove damaged, they are made anew first."""
        try:
            return ask(self._desk(progress))
        except DamagedArrayError:
            self._make_files_anew()
            return ask(self._desk(progress))

    # -- the counter

    def title(self) -> str:
        """Return what the status line calls the catalog; empty while there is nothing in it. Opens nothing."""
        return "" if self._is_empty else self._name

    def find(self, text: str, progress: Progress, *, limit: int = MOST_HITS) -> Found:
        """Return the entries that ``text`` could mean, best first."""
        return self._asked(progress, lambda desk: desk.find(text, progress, limit=limit))

    def open_job(
        self,
        pump_id: str | None,
        machine_id: str | None,
        progress: Progress,
        *,
        guessed_number: bool = False,
        among: tuple[str, ...] = (),
    ) -> Job:
        """Return the job about a pump coming off, a machine, or both."""
        self._catch_up()
        return self._asked(
            progress,
            lambda desk: desk.open_job(pump_id, machine_id, progress, guessed_number=guessed_number, among=among),
        )

    def pick_build(self, job: Job, machine_id: str, progress: Progress, *, sisters: tuple[str, ...] = ()) -> Job:
        """Return ``job`` once the person has said which build is on the bench, or which of several that are alike."""
        self._catch_up()
        return self._asked(progress, lambda desk: desk.pick_build(job, machine_id, progress, sisters=sisters))

    def judge_all(self, job: Job, progress: Progress) -> Candidates:
        """Return every pump of the catalog judged against ``job``, best first."""
        self._catch_up()
        return self._asked(progress, lambda desk: desk.judge_all(job, progress))

    def face(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return both faces, one over the other, at the turn the verdict rests on."""
        return self._asked(progress, lambda desk: desk.face(job, candidate_id, progress))

    def side(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return engine and pump from the side, with the parts the verdict rests on."""
        return self._asked(progress, lambda desk: desk.side(job, candidate_id, progress))

    def plate(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        """Return the adapter plate to make for this pump; None where it needs none."""
        return self._asked(progress, lambda desk: desk.plate(job, candidate_id, progress))

    def spacer(self, job: Job, candidate_id: str, progress: Progress) -> Drawing | None:
        """Return the spacers to make for this pump; None where it needs none made."""
        return self._asked(progress, lambda desk: desk.spacer(job, candidate_id, progress))

    def gauge(self, job: Job, candidate_id: str, progress: Progress) -> Drawing:
        """Return this pump's face to hold against the engine."""
        return self._asked(progress, lambda desk: desk.gauge(job, candidate_id, progress))

    # -- the bench

    def begin(self, kind: UnitKind, *, entry_id: str = "", pump_id: str = "") -> UnitDraft:
        """Return a blank draft: of a new unit, or of more readings of ``entry_id``."""
        return self._bench.begin(kind, entry_id=entry_id, pump_id=pump_id)

    def unfinished(self) -> tuple[UnitDraft, ...]:
        """Return the drafts that were not saved, newest first."""
        return self._bench.unfinished()

    def keep(self, draft: UnitDraft, who: str) -> BenchView:
        """Keep the draft on the disk, then return it held against the catalog."""
        self._bench.keep(draft)
        return self._asked(NO_PROGRESS, lambda _desk: self._bench.view(draft, who))

    def drop(self, draft: UnitDraft) -> None:
        """Forget the draft."""
        self._bench.drop(draft)

    def add_photo(self, draft: UnitDraft, path: Path) -> UnitDraft:
        """Return the draft with a photo read from ``path``, cleaned and kept by its content."""
        return self._bench.add_photo(draft, path)

    def save(
        self, draft: UnitDraft, who: str, *, guessed_entry: bool = False, although_double: bool = False
    ) -> SavedUnit:
        """Save the draft as one change; the catalog of the moment has it on return."""
        saved = self._bench.save(draft, who, guessed_entry=guessed_entry, although_double=although_double)
        self._taken(saved.touched)
        return saved

    # -- what was saved before

    def undo(self, who: str) -> str:
        """Take the last change back, as a new change, and return its name; empty where nothing can be."""
        return self._stepped(undo(self._store, who=who))

    def redo(self, who: str) -> str:
        """Do the change again that was taken back last and return its name; empty where there is none."""
        return self._stepped(redo(self._store, who=who))

    def has_entry(self, entry_id: str) -> bool:
        """Say whether an entry is in the catalog now; a catalog that nobody has asked yet is not opened for it."""
        opened = self._opened
        return opened is None or entry_id in opened.catalog.entries

    def undo_names(self) -> UndoNames:
        """Return what undo and redo would do now, by name."""
        return undo_names(self._store)

    def versions(
        self, job: Job | None, entry_id: str, field: str, candidate_id: str | None, progress: Progress
    ) -> Versions:
        """Return the contradicting versions of one field, each judged."""

        def versions(desk: CatalogDesk) -> Versions:
            catalog = desk.catalog.for_job(job.reference if job else "")
            return both_versions(catalog, job, entry_id, field, candidate_id, progress)

        return self._asked(progress, versions)

    def told_of_pump(self, job: Job, progress: Progress) -> Tellings:
        """Return what the job tells of the ratings of the pump coming off and of its nozzle, by question."""
        return self._asked(progress, lambda desk: told_of(desk.catalog, job))

    def settle(self, versions: Versions, kept: int, who: str, why: str) -> None:
        """Withdraw every version but number ``kept``, with the reason; the losers stay in the record."""
        losers = {one for place, row in enumerate(versions.rows) if place != kept for one in row.observation_ids}
        entries = bench_ids(self.catalog, versions.entry_id)
        rows = [row for entry in entries for row in self.catalog.observations[entry] if row.observation_id in losers]
        edits = [RowEdit("observations", row, None) for row in rows]
        save_edits(self._store, lambda _numbers: edits, name=versions.title, who=who, why=why, save_id=uuid.uuid4().hex)
        self._taken(entries)

    def _stepped(self, step: Step | None) -> str:
        if step is None:
            return ""
        with self._or_later():
            self._refresh(entries_touched(self._store, step))
            self._restock()
        return step.name

    def _restock(self) -> Catalog:
        """Return the catalog of the moment with the shelf as it stands in the store now, whoever changed it."""
        self._desk()  # opened before the lock is taken: others wait for that with their own progress
        with self._swapping:
            desk = self._desk()
            catalog = restocked(desk.catalog, CatalogRepository(self._store))
            if catalog is not desk.catalog:
                self._opened = desk.after(catalog)
        if newest_serial(self._store) != self._seen:
            self._refresh(())
        return self.catalog

    def _catch_up(self) -> None:
        """Reread what another program has changed in the store; where it cannot be read now, go on with what is known.

        Asked before a job is opened or judged: a reading that was corrected at another counter, or withdrawn by a
        catalog file, must not stand behind a verdict.
        """
        with self._or_later():
            if self._opened is not None and newest_serial(self._store) != self._seen:
                self._restock()

    @contextmanager
    def _or_later(self) -> Iterator[None]:
        """Leave what cannot be read now for the next time; files beside the store that prove damaged are made anew."""
        try:
            yield
        except DamagedArrayError:
            self._make_files_anew()
        except StoreError:
            return

    def _make_files_anew(self) -> None:
        with self._swapping:
            forget_files(self._store)
            self._opened = None

    def _taken(self, entry_ids: Collection[str]) -> None:
        """Reread what was written; where it cannot be read now, nobody is told that nothing was done.

        The catalog of the moment then counts as behind, and is reread before the next question (``_catch_up``).
        """
        with self._or_later():
            self._refresh(entry_ids)
            if self._opened is not None:  # one that is being opened anew has everything
                self._restock()

    def _refresh(self, entry_ids: Collection[str]) -> None:
        """Reread these entries, and those that any program has changed since the catalog was read last."""
        self._desk()
        now = newest_serial(self._store)
        # So many that the history of their rows need not be read either; or another store took the place of this one.
        is_all_anew = len(entry_ids) > _MOST_REREAD or now < self._seen
        touched = None if is_all_anew else self._touched(entry_ids)
        if touched is None or len(touched) > _MOST_REREAD:
            self._reopen()
            return
        if not touched:  # shelf and bins only
            self._seen = now
            return
        with self._swapping:
            desk = self._desk()
            catalog = reread(desk.catalog, self._store, touched)
            changed = tuple({*touched, *desk.catalog.doubts, *catalog.doubts})
            carry_over(desk.catalog, catalog, changed)
            self._opened = desk.after(catalog, changed)
            self._is_empty = not len(catalog.entries)
            self._seen = now

    def _touched(self, entry_ids: Collection[str]) -> tuple[str, ...] | None:
        """Return the entries to reread; None where that cannot be told, so that all must be."""
        try:
            since = entries_since(self._store, self._seen)
        except StoreError:
            return None
        return None if since is None else tuple({*entry_ids, *since})

    def _reopen(self) -> None:
        """Have the catalog opened anew: so much changed, or what counted as damaged may be sound again."""
        with self._swapping:
            self._opened, self._opening = None, None
            with suppress(StoreError):  # what was done is done: only the name in the status line waits
                self._is_empty = not EntryReader(self._store).has_any()
        self.open_soon()
