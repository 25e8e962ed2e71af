"""The commands about one pump on one machine: judge, draw."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace

from xref_app.cli.faults import UsageError
from xref_app.core.plan.judge import judge_each
from xref_app.core.sentence import Sentence, marked
from xref_app.exchange.answer_json import answer_json, outcome_json
from xref_app.exchange.case_file import load_case
from xref_app.services.called import entries_called
from xref_app.services.catalog import Catalog
from xref_app.services.drawing_file import plain_makers, save_drawing
from xref_app.services.judge_candidates import Question
from xref_app.services.judge_named import NotNamedError, question_named
from xref_app.services.side_view import face_of, plate_of, side_of, spacer_of
from xref_app.sheets.shapes import Drawing

NAMED = marked("drawing", "{what}")


def judge(options: Namespace) -> object:
    """Return the verdict on a pump on a machine, and what happened with it before."""
    asked = _asked(options, "judge")
    answer = answer_json(judge_each(asked.cases, asked.contradicted))
    if asked.past is not None:
        answer["outcomes"] = [outcome_json(one.row, is_same_machine=not one.machine) for one in asked.past]
    return answer


def draw(options: Namespace) -> object:
    """Save a drawing; return where, and what it cannot show."""
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


def _asked(options: Namespace, command: str) -> Question:
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


def _named(options: Namespace) -> Question:
    from xref_app.cli.asked_catalog import asked_catalog  # noqa: PLC0415 - a CASE.json needs no store

    catalog = asked_catalog(options)
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
