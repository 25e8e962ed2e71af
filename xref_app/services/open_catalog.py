"""Open the shop's own catalog, or the sample, and the questions that are asked of it."""

from __future__ import annotations

from pathlib import Path

from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.daily_copies import copy_before
from xref_app.services.kept_copies import Kind
from xref_app.services.live_desk import LiveDesk
from xref_app.services.restore import refuse_gone
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.store.engine import open_engine
from xref_app.store.importing import ImportCount, import_catalog
from xref_app.store.place import open_sample_store, own_store_path

OWN_NAME = "Own catalog"


def open_sample() -> LiveDesk:
    """Return a desk over the sample catalog, kept in a store of its own that never touches the shop's.

    Raises:
        XrefError: the sample cannot be read or stored, in one sentence.
    """
    engine = open_sample_store(folder("sample_catalog"), lambda sample: read_data_package(Path(str(sample))))
    return LiveDesk(engine, SAMPLE_NAME)


def open_own(store: Path | None = None) -> LiveDesk:
    """Return a desk over the shop's own catalog, which is made empty where there is none yet; it has no name then.

    Raises:
        XrefError: the store cannot be opened, in one sentence.
    """
    path = store or own_store_path()
    refuse_gone(path)
    return LiveDesk(open_engine(path), OWN_NAME)


def import_folder(package: Path, *, who: str, store: Path | None = None) -> ImportCount:
    """Read the Data Package in ``package`` into the shop's own store: all of it, or nothing; a copy is made first.

    Raises:
        XrefError: the package is damaged or the store cannot be written; nothing has changed then.
    """
    rows = read_data_package(package)
    path = store or own_store_path()
    refuse_gone(path)
    engine = open_engine(path)
    copy_before(engine, Kind.IMPORT)
    return import_catalog(engine, rows, who=who, why=f"read from {package.name}")
