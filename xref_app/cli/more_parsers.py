"""How the commands about exports, catalog files and copies are spelled."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TypeVar

P = TypeVar("P", bound=argparse.ArgumentParser)


def add_exchange(commands: argparse._SubParsersAction[P]) -> None:
    """Add ``export`` and ``catalog-file``."""
    export = commands.add_parser("export", help="write the catalog into a folder (Data Package) or a workbook")
    export.add_argument("folder", type=Path, help="a new or empty folder; with --xlsx a file")
    export.add_argument("--entries", nargs="+", metavar="ENTRY", help="only these, with what belongs to them")
    export.add_argument("--with-shop", action="store_true", help="shelf, what is put by and salvaged units as well")
    export.add_argument("--xlsx", action="store_true", help="one workbook for a spreadsheet")
    export.set_defaults(command="export")
    file = commands.add_parser("catalog-file", help="signed catalogs in one file, for a stick")
    file.add_argument("act", choices=["show", "apply", "make", "trust", "new-keys"])
    file.add_argument("file", type=Path, help="the catalog file; the supplier's keys to trust; a folder for new keys")
    file.add_argument("--older-too", action="store_true", help="apply: although a newer one was taken already")
    file.add_argument("--key", type=Path, metavar="KEYFILE", help="make: the key that signs")
    file.add_argument("--number", type=int, help="make: higher than that of the file before")
    file.add_argument("--title", default="Catalog", help="make: what people call it")
    file.add_argument("--withdraw", nargs="+", metavar="ENTRY", help="make: entries that do not stand any more")
    file.add_argument("--name", help="trust: what to call the supplier")
    file.add_argument("--fingerprint", help="trust: as the supplier says it is")
    file.set_defaults(command="catalog-file")


def add_copies(commands: argparse._SubParsersAction[P]) -> None:
    """Add ``copy``, ``copies``, ``restore``, ``mend`` and ``help-bundle``."""
    copy = commands.add_parser("copy", help="copy the shop's own store to a new file, reopened and checked")
    copy.add_argument("file", type=Path)
    copy.set_defaults(command="copy")
    commands.add_parser("copies", help="list the copies there are").set_defaults(command="copies")
    restore = commands.add_parser("restore", help="say what putting a copy back would change; with --yes, do it")
    restore.add_argument("file", type=Path, metavar="copy")
    restore.add_argument("--only-missing", action="store_true", help="only what was withdrawn or lost since")
    _add_yes(restore)
    restore.set_defaults(command="restore")
    mend = commands.add_parser("mend", help="damaged rows that the newest good copy has; with --yes, put them back")
    _add_yes(mend)
    mend.set_defaults(command="mend")
    bundle = commands.add_parser("help-bundle", help="a zip for somebody who helps: nothing of the shop is in it")
    bundle.add_argument("file", type=Path)
    bundle.add_argument("--list", action="store_true", help="only say what would be in it")
    bundle.add_argument("--with-names", action="store_true", help="who did what, and all settings, as well")
    bundle.set_defaults(command="help-bundle")


def _add_yes(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--yes", action="store_true", help="do it, and do not only say what would be done")
