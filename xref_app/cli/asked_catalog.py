"""The catalog that a command is about."""

from __future__ import annotations

from argparse import Namespace

from xref_app.cli.faults import UsageError
from xref_app.services.catalog import Catalog
from xref_app.services.live_desk import LiveDesk
from xref_app.services.open_catalog import open_own, open_sample

EMPTY = "The shop's own catalog is empty – read one in with import FOLDER, or take the made-up one with --sample."


def asked_desk(options: Namespace) -> LiveDesk:
    """Return a desk over the sample, or over the shop's own catalog.

    Raises:
        XrefError: it cannot be opened, or there is nothing in it.
    """
    desk = open_sample() if options.sample else open_own()
    if not desk.title():
        raise UsageError(EMPTY)
    return desk


def asked_catalog(options: Namespace) -> Catalog:
    """Return the sample, or the shop's own catalog; refused like the desk."""
    return asked_desk(options).catalog
