"""The catalog as a Data Package: a folder with one datapackage.json and one CSV file per table."""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import starmap
from pathlib import Path, PurePosixPath
from typing import Any, Final

from xref_app.core.fields.schema_files import Json
from xref_app.core.fields.table_schemas import TABLES, table_schema
from xref_app.core.model.catalog_rows import ROW_CLASSES, CatalogCells, CatalogRows
from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.exchange.data_package_problems import CatalogFolderError, DamagedCatalogError, Problem, Problems
from xref_app.exchange.data_package_rules import check_rules
from xref_app.exchange.data_package_writing import DESCRIPTOR, write_data_package
from xref_app.exchange.table_schema_rows import ReadTable, read_table

__all__ = [
    "DESCRIPTOR",
    "CatalogFolderError",
    "DamagedCatalogError",
    "Problem",
    "read_data_package",
    "write_data_package",
]

# Packages made before these tables came have no such file.
LATER_TABLES = frozenset({"photos", "reservations", "unit_reservations", "blamed_sizes"})
# House rule: ours takes 40 kilobytes.
MAX_DESCRIPTOR_BYTES = 4 * 1024 * 1024
# How long reading and checking take beside each other, for the progress only.
_WEIGHTS: Final = (4, 1)


def read_data_package(folder: Path) -> CatalogRows:
    """Return every row of the catalog in ``folder``, checked against data_schema.

    Raises:
        CatalogFolderError: there is no such folder, or its datapackage.json cannot be read or names no catalog.
        DamagedCatalogError: files or cells break the rules; it carries every fault, and nothing is returned.
    """
    return as_rows(read_package_cells(folder))


def read_package_cells(folder: Path, progress: Progress = NO_PROGRESS) -> CatalogCells:
    """Return the cells of every row of the catalog in ``folder``, checked as ``read_data_package`` does.

    Raises:
        CatalogFolderError, DamagedCatalogError: as there.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    problems = Problems(str(folder))
    reading, checking = stretches(progress, *_WEIGHTS)
    tables = _read_tables(folder, problems, reading)
    check_rules(tables, problems, checking)
    problems.raise_if_any()
    return {name: table.rows for name, table in tables.items()}


def as_rows(cells: CatalogCells) -> CatalogRows:
    """Return the rows with these cells."""
    # Any: the row classes side by side; each cell was read by its column's own type.
    records: dict[str, Any] = {name: tuple(starmap(ROW_CLASSES[name], cells[name])) for name in TABLES}
    return CatalogRows(**records)


def _read_tables(folder: Path, problems: Problems, progress: Progress) -> Mapping[str, ReadTable]:
    paths = _paths_of_tables(folder)
    try:
        sizes = [paths[name].stat().st_size if name in paths else 0 for name in TABLES]
        told = stretches(progress, *sizes)
        return {name: _read(paths, name, problems, one) for name, one in zip(TABLES, told, strict=True)}
    except OSError as error:
        raise CatalogFolderError(str(folder), f"cannot be read ({error.strerror})", "copy it anew") from error


def _read(paths: Mapping[str, Path], name: str, problems: Problems, progress: Progress) -> ReadTable:
    schema = table_schema(name)
    if name in paths:
        return read_table(paths[name], schema, problems, progress)
    return ReadTable(schema)


def _paths_of_tables(folder: Path) -> Mapping[str, Path]:
    """Return where the file of each table lies, after making sure that it lies inside ``folder``."""
    resources = _resources(folder)
    paths: dict[str, Path] = {}
    for name, path in resources:
        if name not in TABLES:
            raise CatalogFolderError(str(folder), f"names a table “{name}”", f"take one of {', '.join(TABLES)}")
        if name in paths:
            raise CatalogFolderError(str(folder), f"names the table “{name}” twice", f"mend its {DESCRIPTOR}")
        paths[name] = _inside(folder, path)
    missing = [name for name in TABLES if name not in paths and name not in LATER_TABLES]
    if missing:
        found = f"has no table “{missing[0]}” in its {DESCRIPTOR}"
        raise CatalogFolderError(str(folder), found, "copy the folder anew from where it came")
    return paths


def _inside(folder: Path, path: str) -> Path:
    """Return the file that ``path`` names; no way out of the folder, by a link either."""
    pure = PurePosixPath(path)
    if not path or "\\" in path or ":" in path or pure.is_absolute() or ".." in pure.parts:
        found = f"points to “{path}”, which is not a file inside it"
        raise CatalogFolderError(str(folder), found, "give every file by its name alone")
    file = folder / pure
    if not file.is_file():
        raise CatalogFolderError(str(folder), f"lacks the file “{path}”", "copy the folder anew from where it came")
    if not file.resolve().is_relative_to(folder.resolve()):
        found = f"points to “{path}”, which is a link out of it"
        raise CatalogFolderError(str(folder), found, "put the file itself into the folder")
    return file


def _resources(folder: Path) -> list[tuple[str, str]]:
    """Return name and path of each resource of the descriptor."""
    descriptor = _descriptor(folder)
    listed = descriptor.get("resources")
    if not isinstance(listed, list):
        raise CatalogFolderError(str(folder), f"has a {DESCRIPTOR} without resources", "take a catalog folder")
    found: list[tuple[str, str]] = []
    for resource in listed:
        name = resource.get("name") if isinstance(resource, dict) else None
        path = resource.get("path") if isinstance(resource, dict) else None
        if not isinstance(name, str) or not isinstance(path, str):
            raise CatalogFolderError(str(folder), "lists a resource without a name or path", f"mend its {DESCRIPTOR}")
        found.append((name, path))
    return found


def _descriptor(folder: Path) -> Json:
    file = folder / DESCRIPTOR
    if not folder.is_dir():
        raise CatalogFolderError(str(folder), "is not there", "give the folder that holds a datapackage.json")
    if not file.is_file():
        raise CatalogFolderError(
            str(folder), f"holds no {DESCRIPTOR}", "give the folder that a catalog was exported to"
        )
    try:
        if file.stat().st_size > MAX_DESCRIPTOR_BYTES:
            raise CatalogFolderError(str(folder), f"has a {DESCRIPTOR} larger than 4 megabytes", "take another one")
        parsed: object = json.loads(file.read_text(encoding="utf-8"))
    except json.JSONDecodeError as error:
        found = f"has a {DESCRIPTOR} that is not JSON at line {error.lineno}, column {error.colno}"
        raise CatalogFolderError(str(folder), found, "copy the folder anew from where it came") from error
    except (UnicodeDecodeError, RecursionError, OSError) as error:
        found = f"has a {DESCRIPTOR} that cannot be read"
        raise CatalogFolderError(str(folder), found, "copy the folder anew from where it came") from error
    if not isinstance(parsed, dict):
        raise CatalogFolderError(str(folder), f"has a {DESCRIPTOR} that is no JSON object", "take a catalog folder")
    return parsed
