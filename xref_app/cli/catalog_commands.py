"""The commands about the catalog as a whole: find, shelf, health, import."""

from __future__ import annotations

import getpass
from argparse import Namespace
from collections.abc import Callable, Mapping
from dataclasses import asdict

from xref_app.cli.asked_catalog import asked_catalog, asked_desk
from xref_app.cli.faults import UsageError
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.answers import Found
from xref_app.services.health_lines import HealthLine, WholeCheck
from xref_app.services.open_catalog import import_folder
from xref_app.services.shelf_lines import ShelfLine, filtered, shelf_lines


def find(options: Namespace) -> object:
    """Return what a number or model could mean."""
    if options.limit < 1:
        raise UsageError(f"--limit {options.limit}: no hits would be shown – give 1 or more.")
    return _found_json(asked_desk(options).find(options.text, NO_PROGRESS, limit=options.limit))


def _found_json(found: Found) -> object:
    return {
        "read_as": str(found.read_as),
        "total": found.total,
        "hits": [
            {
                "entry": hit.entry_id,
                "kind": hit.kind,
                "number": hit.number,
                "maker": hit.maker,
                "name": hit.name,
                "matched": list(hit.matched),
                "guessed": list(hit.guessed),
                "score": round(hit.score, 2),
                "route": list(hit.route),
                "claim": None if hit.claim is None else str(hit.claim),
            }
            for hit in found.hits
        ],
        "advice": None if found.advice is None else str(found.advice),
    }


def shelf(options: Namespace) -> object:
    """Return the lines of the shelf."""
    lines = filtered(shelf_lines(asked_catalog(options)), options.text, low_only=options.low)
    return [_shelf_line(one) for one in lines]


def _shelf_line(line: ShelfLine) -> object:
    place = line.place
    return {
        "place": place.shelf_id,
        "part": place.part_id or None,
        "entry": place.entry_id or None,
        "name": line.name,
        "kind": line.kind,
        "bin": place.bin,
        "count": place.count,
        "free": line.free,
        "reserved": [
            {"pieces": one.quantity, "job": one.job, "by": one.reserved_by, "since": one.reserved_on}
            for one in line.held
        ],
        "low": line.is_low,
        "low_at": place.low_at,
        "short": line.is_short,
        "price": line.price,
        "counted_on": place.counted_on or None,
    }


def health(options: Namespace) -> object:
    """Return what is not right with the catalog, and whether every row is what was written."""
    asked = asked_desk(options).health
    return {
        "lines": [_health_line(one) for one in asked.lines(NO_PROGRESS)],
        "check": _check(asked.check_everything(NO_PROGRESS)),
    }


def _health_line(line: HealthLine) -> object:
    return {
        "kind": line.kind.value,
        "told": str(line.told),
        "sizes": [str(one) for one in line.sizes],
        "machine": line.machine_id or None,
        "pump": line.pump_id or None,
        "blamed": list(line.blamed_ids),
    }


def _check(found: WholeCheck) -> object:
    return {
        "whole": found.is_whole,
        "rows": found.rows,
        "damaged_rows": found.damaged_rows,
        "lost_tables": list(found.lost_tables),
        "history_whole": found.history_is_whole,
        "complaints": list(found.complaints),
    }


def import_package(options: Namespace) -> object:
    """Read a Data Package into the shop's own store; return what was read."""
    return asdict(import_folder(options.folder, who=getpass.getuser()))


COMMANDS: Mapping[str, Callable[[Namespace], object]] = {
    "find": find,
    "shelf": shelf,
    "health": health,
    "import": import_package,
}
