"""The catalog out of the shop: as a folder of CSV files that anybody can check, or as a workbook for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from xref_app.core.errors import XrefError
from xref_app.core.fields.table_schemas import TABLES
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.resources import folder as packaged
from xref_app.exchange.data_package import DESCRIPTOR, read_data_package, write_data_package
from xref_app.exchange.whole_file import write_whole
from xref_app.services.export_rows import ExportWish, rows_to_export, without_entries
from xref_app.store.engine import Store
from xref_app.store.repository import CatalogRepository

SAMPLE_TITLE = "SAMPLE: everything in it is made up"
OWN_TITLE = "Catalog of a shop"


class NotExportedError(XrefError):
    """Nothing was written."""


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written: the rows of each table; ``damaged`` rows and entries of the sample were left out."""

    path: Path
    rows: dict[str, int]
    damaged: int
    of_sample: int


@dataclass(frozen=True, slots=True)
class Gathered:
    """The rows that are to leave, and what was left out of them on the way."""

    rows: CatalogRows
    damaged: int
    of_sample: int


def gather(store: Store, wish: ExportWish, *, is_sample: bool = False) -> Gathered:
    """Return what of ``store`` leaves by ``wish``. Of the made-up sample nothing goes with the shop's own data.

    Raises:
        NotExportedError: an entry asked for is not there, or there is nothing at all.
        StoreError: the store cannot be read.
    """
    repository = CatalogRepository(store)
    everything = repository.everything()
    _refuse_strangers(everything, wish.entry_ids or ())
    rows = everything if is_sample else without_entries(everything, _sample_rows().entries)
    of_sample = len(everything.entries) - len(rows.entries)
    rows = rows_to_export(rows, wish)
    if not rows.entries:
        raise NotExportedError("Nothing was exported because no entry of the shop's own is left – look them up again.")
    return Gathered(rows, len(repository.damaged()), of_sample)


def export_folder(store: Store, folder: Path, wish: ExportWish, *, is_sample: bool = False) -> Exported:
    """Write a Data Package into ``folder``, which may hold an earlier one and nothing else.

    Raises:
        XrefError: in one sentence.
    """
    if folder.is_dir() and any(folder.iterdir()) and not (folder / DESCRIPTOR).exists():
        raise NotExportedError(f"“{folder}” holds other files, so nothing was exported – give a new or empty folder.")
    gathered = gather(store, wish, is_sample=is_sample)
    name = "sample-catalog" if is_sample else "catalog"
    write_data_package(gathered.rows, folder, name=name, title=_title(is_sample=is_sample))
    return _exported(folder, gathered)


def export_workbook(store: Store, file: Path, wish: ExportWish, *, is_sample: bool = False) -> Exported:
    """Write a workbook to ``file``: whole, or not at all.

    Raises:
        XrefError: in one sentence.
    """
    from xref_app.exchange.workbook_file import WorkbookTooLargeError, workbook_bytes  # noqa: PLC0415 - seldom needed

    gathered = gather(store, wish, is_sample=is_sample)
    try:
        content = workbook_bytes(gathered.rows, title=_title(is_sample=is_sample))
    except WorkbookTooLargeError as error:
        raise NotExportedError(f"No workbook was made because {error} – export a folder of CSV files.") from error
    write_whole(file, content)
    return _exported(file, gathered)


def _exported(path: Path, gathered: Gathered) -> Exported:
    counts = {name: len(getattr(gathered.rows, name)) for name in TABLES}
    return Exported(path, {name: rows for name, rows in counts.items() if rows}, gathered.damaged, gathered.of_sample)


def _title(*, is_sample: bool) -> str:
    return SAMPLE_TITLE if is_sample else OWN_TITLE


def _sample_rows() -> CatalogRows:
    return read_data_package(Path(str(packaged("sample_catalog"))))


def _refuse_strangers(everything: CatalogRows, entry_ids: Iterable[str]) -> None:
    there = {one.entry_id for one in everything.entries}
    for entry_id in sorted(entry_ids):
        if entry_id not in there:
            raise NotExportedError(
                f"Nothing was exported because there is no entry “{entry_id}” – look it up with find."
            )
