"""The schema files as they lie in data_schema, read once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources.abc import Traversable

from xref_app.core import resources

# What json.loads may return. An object's or a list's members are looked at before they are used.
Json = Mapping[str, object]


def folder() -> Traversable:
    """Return the folder of all schema files."""
    return resources.folder("data_schema")


@cache
def schema_file(name: str) -> Json:
    """Return the parsed ``<name>.schema.json``.

    Raises:
        FileNotFoundError: the installation lacks it.
        TypeError: it holds something other than one JSON object (a fault of ours).
    """
    parsed: object = json.loads((folder() / f"{name}.schema.json").read_text(encoding="utf-8"))
    return as_object(parsed)


def as_object(value: object) -> Json:
    """Return ``value`` if it is a JSON object, else raise TypeError: our own files are wrong."""
    if not isinstance(value, dict):
        raise TypeError(f"a JSON object was expected, not {value!r}")
    return value


def as_list(value: object) -> list[object]:
    """Return ``value`` if it is a JSON array, else raise TypeError: our own files are wrong."""
    if not isinstance(value, list):
        raise TypeError(f"a JSON array was expected, not {value!r}")
    return value


def as_texts(value: object) -> tuple[str, ...]:
    """Return ``value`` as texts; a bare text stands for one."""
    return (value,) if isinstance(value, str) else tuple(str(one) for one in as_list(value))


def as_number_or_none(value: object) -> float | None:
    """Return ``value`` if it is a number, None if it is absent, else raise TypeError."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(f"a number was expected, not {value!r}")
    return float(value)
