"""A job comes back from its text as it was; a text that is not exactly a job's is refused in one sentence."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from dataclasses import fields, replace
from datetime import date
from types import MappingProxyType

import pytest
from hypothesis import given

from tests.services.random_jobs import jobs
from xref_app.core.economics.engine_state import EngineState
from xref_app.core.fit.finding import Verdict
from xref_app.core.sentence import Sentence
from xref_app.services.fix_or_replace import Entries, ShopTexts, Typed
from xref_app.services.job_told import Told, ToldNeed, ToldSize
from xref_app.services.kept_job import KeptJob
from xref_app.services.kept_job_text import JobUnreadableError, job_as_text, job_from_text
from xref_app.services.pump_answers import Answer, PumpAnswers
from xref_app.services.used_fact import UsedFact

AT = "2026-11-25T10:00:00.000+00:00"
FULL = KeptJob(
    job_id="j1",
    reference="4711",
    title="Tern 27",
    facts=(
        UsedFact("pump", "P-001", "K4872-20", is_guessed=True),
        UsedFact("machine", "M-001", "Tern 27", is_build=True, sisters=("M-002",), builds=("M-001", "M-003")),
    ),
    chosen_id="P-002",
    chosen_number="K4872-21",
    answers=PumpAnswers(MappingProxyType({"noise": Answer("knocks"), "oil": Answer("milky", cannot_say=True)})),
    figures=Entries(
        typed={"keep.seal_kit": Typed("31.50", date(2026, 11, 24), Sentence("typed"))},
        confirmed={"put_on.pump": date(2026, 11, 25)},
        ticked=frozenset({"KEEP", "USED"}),
        used_place=2,
        engine=EngineState(age="9 years"),
    ),
    outcome_ids=("O-1",),
    told=Told(
        catalog_number=12,
        verdict=Verdict.FITS_WITH_PARTS,
        checks=(("bore", "pass"), ("reach", "by parts")),
        needs=(ToldNeed(2, "spacer 3.2 mm"),),
        sizes=(ToldSize("shaft_diameter_mm", "Shaft diameter", "19.05 mm (3/4 in)", "measured, Ana"),),
    ),
    changed_at=AT,
)


@given(jobs)
def test_any_job_comes_back_from_its_text_as_it_was(job: KeptJob) -> None:
    text = job_as_text(job)
    assert text.isascii()
    assert "\0" not in text
    assert job_from_text(job.job_id, text, job.changed_at) == job


def test_every_part_of_a_job_is_in_its_text() -> None:
    """A part that is forgotten in the writing would come back empty."""
    blank = KeptJob("j1", changed_at=AT)
    for one in fields(KeptJob):
        if one.name not in ("job_id", "changed_at"):
            changed = replace(blank, **{one.name: getattr(FULL, one.name)})
            assert changed != blank
            assert job_from_text("j1", job_as_text(changed), AT) == changed, one.name


def test_what_the_shop_says_for_all_jobs_is_not_kept_with_one() -> None:
    job = replace(FULL, figures=replace(FULL.figures, shop=ShopTexts(rate="88")))
    assert "88" not in job_as_text(job)


def paths(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the way to each value within ``value``."""
    if path:
        yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inner:
        yield from paths(one, (*path, key))


def without(path: tuple[str | int, ...]) -> str:
    return _edited(path, lambda holder, key: holder.pop(key))


def with_other(path: tuple[str | int, ...], value: object) -> str:
    return _edited(path, lambda holder, key: holder.__setitem__(key, value))


def _edited(path: tuple[str | int, ...], edit: object) -> str:
    whole = copy.deepcopy(json.loads(job_as_text(FULL)))
    holder = whole
    for key in path[:-1]:
        holder = holder[key]
    assert callable(edit)
    edit(holder, path[-1])
    return json.dumps(whole)


WHOLE = json.loads(job_as_text(FULL))
MAY_GO = {("answers", "noise"), ("answers", "oil"), ("figures", "typed", "keep.seal_kit")}
MAY_GO |= {("figures", "confirmed", "put_on.pump")}
EVERY = list(paths(WHOLE))


@pytest.mark.parametrize("path", [one for one in EVERY if isinstance(one[-1], str) and one not in MAY_GO], ids=str)
def test_a_job_that_lacks_anything_is_refused(path: tuple[str | int, ...]) -> None:
    with pytest.raises(JobUnreadableError) as caught:
        job_from_text("j1", without(path), AT)
    assert str(path[-1]) in str(caught.value)


@pytest.mark.parametrize("path", EVERY, ids=str)
@pytest.mark.parametrize("other", [1.5, -1, [[]], {"a": {}}], ids=str)
def test_a_job_with_a_value_of_another_kind_is_refused(path: tuple[str | int, ...], other: object) -> None:
    with pytest.raises(JobUnreadableError) as caught:
        job_from_text("j1", with_other(path, other), AT)
    assert str(caught.value).startswith("The job j1 cannot be read (")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("path", "other"),
    [
        (("told", "verdict"), "Might fit"),
        (("told", "checks", 0, 1), "perhaps"),
        (("facts", 0, "kind"), "part"),
        (("figures", "confirmed", "put_on.pump"), "2026-13-01"),
        (("figures", "engine", "compression"), "so so"),
        (("figures", "typed", "keep.seal_kit", "source", "template"), "{who} typed"),
        (("figures", "typed", "keep.seal_kit", "source", "template"), "{0.x}"),
        (("figures", "typed", "keep.seal_kit", "source", "template"), "{"),
    ],
)
def test_a_word_that_there_is_not_is_refused(path: tuple[str | int, ...], other: str) -> None:
    with pytest.raises(JobUnreadableError):
        job_from_text("j1", with_other(path, other), AT)


@pytest.mark.parametrize("text", ["", "no JSON", "[]", "null", '"job"', "[" * 100_000, '{"format": 1'])
def test_what_is_no_job_at_all_is_refused(text: str) -> None:
    with pytest.raises(JobUnreadableError):
        job_from_text("j1", text, AT)


def test_a_job_of_a_newer_program_is_refused_by_its_format() -> None:
    with pytest.raises(JobUnreadableError, match="its format is 2, this program knows 1"):
        job_from_text("j1", with_other(("format",), 2), AT)
