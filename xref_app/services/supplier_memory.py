"""What the columns of a supplier's lists were said to be, and the lists as a whole, kept in a file beside the store.

It decides nothing: what is remembered is proposed, and only where the headings are the same word for word. So it needs
no table, no migration and no undo; where the file is lost or cannot be read, columns are guessed as on the first day.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Final

from xref_app.exchange.whole_file import NotWrittenError, write_whole
from xref_app.services.supplier_columns import Column, ColumnMap, SheetKind, targets_of, units_of
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_heading_row import Rows, map_at

_FORMAT: Final = 1
# House rules: so many suppliers with so many lists each; the one not used for the longest time is forgotten.
_MOST_LISTS: Final = 200
_MOST_BYTES: Final = 4 * 1024 * 1024


class SupplierMemory:
    """Remembers column maps by supplier; ``path`` is None where nothing can be kept beside the store."""

    def __init__(self, path: Path | None) -> None:
        self._path = path

    def suppliers(self) -> tuple[str, ...]:
        """Return the names of the suppliers known, each once, last used first."""
        return tuple(dict.fromkeys(str(one["supplier"]) for one in reversed(self._lists())))

    def remembered(self, supplier: str, rows: Rows, guessed: ColumnMap) -> ColumnMap | None:
        """Return what was said of a list with the same headings, or None.

        They are those of ``guessed``, or where a person said where they stand, what stands there in ``rows``.
        """
        for kept in reversed(self._lists()):
            if _name(kept.get("supplier")) == _name(supplier):
                with suppress(ValueError, TypeError, LookupError):
                    there = _headed(kept, rows, guessed)
                    if kept.get("headings") == [one.heading for one in there.columns]:
                        return _map(kept, there)
        return None

    def remember(self, supplier: str, columns: ColumnMap) -> None:
        """Keep what was said; a disk that does not take it is no reason to stop anybody."""
        if self._path is None:
            return
        headings = [one.heading for one in columns.columns]
        lists = [
            one
            for one in self._lists()
            if (_name(one.get("supplier")), one.get("headings")) != (_name(supplier), headings)
        ]
        said = [[one.target, one.unit] for one in columns.columns]
        kept = {"supplier": supplier, "kind": columns.kind.value, "headings": headings, "columns": said}
        lists.append({**kept, **_of_whole(columns)})
        text = json.dumps({"format": _FORMAT, "lists": lists[-_MOST_LISTS:]}, ensure_ascii=False, indent=1)
        with suppress(NotWrittenError):
            write_whole(self._path, text.encode())

    def _lists(self) -> list[Mapping[str, object]]:
        if self._path is None:
            return []
        with suppress(OSError, ValueError, TypeError, KeyError, RecursionError):
            if self._path.stat().st_size <= _MOST_BYTES:
                kept = json.loads(self._path.read_text(encoding="utf-8"))
                if kept["format"] == _FORMAT:
                    return [one for one in kept["lists"] if isinstance(one, dict) and "supplier" in one]
        return []


def _name(text: object) -> str:
    return " ".join(str(text).casefold().split())


def _of_whole(columns: ColumnMap) -> Mapping[str, object]:
    """Return what a person said of the list as a whole; nothing where all is as it seems."""
    rows = {"heading_rows": [columns.headings_from, columns.rows_from]} if columns.is_said else {}
    return {**rows, **({"decimals": columns.decimals.value} if columns.decimals else {})}


def _headed(kept: Mapping[str, object], rows: Rows, guessed: ColumnMap) -> ColumnMap:
    """Return the columns with the headings where they were said to stand; as guessed where nobody said.

    Raises:
        ValueError: there are no such rows, or it was said that there are no headings, and here there seem to be some.
    """
    if "heading_rows" not in kept:
        return guessed
    said = kept["heading_rows"]
    if not isinstance(said, list) or not all(type(one) is int for one in said):
        raise ValueError("no rows")
    first, end = said
    if not 0 <= first <= end <= len(rows):
        raise ValueError("other rows")
    if first == end and any(one.target for one in guessed.columns):
        raise ValueError("headings")
    return replace(map_at(rows, guessed.kind, headings_from=first, rows_from=end), is_said=True)


def _map(kept: Mapping[str, object], guessed: ColumnMap) -> ColumnMap:
    """Return the map that was kept, for the rows where the headings stand now.

    Raises:
        ValueError: it names what no list tells any more.
    """
    kind = SheetKind(str(kept["kind"]))
    said = kept["columns"]
    if not isinstance(said, list) or len(said) != len(guessed.columns):
        raise ValueError("other columns")
    columns = tuple(
        _column(one, str(target), str(unit), kind) for one, (target, unit) in zip(guessed.columns, said, strict=True)
    )
    targets = [one.target for one in columns if one.target]
    if len(targets) != len(set(targets)):
        raise ValueError("two columns of one field")
    decimals = Decimals(str(kept.get("decimals", "")))
    return replace(guessed, kind=kind, columns=columns, decimals=decimals)


def _column(column: Column, target: str, unit: str, kind: SheetKind) -> Column:
    if target and target not in targets_of(kind):
        raise ValueError(target)
    if unit and unit not in {one.symbol for one in units_of(target)}:
        raise ValueError(unit)
    return Column(column.place, column.heading, target, unit)
