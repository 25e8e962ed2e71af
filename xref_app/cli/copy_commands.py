"""The commands about copies and what to do when something is wrong: copy, copies, restore, mend, help-bundle."""

from __future__ import annotations

import getpass
from argparse import Namespace
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import asdict

from xref_app.cli.faults import UsageError
from xref_app.core.errors import XrefError
from xref_app.services.copies_told import CopyLine, copy_lines
from xref_app.services.help_bundle import BundlePlaces, bundle_parts, write_bundle
from xref_app.services.mending import Mending, mend, offered_mending
from xref_app.services.own_store import Store, copy_to, last_act, open_own_store, own_store_path
from xref_app.services.restore import CannotRestoreError, Way, restore, what_would_change


def copy(options: Namespace) -> object:
    """Make a copy under a name of the person's own, reopened and checked."""
    report = copy_to(_store(options), options.file.absolute())
    return {"copy": str(report.path), "rows": report.rows, "last_act": report.serial, "whole": report.health.is_whole}


def copies(options: Namespace) -> object:
    """List the copies there are, the newest by the history first."""
    _refuse_sample(options)
    serial = None
    with suppress(XrefError):
        serial = last_act(_store(options))
    return [_line(one) for one in copy_lines(own_store_path(), serial=serial)]


def put_back(options: Namespace) -> object:
    """Say what putting a copy back would do, or do it with ``--yes``."""
    way = Way.MISSING if options.only_missing else Way.ALL
    _refuse_sample(options)
    path = own_store_path()
    if not options.yes:
        return _would(options, way)
    done = restore(path, options.file.absolute(), way, who=getpass.getuser())
    return {
        "restored": str(options.file),
        "changed": asdict(done.change) if done.change else "the whole file",
        "state_of_before": str(done.before) if done.before else None,
    }


def _would(options: Namespace, way: Way) -> object:
    try:
        store = _store(options)
    except XrefError as error:
        return {"would_replace_the_whole_file_because": str(error), "do_it_with": "--yes"}
    return {"would_change": asdict(what_would_change(store, options.file.absolute(), way)), "do_it_with": "--yes"}


def put_right(options: Namespace) -> object:
    """Say which damaged or lost rows the newest good copy has, or put them back with ``--yes``."""
    store = _store(options)
    offered = offered_mending(store)
    if offered is None:
        raise CannotRestoreError("No row is damaged that a good copy could put right – see copies.")
    done = mend(store, offered, who=getpass.getuser()) if options.yes else offered
    return _mending(done) | ({} if options.yes else {"do_it_with": "--yes"})


def help_bundle(options: Namespace) -> object:
    """List what the bundle holds and, unless only the list is wanted, write it."""
    parts = bundle_parts(lambda: _store(options), BundlePlaces.usual(), with_names=options.with_names)
    if not options.list:
        write_bundle(options.file.absolute(), parts)
    return {
        "written": None if options.list else str(options.file),
        "contents": {one.name: one.about for one in parts},
    }


def _line(one: CopyLine) -> object:
    return {
        "copy": str(one.path),
        "made_before_or_as": one.why,
        "good": one.good,
        "last_act": one.holds.serial if one.holds else None,
        "last_act_at": one.holds.at if one.holds else None,
        "acts_behind": one.behind,
        "entries": one.holds.entries if one.holds else None,
        "format": one.holds.format if one.holds else None,
    }


def _mending(found: Mending) -> dict[str, object]:
    return {
        "copy": str(found.copy),
        "same_as_before": list(found.same),
        "older_look_at_them": list(found.older),
        "left_damaged": found.left,
    }


def _store(options: Namespace) -> Store:
    _refuse_sample(options)
    return open_own_store()


def _refuse_sample(options: Namespace) -> None:
    if options.sample:
        raise UsageError("The sample needs no copies, it can be made anew – leave out --sample.")


COMMANDS: Mapping[str, Callable[[Namespace], object]] = {
    "copy": copy,
    "copies": copies,
    "restore": put_back,
    "mend": put_right,
    "help-bundle": help_bundle,
}
