"""Where the program's own data folders lie: beside the package in a checkout, inside it in a wheel."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def folder(name: str) -> Traversable:
    """Return the packaged folder ``name`` (``data_schema`` or ``sample_catalog``).

    Raises:
        FileNotFoundError: the installation lacks it.
    """
    inside = files("xref_app") / name
    if inside.is_dir():
        return inside
    beside = Path(str(files("xref_app"))).parent / name
    if beside.is_dir():
        return beside
    raise FileNotFoundError(f"the folder {name} is missing from this installation of xref_app")
