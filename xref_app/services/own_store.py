"""The store a command is about, opened: the shop's own, or the sample's."""

from __future__ import annotations

from pathlib import Path

from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.restore import refuse_gone
from xref_app.store.copies import CopyReport, make_copy
from xref_app.store.engine import Store, open_engine
from xref_app.store.history import last_serial
from xref_app.store.place import open_sample_store, own_store_path

__all__ = ["Store", "copy_to", "last_act", "open_own_store", "open_sample", "own_store_path"]


def open_own_store(*, make_it: bool = False) -> Store:
    """Return the shop's own store; with ``make_it`` an empty one is made where there is none.

    Raises:
        XrefError: there is none, or it cannot be opened.
    """
    path = own_store_path()
    if make_it:
        refuse_gone(path)
    return open_engine(path, create=make_it)


def open_sample() -> Store:
    """Return the sample's store.

    Raises:
        XrefError: it cannot be read or made.
    """
    return open_sample_store(folder("sample_catalog"), lambda sample: read_data_package(Path(str(sample))))


def last_act(store: Store) -> int:
    """Return the serial of the last act in ``store``."""
    return last_serial(store)


def copy_to(store: Store, file: Path) -> CopyReport:
    """Make a copy under a name of the person's own, reopened and checked.

    Raises:
        CopyFailedError: the name is taken, or the copy cannot be made.
    """
    return make_copy(store, file)
