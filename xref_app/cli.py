"""The same services on the command line: JSON on standard output, one sentence on standard error, exit 2 on a fault."""

from __future__ import annotations

import argparse
import getpass
import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict
from pathlib import Path

from xref_app.core.errors import XrefError
from xref_app.core.fit.judge import judge_each
from xref_app.exchange.answer_json import answer_json
from xref_app.exchange.case_file import load_case
from xref_app.services.answers import Found
from xref_app.services.catalog import Catalog
from xref_app.services.find_pump import Finder
from xref_app.services.judge_named import judge_named
from xref_app.services.open_catalog import import_folder, open_own, open_sample

FAULT = 2


class UsageError(XrefError):
    """A command line that says too little or too much."""


def run(arguments: Sequence[str]) -> int:
    """Carry out one command; return 0, or 2 after one sentence on standard error."""
    parser = _parser()
    options = parser.parse_args(arguments)
    command: Callable[[argparse.Namespace], object] = options.command
    try:
        answer = command(options)
    except XrefError as error:
        sys.stderr.write(f"{error}\n")
        return FAULT
    sys.stdout.write(json.dumps(answer, ensure_ascii=False, indent=2) + "\n")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="xref-app", description="Cross-reference for pressure-washer pumps. Without a command: the window."
    )
    parser.add_argument("--sample", action="store_true", help="use the made-up sample catalog, not the shop's own")
    commands = parser.add_subparsers(required=True)
    find = commands.add_parser("find", help="what a number or model could mean; ? one unreadable character, * a run")
    find.add_argument("text")
    find.add_argument("--limit", type=int, default=20)
    find.set_defaults(command=_find)
    judge = commands.add_parser("judge", help="does a pump go on a machine")
    judge.add_argument("case", nargs="?", type=Path, help="a CASE.json; or name both from the catalog:")
    judge.add_argument("--machine", help="entry, number or model of the machine")
    judge.add_argument("--pump", help="entry or number of the pump")
    judge.set_defaults(command=_judge)
    reading = commands.add_parser("import", help="read a catalog folder (Data Package) into the shop's own store")
    reading.add_argument("folder", type=Path)
    reading.set_defaults(command=_import)
    return parser


def _catalog(options: argparse.Namespace) -> Catalog:
    return (open_sample() if options.sample else open_own()).catalog


def _find(options: argparse.Namespace) -> object:
    if options.limit < 1:
        raise UsageError(f"--limit {options.limit}: no hits would be shown – give 1 or more.")
    return _found_json(Finder.over(_catalog(options)).find(options.text, limit=options.limit))


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
            }
            for hit in found.hits
        ],
        "advice": None if found.advice is None else str(found.advice),
    }


def _judge(options: argparse.Namespace) -> object:
    if options.case is not None:
        if options.machine or options.pump:
            raise UsageError("judge: a case and names from the catalog – give one or the other.")
        case = load_case(options.case)
        return answer_json(judge_each(case.cases, case.contradicted))
    if not options.machine or not options.pump:
        raise UsageError("judge: no case and no names – give CASE.json, or --machine and --pump.")
    return answer_json(judge_named(_catalog(options), machine=options.machine, pump=options.pump))


def _import(options: argparse.Namespace) -> object:
    return asdict(import_folder(options.folder, who=getpass.getuser()))
