"""The same services on the command line: JSON on standard output, one sentence on standard error, exit 2 on a fault."""

from __future__ import annotations

import argparse
import getpass
import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import NoReturn

from xref_app.core.errors import XrefError
from xref_app.core.plan.judge import judge_each
from xref_app.core.sentence import Sentence, marked
from xref_app.exchange.answer_json import answer_json, outcome_json
from xref_app.exchange.case_file import load_case
from xref_app.exchange.identified_json import holes_json, identified_json
from xref_app.exchange.readings_file import Kind
from xref_app.services.answers import Found
from xref_app.services.called import entries_called
from xref_app.services.catalog import Catalog
from xref_app.services.drawing_file import plain_makers, save_drawing
from xref_app.services.find_pump import Finder
from xref_app.services.identify_readings import identify_file
from xref_app.services.judge_candidates import Question
from xref_app.services.judge_named import NotNamedError, question_named
from xref_app.services.open_catalog import import_folder, open_own, open_sample
from xref_app.services.shelf_lines import ShelfLine, filtered, shelf_lines
from xref_app.services.side_view import face_of, plate_of, side_of, spacer_of
from xref_app.sheets.shapes import Drawing

FAULT = 2
NAMED = marked("drawing", "{what}")
EMPTY = "The shop's own catalog is empty – read one in with import FOLDER, or take the made-up one with --sample."


class UsageError(XrefError):
    """A command line that says too little or too much."""


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a command line in one sentence, without the usage."""

    def error(self, message: str) -> NoReturn:
        """Raise the fault for ``run`` to report, like any other."""
        raise UsageError(f"{self.prog}: {message} – see {self.prog} --help.")


def run(arguments: Sequence[str]) -> int:
    """Carry out one command; return 0, or 2 after one sentence on standard error."""
    parser = _parser()
    try:
        options = parser.parse_args(arguments)
        command: Callable[[argparse.Namespace], object] = options.command
        answer = command(options)
    except XrefError as error:
        sys.stderr.write(f"{' '.join(str(error).splitlines())}\n")
        return FAULT
    sys.stdout.write(json.dumps(answer, ensure_ascii=False, indent=2) + "\n")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="xref-app", description="Cross-reference for pressure-washer pumps. Without a command: the window."
    )
    parser.add_argument("--sample", action="store_true", help="use the made-up sample catalog, not the shop's own")
    commands = parser.add_subparsers(required=True)
    find = commands.add_parser("find", help="what a number or model could mean; ? one unreadable character, * a run")
    find.add_argument("text")
    find.add_argument("--limit", type=int, default=20)
    find.set_defaults(command=_find)
    judge = commands.add_parser("judge", help="does a pump go on a machine")
    _add_pair(judge)
    judge.set_defaults(command=_judge)
    draw = commands.add_parser("draw", help="draw a pump on a machine at true size into an SVG or DXF file")
    _add_pair(draw)
    views = "their faces, cut along the shaft, or the adapter plate or the spacers to make"
    draw.add_argument("--view", choices=["face", "side", "plate", "spacer"], default="face", help=views)
    draw.add_argument("--out", type=Path, required=True, metavar="FILE", help="a name that ends in .svg or .dxf")
    draw.set_defaults(command=_draw)
    identify = commands.add_parser(
        "identify", help="what readings of a thread, shaft, bore, key, circle or face can be"
    )
    identify.add_argument("kind", type=str, choices=[kind.value for kind in Kind])
    identify.add_argument("readings", type=Path, help="a READINGS.json")
    identify.set_defaults(command=_identify)
    shelf = commands.add_parser("shelf", help="what lies in which bin, how much is free and who has put what by")
    shelf.add_argument("text", nargs="?", default="", help="words that must all fit: name, kind, bin, job or size")
    shelf.add_argument("--low", action="store_true", help="only the bins to fill up")
    shelf.set_defaults(command=_shelf)
    reading = commands.add_parser("import", help="read a catalog folder (Data Package) into the shop's own store")
    reading.add_argument("folder", type=Path)
    reading.set_defaults(command=_import)
    return parser


def _add_pair(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("case", nargs="?", type=Path, help="a CASE.json; or name both from the catalog:")
    parser.add_argument("--machine", help="entry, number or model of the machine")
    parser.add_argument("--pump", help="entry or number of the pump")


def _catalog(options: argparse.Namespace) -> Catalog:
    catalog = (open_sample() if options.sample else open_own()).catalog
    if not catalog.entries:
        raise UsageError(EMPTY)
    return catalog


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
                "claim": None if hit.claim is None else str(hit.claim),
            }
            for hit in found.hits
        ],
        "advice": None if found.advice is None else str(found.advice),
    }


def _judge(options: argparse.Namespace) -> object:
    asked = _asked(options, "judge")
    answer = answer_json(judge_each(asked.cases, asked.contradicted))
    if asked.past is not None:
        answer["outcomes"] = [outcome_json(one.row, is_same_machine=not one.machine) for one in asked.past]
    return answer


def _draw(options: argparse.Namespace) -> object:
    asked = _asked(options, "draw")
    what = str(options.case.name) if options.case is not None else f"{options.pump}, {options.machine}"
    drawing = replace(_drawn(options.view, asked), about=Sentence(NAMED, {"what": what}))
    path = save_drawing(drawing, options.out, plain_makers())
    return {
        "saved": str(path),
        "notes": [str(one) for one in drawing.notes],
        "not_known": [str(one) for one in drawing.not_known],
    }


def _drawn(view: str, asked: Question) -> Drawing:
    if view == "face":
        return face_of(asked.cases, asked.contradicted)
    if view == "side":
        return side_of(asked.cases, asked.contradicted)
    if view == "spacer":
        return _spacer(asked)
    plate = plate_of(asked.cases)
    if plate is None:
        raise UsageError("No adapter plate is planned for this pump on this machine – judge it to see what is.")
    return plate


def _spacer(asked: Question) -> Drawing:
    spacer = spacer_of(asked.cases)
    if spacer is None:
        raise UsageError("No spacer has to be made for this pump on this machine – judge it to see what is planned.")
    return spacer


def _asked(options: argparse.Namespace, command: str) -> Question:
    """Return the cases that a CASE.json or two names of the catalog stand for."""
    if options.case is not None:
        if options.machine or options.pump:
            raise UsageError(f"{command}: a case and names from the catalog – give one or the other.")
        case = load_case(options.case)
        return Question(tuple(case.cases), case.contradicted)
    if not options.machine and not options.pump:
        raise UsageError(f"{command}: no case and no names – give CASE.json, or --machine and --pump.")
    if not options.pump:
        raise UsageError(f"{command}: machine “{options.machine}” and no pump – name the pump with --pump as well.")
    if not options.machine:
        raise UsageError(f"{command}: pump “{options.pump}” and no machine – name the machine with --machine as well.")
    return _named(options)


def _named(options: argparse.Namespace) -> Question:
    catalog = _catalog(options)
    try:
        return question_named(catalog, machine=options.machine, pump=options.pump)
    except NotNamedError as error:
        other = None if error.entries else _kind_named(catalog, error.name)
        if other is None:
            raise
        option = "machine" if error.name == options.machine and other != "machine" else "pump"
        raise UsageError(_wrong_option(option, error.name, other)) from error


def _kind_named(catalog: Catalog, name: str) -> str | None:
    """Return the kind of an entry that has this id, number or model (case apart), or None where none has."""
    return next((catalog.entries[one].kind for one in entries_called(catalog, name)), None)


def _wrong_option(option: str, name: str, kind: str) -> str:
    if kind == "driver":
        return f"--{option} “{name}” is an engine or motor – give the {option} there; look it up with find."
    return f"--{option} “{name}” is a {kind} – give it with --{kind}, and the {option} with --{option}."


def _identify(options: argparse.Namespace) -> object:
    told = identify_file(options.readings, Kind(options.kind))
    notes = told.notes if told.holes is None else (*told.notes, *map(str, told.holes.notes))
    answer = identified_json(told.identified, notes=notes)
    if told.holes is not None:
        answer |= holes_json(told.holes.diameter_mm, told.holes.holes_xy_mm)
    return answer


def _shelf(options: argparse.Namespace) -> object:
    lines = filtered(shelf_lines(_catalog(options)), options.text, low_only=options.low)
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


def _import(options: argparse.Namespace) -> object:
    return asdict(import_folder(options.folder, who=getpass.getuser()))
