"""Catalog files as a supplier would send them: really signed, made of the sample, each edition a little other."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from xref_app.core.model.catalog import Entry, Number, Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.resources import folder
from xref_app.exchange.catalog_file import catalog_file_bytes
from xref_app.exchange.data_package import read_data_package
from xref_app.exchange.signing_keys import load_signing_key, load_supplier, new_key_files
from xref_app.services.export_rows import rows_to_share
from xref_app.services.supplier_keys import trust_supplier
from xref_app.store.engine import Store

SUPPLIER = "Harnwick Parts"
# In the sample P-002 fits FL-54C3 with parts; its bore is read once more here, and then it does not.
CHANGED_PUMP, GONE_PUMP, NEW_PUMP = "P-002", "P-004", "P-900"
_BORE, _OTHER_BORE_MM = "bore_diameter_mm", 28.0


@cache
def key_folder() -> Path:
    """Return a folder with the keys of the supplier: signing.key and public.pem."""
    made = Path(mkdtemp(prefix="xref-keys-"))
    new_key_files(made)
    return made


@cache
def strange_key_folder() -> Path:
    """Return a folder with the keys of somebody else."""
    made = Path(mkdtemp(prefix="xref-keys-"))
    new_key_files(made)
    return made


def trust(store: Store) -> None:
    """Add the supplier's keys to the shop."""
    keys = key_folder() / "public.pem"
    trust_supplier(store, keys, name=SUPPLIER, fingerprint=load_supplier(keys, "").fingerprint)


def sample_rows() -> CatalogRows:
    """Return the rows of the sample that a supplier can send."""
    return rows_to_share(read_data_package(Path(str(folder("sample_catalog")))))


def next_edition() -> CatalogRows:
    """Return the sample with one bore changed, one pump gone and one new."""
    rows = rows_to_share(sample_rows(), (GONE_PUMP,))
    observations = tuple(
        replace(one, as_typed="28.0 mm", value=_OTHER_BORE_MM)
        if (one.entry_id, one.field) == (CHANGED_PUMP, _BORE)
        else one
        for one in rows.observations
    )
    number = max(one.observation_id for one in observations) + 1
    bore = Observation(number, NEW_PUMP, _BORE, "22.23 mm", 22.23, "", 0.02, "sheet")
    return replace(
        rows,
        entries=(*rows.entries, Entry(NEW_PUMP, "pump", "Pellawin", "Pump vertical 7/8 in")),
        numbers=(*rows.numbers, Number(NEW_PUMP, "PL77C02", "maker", "sheet")),
        observations=(*observations, bore),
    )


def write_file(
    place: Path,
    rows: CatalogRows,
    serial: int,
    *,
    withdrawn: tuple[str, ...] = (),
    title: str = "Spring list",
    keys: Path | None = None,
) -> Path:
    """Write a signed file of ``rows`` into ``place`` and return where it is."""
    key = load_signing_key((keys or key_folder()) / "signing.key")
    path = place / f"list-{serial}.xrefcat"
    path.write_bytes(catalog_file_bytes(rows, title=title, serial=serial, withdrawn=withdrawn, key=key))
    return path


def write_update(place: Path, serial: int = 42) -> Path:
    """Write the file of the next edition."""
    return write_file(place, next_edition(), serial, withdrawn=(GONE_PUMP,))
