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


def add_supplier(commands: argparse._SubParsersAction[P]) -> None:
    """Add ``supplier-file``."""
    file = commands.add_parser("supplier-file", help="what a supplier's list would bring; with --take, take it")
    file.add_argument("file", type=Path, help="csv, tsv, txt or xlsx, as the supplier sends it")
    file.add_argument("--supplier", required=True, metavar="NAME", help="whose list it is")
    file.add_argument(
        "--kind", choices=["pumps", "engines", "motors"], help="what it lists; engines are petrol engines"
    )
    how = "as a seller claims, or as the maker's own sheet says"
    file.add_argument("--how", choices=["claimed", "sheet"], default="claimed", help=how)
    what = "what a column is, like 'Shaft=bore_diameter_mm:in'; nothing behind the = leaves it out; as often as needed"
    file.add_argument("--column", action="append", metavar="HEADING=FIELD[:UNIT]", help=what)
    rows = "in which rows the headings stand, from 1: like 4, 4-5 or none"
    file.add_argument("--headings", metavar="ROWS", help=rows)
    mark = "what stands before decimals in the whole list; seems: what its numbers tell, whatever was said before"
    file.add_argument("--decimal", choices=["comma", "point", "seems"], help=mark)
    file.add_argument("--sheet", metavar="NAME", help="which sheet of a workbook")
    file.add_argument("--separator", choices=["semicolon", "comma", "tab", "stroke"], help="where it was told wrongly")
    file.add_argument("--encoding", help="where it was told wrongly, like cp1252")
    file.add_argument("--refused", type=Path, metavar="OUT.csv", help="write the rows that are open, with the reasons")
    file.add_argument("--take", action="store_true", help="take the good rows as one act, which one undo takes back")
    file.add_argument("--who", metavar="NAME", help="take: who takes them")
    file.set_defaults(command="supplier-file")


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
