"""What is said of many entries as arrays of a file; a field is read, and its bytes are checked, when it is used."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import all_fields
from xref_app.files.array_file import ArrayFile
from xref_app.files.errors import DamagedArrayError
from xref_app.services.said_table import Numbers, SaidTable
from xref_app.services.sayings import Said

V = TypeVar("V")


def said_arrays(name: str, table: SaidTable) -> dict[str, NDArray[Any]]:
    """Return the arrays of a table, by names that begin with ``name``."""
    found: dict[str, NDArray[Any]] = {}
    for field, column in table.columns.items():
        found[f"{name}/{field}"] = column.astype(np.min_scalar_type(len(table.said[field])))
        sayings = json.dumps(table.said[field], ensure_ascii=True, separators=(",", ":"))
        found[f"{name}/{field}/said"] = np.frombuffer(sayings.encode(), np.uint8)
    return found


def said_in(file: ArrayFile, name: str, count: int) -> SaidTable:
    """Return the table of ``count`` entries kept under ``name``; using a damaged field raises DamagedArrayError."""
    fields = [field for field in all_fields() if f"{name}/{field}" in file]
    return SaidTable(count, _Columns(file, name, fields), _Sayings(file, name, fields))


class _ByField(Mapping[str, V], Generic[V]):
    """Something of each field, made when it is first asked for."""

    def __init__(self, file: ArrayFile, name: str, fields: Sequence[str]) -> None:
        self._file, self._name, self._fields = file, name, dict.fromkeys(fields)
        self._made: dict[str, V] = {}

    def __getitem__(self, field: str) -> V:
        if field not in self._made:
            if field not in self._fields:
                raise KeyError(field)
            self._made[field] = self._make(f"{self._name}/{field}")
        return self._made[field]

    def __iter__(self) -> Iterator[str]:
        return iter(self._fields)

    def __len__(self) -> int:
        return len(self._fields)

    def __contains__(self, field: object) -> bool:
        return field in self._fields

    def _make(self, array: str) -> V:
        raise NotImplementedError


class _Columns(_ByField[Numbers]):
    def _make(self, array: str) -> Numbers:
        return self._file.checked(array)


class _Sayings(_ByField[Sequence[Said]]):
    def _make(self, array: str) -> Sequence[Said]:
        try:
            found = json.loads(self._file.checked(f"{array}/said").tobytes())
            return [tuple(tuple(row) for row in one) for one in found]
        except (ValueError, TypeError) as error:
            raise DamagedArrayError(array) from error
