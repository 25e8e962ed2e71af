"""A supplier's catalog from a stick: looked at first, then taken as one act that Ctrl+Z takes back, or not at all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from xref_app.core.model.catalog import OutcomeRow
from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.exchange.catalog_file import CatalogFile, CatalogFileError, catalog_file_bytes, read_catalog_file
from xref_app.exchange.catalog_manifest import ManifestError
from xref_app.exchange.signing_keys import key_id, load_signing_key
from xref_app.exchange.whole_file import write_whole
from xref_app.services.daily_copies import copy_before
from xref_app.services.export_catalog import NotExportedError, gather
from xref_app.services.export_rows import ExportWish, rows_to_share
from xref_app.services.kept_copies import KeptCopy, Kind
from xref_app.services.supplier_keys import known_suppliers
from xref_app.store.catalog_act import (
    CatalogSource,
    LastRead,
    apply_catalog,
    last_read,
    plan_catalog,
    refuse_older,
)
from xref_app.store.catalog_plan import CatalogPlan
from xref_app.store.engine import Store
from xref_app.store.jobs_naming import jobs_naming
from xref_app.store.package import Package, canonical_package
from xref_app.store.repository import CatalogRepository
from xref_app.store.row_changes import RowChange

_DIGEST_DIGITS: Final = 32
# How long reading, hashing and comparing take beside each other, for the progress only.
_SHARES_OF_LOOKING: Final = (4, 3, 2)


@dataclass(frozen=True, slots=True)
class CatalogUpdate:
    """What a file would do, for a person to look at before it is taken.

    ``touched`` are the entries that stand here already and would be changed or withdrawn; ``outcomes`` and ``jobs`` are
    what the shop wrote down about them. ``last`` is the newest file taken of this supplier.
    """

    file: CatalogFile
    package: Package
    plan: CatalogPlan
    added: tuple[str, ...]
    touched: tuple[str, ...]
    withdrawn: tuple[str, ...]
    outcomes: tuple[OutcomeRow, ...]
    jobs: tuple[str, ...]
    last: LastRead | None

    @property
    def is_older(self) -> bool:
        """Say whether a file of a higher number was taken before."""
        return self.last is not None and self.file.manifest.serial < self.last.serial


@dataclass(frozen=True, slots=True)
class Applied:
    """What was taken, and the copy of the catalog as it was before."""

    plan: CatalogPlan
    before: KeptCopy | None


def look_at_catalog(store: Store, path: Path, progress: Progress = NO_PROGRESS) -> CatalogUpdate:
    """Return what the file at ``path`` would do; nothing is changed.

    Raises:
        XrefError: the file is not taken, or the store cannot be read.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    reading, hashing, planning = stretches(progress, *_SHARES_OF_LOOKING)
    file = read_catalog_file(path, known_suppliers(store), reading)
    package = canonical_package(file.cells, hashing)
    plan = plan_catalog(store, package, file.manifest.withdrawn, planning)
    new = set(plan.new_entries)
    touched = tuple(one for one in plan.owners if one not in new)
    outcomes = CatalogRepository(store).outcomes()
    return CatalogUpdate(
        file=file,
        package=package,
        plan=plan,
        added=tuple(sorted(new)),
        touched=touched,
        withdrawn=_ids(plan.withdrawn),
        outcomes=tuple(one for one in outcomes if {one.machine_id, one.pump_id} & set(touched)),
        jobs=jobs_naming(store, touched),
        last=last_read(store, _supplier_id(file)),
    )


def take_catalog(
    store: Store, update: CatalogUpdate, *, who: str, older_too: bool = False, progress: Progress = NO_PROGRESS
) -> Applied:
    """Take the file that was looked at: a copy first, then everything in one act.

    Args:
        store: the shop's own store.
        update: as ``look_at_catalog`` told it; where anything was done to the store since, what it does is reckoned
            anew while nobody else may write.
        who: who takes it.
        older_too: take it though its number does not rise; the history then says so.
        progress: hears how far it is, and may stop it.

    Raises:
        XrefError: in one sentence; nothing was changed.
        WorkCancelledError: ``progress`` says nobody waits any more; nothing was changed.
    """
    copying, acting = stretches(progress, 1, 1)
    file = update.file
    manifest = file.manifest
    source = CatalogSource(_supplier_id(file), manifest.serial, file.digest[:_DIGEST_DIGITS])
    why = f"number {manifest.serial} of {file.supplier.name}, signed with key {manifest.key_id}"
    if older_too and update.last is not None:
        why += f"; taken though number {update.last.serial} was taken before"
    if not older_too:
        refuse_older(store, source)
    before = copy_before(store, Kind.CATALOG, progress=copying)
    plan = apply_catalog(
        store,
        update.package,
        manifest.withdrawn,
        source,
        name=f"{manifest.title} ({file.supplier.name}, {manifest.serial})",
        who=who,
        why=why,
        older_too=older_too,
        planned=update.plan,
        progress=acting,
    )
    return Applied(plan, before)


@dataclass(frozen=True, slots=True)
class MakingWish:
    """A file to be made: its title, its number, the entries that it withdraws."""

    title: str
    serial: int
    withdrawn: tuple[str, ...] = ()


def make_catalog_file(store: Store, path: Path, key_file: Path, wish: MakingWish, *, is_sample: bool = False) -> int:
    """Write the signed file of the catalog in ``store`` and return how many entries are in it.

    What a shop says of entries of its own stays out: other shops have other entries under the same ids.

    Raises:
        XrefError: in one sentence; nothing was written.
    """
    key = load_signing_key(key_file)
    gathered = gather(store, ExportWish(), is_sample=is_sample)
    if gathered.damaged:
        raise NotExportedError("Nothing was signed because rows of the catalog are damaged – put them right first.")
    rows = rows_to_share(gathered.rows, wish.withdrawn)
    try:
        content = catalog_file_bytes(rows, title=wish.title, serial=wish.serial, withdrawn=wish.withdrawn, key=key)
    except ManifestError as error:
        raise CatalogFileError(path, str(error), "mend title, number or what is withdrawn") from error
    write_whole(path, content)
    return len(rows.entries)


def _supplier_id(file: CatalogFile) -> str:
    """Return what the store calls the supplier: the id of the signing key, also where the spare one signed."""
    return key_id(file.supplier.keys[0])


def _ids(changes: Iterable[RowChange]) -> tuple[str, ...]:
    return tuple(str(one.after["entry_id"]) for one in changes)
