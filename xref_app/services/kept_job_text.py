"""A kept job as one JSON text, and back: whatever is not exactly such a text is refused in one sentence."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from types import MappingProxyType
from typing import Final

from xref_app.core.economics.engine_state import Compression, EngineState
from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.sentence import Sentence
from xref_app.services.fix_or_replace import Entries, Typed
from xref_app.services.job_told import Told, ToldNeed, ToldSize
from xref_app.services.kept_job import KeptJob
from xref_app.services.pump_answers import Answer, PumpAnswers
from xref_app.services.strict_json import JsonObject, OfOtherKindError, as_text
from xref_app.services.used_fact import UsedFact

_FORMAT: Final = 1
_KINDS: Final = ("pump", "machine")
_OUTCOME_WORDS: Final = frozenset(one.word for one in Outcome)


class JobUnreadableError(XrefError):
    """A kept job that cannot be read back, or only by a newer version of the program."""

    def __init__(self, job_id: str, why: str) -> None:
        super().__init__(f"The job {job_id} cannot be read ({why}); it is left aside as it is, nothing else is.")
        self.job_id = job_id
        self.why = why


def job_as_text(job: KeptJob) -> str:
    """Return ``job`` as JSON, but for its id and its moment, which the store keeps beside it."""
    return json.dumps(
        {
            "format": _FORMAT,
            "reference": job.reference,
            "title": job.title,
            "facts": [asdict(one) for one in job.facts],
            "chosen": {"entry_id": job.chosen_id, "number": job.chosen_number},
            "answers": {name: asdict(one) for name, one in job.answers.by_id.items()},
            "figures": _figures_as_json(job.figures),
            "outcomes": list(job.outcome_ids),
            "told": asdict(job.told),
        }
    )


def job_from_text(job_id: str, text: str, changed_at: str) -> KeptJob:
    """Return the job that was kept as ``text``.

    Raises:
        JobUnreadableError: it is none, or of a later format.
    """
    try:
        return _read(job_id, JsonObject(json.loads(text), ""), changed_at)
    except (ValueError, RecursionError) as error:
        raise JobUnreadableError(job_id, str(error) or type(error).__name__) from error


def _read(job_id: str, kept: JsonObject, changed_at: str) -> KeptJob:
    if kept.count("format") != _FORMAT:
        raise OfOtherKindError(f"its format is {kept.count('format')}, this program knows {_FORMAT}")
    chosen = kept.inner("chosen")
    answers = kept.map_of("answers", _answer)
    return KeptJob(
        job_id=job_id,
        reference=kept.text("reference"),
        title=kept.text("title"),
        facts=kept.list_of("facts", _fact),
        chosen_id=chosen.text("entry_id"),
        chosen_number=chosen.text("number"),
        answers=PumpAnswers(MappingProxyType(dict(answers))),
        figures=_figures(kept.inner("figures")),
        outcome_ids=kept.list_of("outcomes", as_text),
        told=_told(kept.inner("told")),
        changed_at=changed_at,
    )


def _fact(value: object, where: str) -> UsedFact:
    kept = JsonObject(value, where)
    if kept.text("kind") not in _KINDS:
        raise OfOtherKindError(f"{where} is neither a pump nor a machine")
    return UsedFact(
        kind=kept.text("kind"),
        entry_id=kept.text("entry_id"),
        label=kept.text("label"),
        is_guessed=kept.flag("is_guessed"),
        is_build=kept.flag("is_build"),
        sisters=kept.list_of("sisters", as_text),
        builds=kept.list_of("builds", as_text),
    )


def _answer(value: object, where: str) -> Answer:
    kept = JsonObject(value, where)
    return Answer(kept.text("text"), kept.flag("cannot_say"))


# -- what was typed in "Fix or replace"


def _figures_as_json(figures: Entries) -> Mapping[str, object]:
    return {
        "typed": {name: _typed_as_json(one) for name, one in figures.typed.items()},
        "confirmed": {name: day.isoformat() for name, day in figures.confirmed.items()},
        "ticked": sorted(figures.ticked),
        "used_place": figures.used_place,
        "engine": {**asdict(figures.engine), "compression": figures.engine.compression.value},
    }


def _typed_as_json(typed: Typed) -> Mapping[str, object]:
    values = {name: str(value) for name, value in typed.source.values.items()}
    source = {"template": typed.source.template, "values": values}
    return {"text": typed.text, "day": typed.day.isoformat(), "source": source}


def _figures(kept: JsonObject) -> Entries:
    engine = kept.inner("engine")
    return Entries(
        typed=kept.map_of("typed", _typed),
        confirmed=kept.map_of("confirmed", _day),
        ticked=frozenset(kept.list_of("ticked", as_text)),
        used_place=kept.count("used_place"),
        engine=EngineState(
            is_electric=engine.flag("is_electric"),
            compression=Compression(engine.text("compression")),
            age=engine.text("age"),
            hours=engine.text("hours"),
        ),
    )


def _typed(value: object, where: str) -> Typed:
    kept = JsonObject(value, where)
    source = kept.inner("source")
    said = Sentence(source.text("template"), source.map_of("values", as_text))
    try:
        str(said)
    except (LookupError, AttributeError) as error:
        raise OfOtherKindError(f"{where}.source is no sentence") from error
    return Typed(kept.text("text"), _day(kept.text("day"), f"{where}.day"), said)


def _day(value: object, where: str) -> date:
    return date.fromisoformat(as_text(value, where))


# -- what was told


def _told(kept: JsonObject) -> Told:
    return Told(
        catalog_number=kept.count("catalog_number") if kept.has("catalog_number") else None,
        verdict=Verdict(kept.text("verdict")) if kept.has("verdict") else None,
        checks=kept.list_of("checks", _check),
        needs=kept.list_of("needs", _need),
        sizes=kept.list_of("sizes", _size),
    )


def _check(value: object, where: str) -> tuple[str, str]:
    if not isinstance(value, list) or len(value) != 2:
        raise OfOtherKindError(f"{where} is no check with its outcome")
    check, word = (as_text(one, where) for one in value)
    if word not in _OUTCOME_WORDS:
        raise OfOtherKindError(f"{where} has no outcome that there is")
    return check, word


def _need(value: object, where: str) -> ToldNeed:
    kept = JsonObject(value, where)
    return ToldNeed(kept.count("pieces"), kept.text("words"))


def _size(value: object, where: str) -> ToldSize:
    kept = JsonObject(value, where)
    return ToldSize(kept.text("field"), kept.text("title"), kept.text("shown"), kept.text("known_by"))
