"""The same services on the command line: JSON on standard output, one sentence on standard error, exit 2 on a fault."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from xref_app.cli.faults import UsageError
from xref_app.cli.more_parsers import add_copies, add_exchange, add_supplier
from xref_app.core.errors import XrefError
from xref_app.exchange.reading_kind import Kind

FAULT = 2


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a command line in one sentence, without the usage."""

    def error(self, message: str) -> NoReturn:
        """Raise the fault for ``run`` to report, like any other."""
        raise UsageError(f"{self.prog}: {message} – see {self.prog} --help.")


class _Version(argparse.Action):
    """Writes which version this is, and ends."""

    def __call__(self, parser: argparse.ArgumentParser, *_of_the_option: object) -> NoReturn:
        """Look the version up only now: finding it takes longer than reading the command line."""
        from importlib.metadata import version  # noqa: PLC0415 - see above

        sys.stdout.write(f"{parser.prog} {version(parser.prog)}\n")
        parser.exit()


def run(arguments: Sequence[str]) -> int:
    """Carry out one command; return 0, or 2 after one sentence on standard error."""
    parser = _parser()
    try:
        options = parser.parse_args(arguments)
        answer = _answer(options)
    except XrefError as error:
        sys.stderr.write(f"{' '.join(str(error).splitlines())}\n")
        return FAULT
    sys.stdout.write(json.dumps(answer, ensure_ascii=False, indent=2) + "\n")
    return 0


def _answer(options: argparse.Namespace) -> object:
    """Carry out the command with only that loaded which it needs: judging a CASE.json opens no store."""
    match str(options.command):
        case "judge" | "draw" as name:
            from xref_app.cli import case_commands  # noqa: PLC0415 - see above

            return (case_commands.judge if name == "judge" else case_commands.draw)(options)
        case "identify":
            from xref_app.cli import identify_command  # noqa: PLC0415 - see above

            return identify_command.identify(options)
        case "export" | "catalog-file" as name:
            from xref_app.cli import exchange_commands  # noqa: PLC0415 - see above

            return exchange_commands.COMMANDS[name](options)
        case "copy" | "copies" | "restore" | "mend" | "help-bundle" as name:
            from xref_app.cli import copy_commands  # noqa: PLC0415 - see above

            return copy_commands.COMMANDS[name](options)
        case "supplier-file":
            from xref_app.cli import supplier_command  # noqa: PLC0415 - see above

            return supplier_command.supplier_file(options)
        case name:
            from xref_app.cli import catalog_commands  # noqa: PLC0415 - see above

            return catalog_commands.COMMANDS[name](options)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="xref-app", description="Cross-reference for pressure-washer pumps. Without a command: the window."
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="say which version this is")
    parser.add_argument("--sample", action="store_true", help="use the made-up sample catalog, not the shop's own")
    commands = parser.add_subparsers(required=True)
    find = commands.add_parser("find", help="what a number or model could mean; ? one unreadable character, * a run")
    find.add_argument("text")
    find.add_argument("--limit", type=int, default=20)
    find.set_defaults(command="find")
    judge = commands.add_parser("judge", help="does a pump go on a machine")
    _add_pair(judge)
    judge.set_defaults(command="judge")
    draw = commands.add_parser("draw", help="draw a pump on a machine at true size into an SVG or DXF file")
    _add_pair(draw)
    views = "their faces, cut along the shaft, or the adapter plate or the spacers to make"
    draw.add_argument("--view", choices=["face", "side", "plate", "spacer"], default="face", help=views)
    draw.add_argument("--out", type=Path, required=True, metavar="FILE", help="a name that ends in .svg or .dxf")
    draw.set_defaults(command="draw")
    identify = commands.add_parser(
        "identify", help="what readings of a thread, shaft, bore, key, circle or face can be"
    )
    identify.add_argument("kind", type=str, choices=[kind.value for kind in Kind])
    identify.add_argument("readings", type=Path, help="a READINGS.json")
    identify.set_defaults(command="identify")
    _add_catalog(commands)
    add_exchange(commands)
    add_supplier(commands)
    add_copies(commands)
    return parser


def _add_catalog(commands: argparse._SubParsersAction[_Parser]) -> None:
    shelf = commands.add_parser("shelf", help="what lies in which bin, how much is free and who has put what by")
    shelf.add_argument("text", nargs="?", default="", help="words that must all fit: name, kind, bin, job or size")
    shelf.add_argument("--low", action="store_true", help="only the bins to fill up")
    shelf.set_defaults(command="shelf")
    health = commands.add_parser(
        "health", help="what is not right with the catalog: failed fits first; every row checked"
    )
    health.set_defaults(command="health")
    reading = commands.add_parser("import", help="read a catalog folder (Data Package) into the shop's own store")
    reading.add_argument("folder", type=Path)
    reading.set_defaults(command="import")


def _add_pair(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("case", nargs="?", type=Path, help="a CASE.json; or name both from the catalog:")
    parser.add_argument("--machine", help="entry, number or model of the machine")
    parser.add_argument("--pump", help="entry or number of the pump")
