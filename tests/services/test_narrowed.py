"""A model typed with a day or an engine: builds that cannot be meant are left out, those that may be are kept."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.services.tiny import Quiet, entry, tiny, tiny_rows
from xref_app.core.model.catalog import MachineRow, Number
from xref_app.services.answers import Found, Job
from xref_app.services.desk import CatalogDesk
from xref_app.services.find_pump import is_guessed
from xref_app.services.narrowed import MOST_WORDS, splits

ROWS = tiny_rows()
MODEL = "Heron 27"
MACHINES = (
    MachineRow("M1", MODEL, "D1", "P1", "2009-03-01", "2013-11-30", "round cover"),
    MachineRow("M2", MODEL, "D2", "P2", "2014-03-01", "2016-06-30", "square cover"),
    MachineRow("M3", MODEL, "D2", "P1", "2016-01-01", "", "oval cover"),
    MachineRow("M4", MODEL, "D9", "P1", tell_apart="no cover"),
    MachineRow("M5", "Tern 40", "D1", "P1"),
)


def desk() -> CatalogDesk:
    engines = (
        replace(entry("D1", "driver"), maker="Haldrune", name="Short 5"),
        replace(entry("D2", "driver"), maker="Corvandel", name="Tall 7"),
    )
    machines = tuple(entry(row.entry_id, "machine") for row in MACHINES)
    pumps = tuple(one for one in ROWS.entries if one.kind == "pump")
    numbers = (*ROWS.numbers, Number("D2", "CV-880", "maker", "plate"))
    return CatalogDesk(tiny(machines=MACHINES, entries=(*pumps, *machines, *engines), numbers=numbers), "Tiny")


def found(text: str) -> Found:
    return desk().find(text, Quiet())


def left(text: str) -> tuple[str, ...]:
    (hit,) = found(text).hits
    assert hit.number == MODEL
    return hit.builds


def opened(rest: str) -> Job:
    held = desk()
    (hit,) = held.find(f"{MODEL} {rest}", Quiet()).hits
    return held.open_job(None, hit.entry_id, Quiet(), among=hit.builds)


@pytest.mark.parametrize(
    ("day", "builds"),
    [
        ("2012", ("M1", "M4")),
        ("2012-05", ("M1", "M4")),
        ("2013-11-30", ("M1", "M4")),
        ("2013-12", ("M4",)),
        ("2014", ("M2", "M4")),
        ("2014-02-28", ("M4",)),
        # Overlapping: only the day cannot tell these two apart.
        ("2016", ("M2", "M3", "M4")),
        ("2016-07", ("M3", "M4")),
        # An open end holds every later day.
        ("2031", ("M3", "M4")),
    ],
)
def test_a_day_leaves_the_builds_it_may_be_of_and_those_of_unknown_days(day: str, builds: tuple[str, ...]) -> None:
    assert left(f"{MODEL} {day}") == builds
    assert left(f"heron-27  {day}") == builds


def test_what_was_read_is_said() -> None:
    assert str(found(f"{MODEL} 2012").read_as) == f"machine model {MODEL}, built 2012. Builds left: 2 of 4."
    assert str(found(f"{MODEL} corvandel").read_as) == (
        f"machine model {MODEL}, engine or motor corvandel. Builds left: 3 of 4."
    )


@pytest.mark.parametrize("words", ["Corvandel", "corv", "Corvandel Tall", "tall 7", "CV-880", "cv"])
def test_an_engine_leaves_its_builds_and_those_whose_engine_nobody_knows(words: str) -> None:
    assert left(f"{MODEL} {words}") == ("M2", "M3", "M4")


@pytest.mark.parametrize("rest", ["Lowmarsh", "03/04/15", "1999x", "20133", "2013-13", "Corvandel Short"])
def test_what_is_neither_a_day_nor_an_engine_narrows_nothing(rest: str) -> None:
    assert all(hit.builds == () for hit in found(f"{MODEL} {rest}").hits)


def test_a_model_by_itself_narrows_nothing() -> None:
    assert left(MODEL) == ()


def test_a_day_that_goes_with_every_build_or_none_leaves_all() -> None:
    machines = MACHINES[:2]
    held = desk()
    catalog = replace(held.catalog, machines={row.entry_id: row for row in machines})
    none_then = CatalogDesk(catalog, "Tiny").find(f"{MODEL} 1999", Quiet())
    assert [hit.builds for hit in none_then.hits] == [()]
    assert str(none_then.advice) == f"No build of {MODEL} on file was made then; all are shown."
    assert str(none_then.read_as) == f"machine model {MODEL}, built 1999. Builds left: 0 of 2."


def test_a_long_text_is_not_taken_apart() -> None:
    assert len(list(splits("word " * MOST_WORDS))) == MOST_WORDS - 1
    assert list(splits("word " * (MOST_WORDS + 1))) == []


def test_builds_that_are_gone_leave_the_others_to_choose_from() -> None:
    job = desk().open_job(None, "M1", Quiet(), among=("M9",))
    assert len(job.choices) == 4


def test_a_pattern_is_never_taken_apart() -> None:
    assert all(hit.builds == () for hit in found("Heron [2 3]7").hits)
    assert all(hit.builds == () for hit in found("Heron ?7 2012").hits)


def test_the_job_asks_among_the_builds_left_and_preselects_none() -> None:
    job = opened("2016")
    assert (job.machine_id, [choice.entry_id for choice in job.choices]) == (None, ["M2", "M3", "M4"])
    assert str(job.note).startswith("This model was built in 3 ways that go with what you typed: look for")


def test_one_build_left_needs_no_question() -> None:
    held = desk()
    rows = {row.entry_id: row for row in MACHINES if row.entry_id != "M4"}
    held = CatalogDesk(replace(held.catalog, machines=rows), "Tiny")
    (hit,) = held.find(f"{MODEL} 2012", Quiet()).hits
    assert held.open_job(None, hit.entry_id, Quiet(), among=hit.builds).machine_id == "M1"
    assert not is_guessed(hit)
