"""A supplier's signed file is read from a stick and taken, or not; a supplier is trusted; the catalog is taken out."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from xref_app.core.errors import XrefError
from xref_app.core.progress import Progress, stretches
from xref_app.services.catalog import Catalog
from xref_app.services.jobs import LastJobs
from xref_app.services.sample_name import is_sample
from xref_app.store.catalog_act import OlderCatalogError, last_reads
from xref_app.store.connect import file_of
from xref_app.store.engine import Store
from xref_app.store.history import last_serial

if TYPE_CHECKING:  # named only: signatures are loaded when somebody reads a file
    from xref_app.services.catalog_file_lines import FileLine
    from xref_app.services.catalog_update import CatalogUpdate
    from xref_app.services.export_catalog import Exported
    from xref_app.services.export_rows import ExportWish
    from xref_app.store.catalog_plan import CatalogPlan

# How long the look itself and its lines take beside each other, for the progress only.
_SHARES = (6, 1)
IS_SAMPLE = (
    "The sample takes no catalog files – start the program without --sample, and read the file into your own catalog."
)


class CatalogFilesError(XrefError):
    """A file of a supplier that is not taken for want of something the person can say."""


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A good file, and what it would do. ``too_old`` says in one sentence why it is refused, empty where it is not.

    ``is_known`` says that this very file was taken before and would change nothing now; ``is_copied_first`` that
    there is something to copy before it is taken.
    """

    update: CatalogUpdate
    lines: tuple[FileLine, ...]
    too_old: str = ""
    is_known: bool = False
    is_copied_first: bool = True

    @property
    def supplier(self) -> str:
        """Return who signed it."""
        return self.update.file.supplier.name

    @property
    def fingerprint(self) -> str:
        """Return the fingerprint of the supplier's keys, in groups of four."""
        return self.update.file.supplier.fingerprint

    @property
    def title(self) -> str:
        """Return what the file calls itself."""
        return self.update.file.manifest.title

    @property
    def number(self) -> int:
        """Return its number."""
        return self.update.file.manifest.serial

    @property
    def last_number(self) -> int | None:
        """Return the highest number taken of this supplier, None before the first."""
        return None if self.update.last is None else self.update.last.serial

    @property
    def can_be_undone(self) -> bool:
        """Say whether Ctrl+Z takes it back; else the copy made before it is the way back."""
        return self.update.plan.can_be_undone

    @property
    def changes_nothing(self) -> bool:
        """Say whether all of it stands there already."""
        return not self.update.plan.rows

    @property
    def same(self) -> int:
        """Return how many rows stand there already."""
        return self.update.plan.same

    @property
    def left_out(self) -> int:
        """Return how many rows are not the supplier's to say."""
        return self.update.plan.left_out


@dataclass(frozen=True, slots=True)
class Refused:
    """A file that is not taken, and why in one sentence.

    ``is_strange``: nobody known signed it, so it may be that only the keys are missing; ``known`` are the suppliers
    whose keys the shop has.
    """

    sentence: str
    is_strange: bool = False
    known: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TakenFile:
    """What was taken, and the name of the copy made before it, empty where there was nothing to copy.

    ``plan`` is what was done: another than the one that was looked at where the catalog was changed meanwhile.
    """

    looked: LookedAt
    copy_name: str
    plan: CatalogPlan

    @property
    def is_as_shown(self) -> bool:
        """Say whether that was done which was shown."""
        return self.plan is self.looked.update.plan

    @property
    def can_be_undone(self) -> bool:
        """Say whether there is something that Ctrl+Z takes back."""
        return bool(self.plan.rows) and self.plan.can_be_undone


@dataclass(frozen=True, slots=True)
class InUse:
    """The newest file taken of one supplier."""

    supplier: str
    number: int


class CatalogFiles:
    """Catalog files in and out of one store; every method but ``refusal`` may be called in any thread."""

    def __init__(
        self,
        store: Store,
        name: str,
        catalog: Callable[[], Catalog],
        jobs: Callable[[], LastJobs],
        changed: Callable[[Collection[str]], object],
    ) -> None:
        """Make it.

        Args:
            store: Where a file is taken.
            name: What the catalog is called: the sample takes no files.
            catalog: Gives the catalog of the moment.
            jobs: Reads the jobs of the shop.
            changed: Told the entries that were touched; the catalog of the moment has them afterwards.
        """
        self._store, self._name = store, name
        self._catalog, self._jobs, self._changed = catalog, jobs, changed

    def refusal(self) -> str:
        """Return in one sentence why this catalog takes no files at all; empty where it does. Reads nothing."""
        return IS_SAMPLE if is_sample(self._name) else ""

    def look(self, path: Path, progress: Progress) -> LookedAt | Refused:
        """Return what the file at ``path`` would do, or why it is refused; nothing is changed.

        Raises:
            XrefError: the store or the suppliers' keys cannot be read.
            WorkCancelledError: nobody waits any more.
        """
        from xref_app.exchange.catalog_file import CatalogFileError, UnknownSignerError  # noqa: PLC0415 - as above
        from xref_app.services.catalog_file_lines import file_lines  # noqa: PLC0415
        from xref_app.services.catalog_update import look_at_catalog  # noqa: PLC0415

        self._refuse_sample()
        reading, telling = stretches(progress, *_SHARES)
        try:
            update = look_at_catalog(self._store, path, reading)
        except CatalogFileError as error:
            return Refused(str(error), isinstance(error, UnknownSignerError), self._known())
        lines = file_lines(update, self._jobs(), self._catalog(), telling)
        is_known = not update.plan.rows and _is_last(update)
        has_copy = file_of(self._store) is not None and last_serial(self._store) > 0
        return LookedAt(update, lines, _too_old(update), is_known, has_copy)

    def take(self, looked: LookedAt, who: str, progress: Progress, *, older_too: bool = False) -> TakenFile:
        """Take the file that was looked at: a copy first, then all of it in one act.

        Raises:
            XrefError: in one sentence; nothing was changed.
            WorkCancelledError: nobody waits any more; nothing was changed.
        """
        from xref_app.services.catalog_update import take_catalog  # noqa: PLC0415 - as above

        self._refuse_sample()
        if not who.strip():
            raise CatalogFilesError("Say who takes the file; nothing was changed.")
        update = looked.update
        applied = take_catalog(self._store, update, who=who.strip(), older_too=older_too, progress=progress)
        self._changed((*looked.update.added, *looked.update.touched))
        return TakenFile(looked, applied.before.path.name if applied.before else "", applied.plan)

    def fingerprint_of(self, keys: Path) -> str:
        """Return the fingerprint of the two keys in a file, in groups of four.

        Raises:
            XrefError: it holds no keys of a supplier.
        """
        from xref_app.exchange.signing_keys import load_supplier  # noqa: PLC0415 - as above

        self._refuse_sample()
        return load_supplier(keys, "").fingerprint

    def trust(self, keys: Path, name: str, fingerprint: str) -> str:
        """Take the keys in a file for those of the supplier ``name``, and return the name.

        Raises:
            XrefError: the fingerprint is another, the name is none, or a file cannot be read or written.
        """
        from xref_app.services.supplier_keys import trust_supplier  # noqa: PLC0415 - as above

        self._refuse_sample()
        if not name.strip():
            raise CatalogFilesError("No supplier was added because it has no name – say who it is.")
        if not fingerprint.strip():
            raise CatalogFilesError(
                "No supplier was added because no fingerprint was typed – ask the supplier for it and type it."
            )
        return trust_supplier(self._store, keys, name=name, fingerprint=fingerprint).name

    def in_use(self) -> tuple[InUse, ...]:
        """Return the newest file taken of each supplier; a supplier whose keys are gone is not told.

        Raises:
            XrefError: the store cannot be read, or the suppliers' keys.
        """
        last = {} if is_sample(self._name) else last_reads(self._store)
        if not last:
            return ()
        from xref_app.exchange.signing_keys import key_id  # noqa: PLC0415 - as above
        from xref_app.services.supplier_keys import known_suppliers  # noqa: PLC0415

        known = ((one.name, key_id(one.keys[0])) for one in known_suppliers(self._store))
        return tuple(InUse(name, last[key].serial) for name, key in known if key in last)

    def export_folder(self, folder: Path, wish: ExportWish, progress: Progress) -> Exported:
        """Write what is wished for as a folder of CSV files.

        Raises:
            XrefError: in one sentence.
        """
        from xref_app.services.export_catalog import export_folder  # noqa: PLC0415 - as above

        progress.step(0, 0)
        return export_folder(self._store, folder, wish, is_sample=is_sample(self._name))

    def export_workbook(self, file: Path, wish: ExportWish, progress: Progress) -> Exported:
        """Write what is wished for as a workbook.

        Raises:
            XrefError: in one sentence; nothing was written.
        """
        from xref_app.services.export_catalog import export_workbook  # noqa: PLC0415 - as above

        progress.step(0, 0)
        return export_workbook(self._store, file, wish, is_sample=is_sample(self._name))

    def _known(self) -> tuple[str, ...]:
        from xref_app.services.supplier_keys import known_suppliers  # noqa: PLC0415 - as above

        return tuple(one.name for one in known_suppliers(self._store))

    def _refuse_sample(self) -> None:
        if sentence := self.refusal():
            raise CatalogFilesError(sentence)


def _is_last(update: CatalogUpdate) -> bool:
    """Say whether this very file is the newest that was taken."""
    last, file = update.last, update.file
    return last is not None and last.serial == file.manifest.serial and file.digest.startswith(last.digest)


def _too_old(update: CatalogUpdate) -> str:
    last, serial = update.last, update.file.manifest.serial
    if last is None or serial > last.serial or _is_last(update):
        return ""
    return str(OlderCatalogError(serial=serial, last=last))
