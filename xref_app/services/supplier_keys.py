"""The suppliers whose signed catalog files the shop takes, kept in a small file beside the store."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.exchange.signing_keys import Supplier, load_supplier
from xref_app.exchange.whole_file import write_whole
from xref_app.store.connect import file_of
from xref_app.store.engine import Store
from xref_app.store.place import own_store_path

_FILE: Final = "suppliers.json"
_KEY_BYTES: Final = 32


class SupplierError(XrefError):
    """Keys that are not taken, or that cannot be read."""


def suppliers_file(store: Store) -> Path:
    """Return where the keys lie: beside the store, or in the user's data folder for one on a server."""
    return (file_of(store) or own_store_path()).with_name(_FILE)


def known_suppliers(store: Store) -> tuple[Supplier, ...]:
    """Return the suppliers in the order in which they were added.

    Raises:
        SupplierError: the file is damaged; no catalog file is taken until it is put right.
    """
    file = suppliers_file(store)
    if not file.exists():
        return ()
    try:
        found = json.loads(file.read_text(encoding="utf-8"))
        suppliers = tuple(Supplier(str(one["name"]), tuple(map(bytes.fromhex, one["keys"]))) for one in found)
    except (OSError, ValueError, TypeError, KeyError, RecursionError) as error:
        raise SupplierError(f"“{file}” cannot be read – take it away and add the suppliers' keys anew.") from error
    if any(len(key) != _KEY_BYTES for one in suppliers for key in one.keys):
        raise SupplierError(f"“{file}” holds something other than keys – take it away and add them anew.")
    return suppliers


def trust_supplier(store: Store, file: Path, *, name: str, fingerprint: str) -> Supplier:
    """Add the two keys in ``file`` and return them, if their fingerprint is what the supplier says it is.

    The fingerprint comes another way than the file: over the telephone, from paper. Spaces and capitals do not count.

    Raises:
        XrefError: it is another, the name is taken, or a file cannot be read or written.
    """
    supplier = load_supplier(file, name.strip())
    if _plain(fingerprint) != _plain(supplier.fingerprint):
        raise SupplierError(
            f"The keys in “{file.name}” have the fingerprint {supplier.fingerprint}, which is not the one given – "
            "ask the supplier for it, another way than the file came."
        )
    known = known_suppliers(store)
    if not supplier.name or supplier.name in {one.name for one in known}:
        raise SupplierError(f"“{supplier.name}” is no new name of a supplier – give another.")
    if any(set(one.keys) & set(supplier.keys) for one in known):
        raise SupplierError(f"A key in “{file.name}” is one that the shop has already – nothing was added.")
    told = [{"name": one.name, "keys": [key.hex() for key in one.keys]} for one in (*known, supplier)]
    write_whole(suppliers_file(store), json.dumps(told, indent=1, ensure_ascii=False).encode())
    return supplier


def _plain(fingerprint: str) -> str:
    return "".join(fingerprint.split()).lower()
