"""A catalog out as the files of a Data Package: texts that no spreadsheet runs, the schemas written out beside them."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from xref_app.core.fields.schema_files import Json, as_list, as_object, schema_file
from xref_app.core.fields.table_schemas import TABLES, TableSchema, table_schema
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.data_package_problems import CatalogFolderError
from xref_app.exchange.spreadsheet_text import GUARD
from xref_app.exchange.table_schema_cells import file_text
from xref_app.files.syncing import sync_file

DESCRIPTOR: Final = "datapackage.json"

# In a row with one of these every cell is quoted: a plain writer leaves a lone carriage return bare, and every reader
# would take it for the end of a row.
_UNSURE: Final = re.compile(f"\r|^{GUARD}")


def write_data_package(rows: CatalogRows, folder: Path, *, name: str = "catalog", title: str = "Catalog") -> None:
    """Write ``rows`` as a Data Package into ``folder``, which is made where it is not there.

    The same rows give the same bytes. Files of an earlier package in the folder are replaced; while that goes on it is
    no package, so that a stick pulled meanwhile never leaves a mixture of two.

    Raises:
        CatalogFolderError: the folder cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / DESCRIPTOR).unlink(missing_ok=True)
        for file_name, content in package_files(rows, name=name, title=title):
            (folder / file_name).write_bytes(content)
            sync_file(folder / file_name)
    except OSError as error:
        advice = "give a folder that you may write to"
        raise CatalogFolderError(str(folder), f"cannot be written ({error.strerror})", advice) from error


def package_files(rows: CatalogRows, *, name: str, title: str) -> Iterator[tuple[str, bytes]]:
    """Yield name and content of each file of the package, the descriptor last: without it a folder is no package."""
    for table in TABLES:
        yield f"{table}.csv", _table_file(table_schema(table), getattr(rows, table))
    text = json.dumps(_descriptor_of(name, title), indent=1, ensure_ascii=False)
    yield DESCRIPTOR, f"{text}\n".encode()


def _table_file(schema: TableSchema, records: tuple[object, ...]) -> bytes:
    names = schema.column_names
    file = io.StringIO(newline="")
    plain = csv.writer(file, lineterminator="\n")
    quoted = csv.writer(file, lineterminator="\n", quoting=csv.QUOTE_ALL)
    plain.writerow(names)
    for record in records:
        cells = [file_text(getattr(record, name)) for name in names]
        writer = quoted if any(map(_UNSURE.search, cells)) else plain
        writer.writerow(cells)
    return file.getvalue().encode()


def _descriptor_of(name: str, title: str) -> Json:
    """Return the descriptor with every schema written out: a path may not lead out of a package."""
    resources = [
        {
            "name": table,
            "type": "table",
            "path": f"{table}.csv",
            "title": table_schema(table).title,
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "schema": _schema_of_files(table),
        }
        for table in TABLES
    ]
    return {"name": name, "title": title, "resources": resources}


def _schema_of_files(table: str) -> Json:
    """Return the schema of ``table`` as its file must meet it: free texts may have our apostrophe before them."""
    schema = schema_file(table)
    columns = [as_object(one) for one in as_list(schema["fields"])]
    return {**schema, "fields": [{**one, "constraints": _loosened(as_object(one["constraints"]))} for one in columns]}


def _loosened(constraints: Json) -> Json:
    loose = dict(constraints)
    if isinstance(most := loose.get("maxLength"), int):
        loose["maxLength"] = most + len(GUARD)
    if (pattern := str(loose.get("pattern", ""))).startswith("\\S"):
        loose["pattern"] = f"{GUARD}?{pattern}"
    return loose
