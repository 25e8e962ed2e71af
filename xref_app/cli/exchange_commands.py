"""The commands that bring a catalog out of the shop and into it: export, catalog-file."""

from __future__ import annotations

import getpass
from argparse import Namespace
from collections.abc import Callable, Mapping

from xref_app.cli.faults import UsageError
from xref_app.exchange.signing_keys import load_supplier, new_key_files
from xref_app.services.catalog_update import (
    CatalogUpdate,
    MakingWish,
    look_at_catalog,
    make_catalog_file,
    take_catalog,
)
from xref_app.services.export_catalog import export_folder, export_workbook
from xref_app.services.export_rows import ExportWish
from xref_app.services.own_store import Store, open_own_store, open_sample
from xref_app.services.supplier_keys import trust_supplier


def export(options: Namespace) -> object:
    """Write the catalog, or some entries of it, into a folder or a workbook; return what was written."""
    wish = ExportWish(frozenset(options.entries) if options.entries else None, with_shop=options.with_shop)
    write = export_workbook if options.xlsx else export_folder
    told = write(_asked_store(options), options.folder, wish, is_sample=options.sample)
    return {
        "written": str(told.path),
        "rows": told.rows,
        "left_out": {"damaged_rows": told.damaged, "sample_entries": told.of_sample},
    }


def catalog_file(options: Namespace) -> object:
    """Carry out one of the acts with signed catalog files."""
    return _ACTS[options.act](options)


def _new_keys(options: Namespace) -> object:
    signing, spare, public = new_key_files(options.file)
    return {
        "signs": str(signing),
        "spare_to_lock_away_elsewhere": str(spare),
        "for_the_shops": str(public),
        "fingerprint": load_supplier(public, "").fingerprint,
    }


def _trust(options: Namespace) -> object:
    if not options.fingerprint or not options.name:
        fingerprint = load_supplier(options.file, "").fingerprint
        raise UsageError(
            f"The keys have the fingerprint {fingerprint} – ask the supplier whether that is right, then give it with "
            "--fingerprint, and a --name."
        )
    supplier = trust_supplier(_own_store(options), options.file, name=options.name, fingerprint=options.fingerprint)
    return {"supplier": supplier.name, "fingerprint": supplier.fingerprint}


def _make(options: Namespace) -> object:
    if options.key is None or options.number is None:
        raise UsageError("catalog-file make: no key or no number – give --key KEYFILE and --number N.")
    wish = MakingWish(options.title, options.number, tuple(options.withdraw or ()))
    entries = make_catalog_file(_asked_store(options), options.file, options.key, wish, is_sample=options.sample)
    return {"written": str(options.file), "entries": entries, "number": options.number}


def _show(options: Namespace) -> object:
    return _told(look_at_catalog(_own_store(options), options.file))


def _apply(options: Namespace) -> object:
    store = _own_store(options)
    update = look_at_catalog(store, options.file)
    applied = take_catalog(store, update, who=getpass.getuser(), older_too=options.older_too)
    return {"applied": _told(update), "copy_before": str(applied.before.path) if applied.before else None}


def _own_store(options: Namespace) -> Store:
    if options.sample:
        raise UsageError("The sample takes no catalog files – leave out --sample.")
    return open_own_store(make_it=True)


def _asked_store(options: Namespace) -> Store:
    return open_sample() if options.sample else open_own_store()


def _told(update: CatalogUpdate) -> object:
    manifest, plan = update.file.manifest, update.plan
    return {
        "supplier": update.file.supplier.name,
        "title": manifest.title,
        "number": manifest.serial,
        "last_number_taken": update.last.serial if update.last else None,
        "rows": {
            "added": len(plan.added),
            "changed": len(plan.changed),
            "withdrawn": len(plan.withdrawn),
            "same": plan.same,
            "not_the_suppliers_to_say": plan.left_out,
        },
        "entries_added": list(update.added),
        "entries_touched": list(update.touched),
        "entries_withdrawn": list(update.withdrawn),
        "outcomes_touched": [one.outcome_id for one in update.outcomes],
        "jobs_touched": list(update.jobs),
    }


_ACTS: Mapping[str, Callable[[Namespace], object]] = {
    "new-keys": _new_keys,
    "trust": _trust,
    "make": _make,
    "show": _show,
    "apply": _apply,
}
COMMANDS: Mapping[str, Callable[[Namespace], object]] = {"export": export, "catalog-file": catalog_file}
