"""How many measurements it takes to tell which pump lies on the bench: few, and far fewer than in any order."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from statistics import median

import pytest

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.fields.fields import Kind, field_for
from xref_app.core.model.known import Dimension, Known
from xref_app.services.catalog import Catalog
from xref_app.services.kept_tables import table_of_kind
from xref_app.services.machine_side import Values
from xref_app.services.measure_order import Question, asked_in_order, minutes_of, next_question, off_already
from xref_app.services.size_search import entries_meeting
from xref_app.services.told_apart import StillPossible

SAMPLE = catalog_of(sample_rows())
MANY = with_many_pumps(SAMPLE, 2_000, seed=5)
TRUTHS = 60
MOST_MEASURED, MOST_OF_RANDOM = 5, 0.7
# What is measured with a tool; the rest is seen at a glance or read off the plate.
TOOLS = {Kind.NUMBER, Kind.HOLES, Kind.HEIGHTS, Kind.THREAD}


@dataclass(slots=True)
class Walk:
    """One pump being measured: what was read, what could not be, and what was asked."""

    said: dict[str, Known] = field(default_factory=dict)
    skipped: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    @property
    def measured(self) -> int:
        """Return how many of the answers took a tool."""
        return sum(field_for(one).kind in TOOLS and not one.startswith("rating_") for one in self.said)


Chooser = Callable[[Walk, Question], str]


def walked(catalog: Catalog, pump_id: str, rng: random.Random, choose: Chooser, *, lost: float = 0.0) -> Walk:
    """Return what it takes until nothing that can still be asked tells any two apart of the entries left.

    Every question is answered with what is known of ``pump_id``, off by no more than the instrument's doubt; what is
    not known of it is skipped, and of the rest the share ``lost``, as if it could not be reached.
    """
    truth, walk = catalog.known(pump_id), Walk()
    while not is_settled(catalog, walk):
        question = next_question(catalog, "pump", walk.said, walk.skipped)
        assert question is not None
        asked = choose(walk, question)
        assert asked not in walk.asked
        walk.asked.append(asked)
        read = reading_of(truth, asked, rng)
        if read is None or rng.random() < lost:
            walk.skipped.append(asked)
        else:
            walk.said[asked] = read
    return walk


def is_settled(catalog: Catalog, walk: Walk) -> bool:
    """Say whether no field that can still be asked tells any two of the entries left apart."""
    left = StillPossible.of(catalog, table_of_kind(catalog, "pump"), walk.said)
    return not any(left.ruled_out(one) for one in asked_in_order("pump", walk.said, walk.skipped))


def reading_of(truth: Values, field_id: str, rng: random.Random) -> Known | None:
    """Return a reading of the true value with the instrument's doubt, or None where it is not known."""
    versions = [one for one in truth.get(field_id, ()) if one.how.decides]
    if not versions:
        return None
    one = rng.choice(versions)
    if not isinstance(one, Dimension):
        return one
    doubt = field_for(field_id).default_doubt
    return Dimension(one.value + rng.uniform(-doubt, doubt), doubt)


def as_asked(walk: Walk, question: Question) -> str:  # noqa: ARG001 - one way to choose among others
    return question.field


def in_any_order(seed: int) -> Chooser:
    rng = random.Random(seed)
    return lambda walk, _: rng.choice(asked_in_order("pump", walk.said, walk.skipped)).field_id


def truths_of(catalog: Catalog) -> list[str]:
    return random.Random(1).choices([entry.entry_id for entry in catalog.pumps()], k=TRUTHS)


@pytest.mark.parametrize("catalog", [pytest.param(SAMPLE, id="sample"), pytest.param(MANY, id="2,000 pumps")])
def test_few_measurements_settle_which_pump_it_is(catalog: Catalog, capsys: pytest.CaptureFixture[str]) -> None:
    """Settled: one is left, or nothing known of the unit tells two of those left apart. The true one is always left."""
    ours, any_order = [], []
    for seed, pump_id in enumerate(truths_of(catalog)):
        ours.append(walked(catalog, pump_id, random.Random(seed), as_asked))
        any_order.append(walked(catalog, pump_id, random.Random(seed), in_any_order(seed)))
        assert pump_id in {hit.entry_id for hit in entries_meeting(catalog, "pump", ours[-1].said)}
    measured, at_random = median(one.measured for one in ours), median(one.measured for one in any_order)
    answers, random_answers = median(len(one.said) for one in ours), median(len(one.said) for one in any_order)
    with capsys.disabled():
        print(  # noqa: T201 - the figures are the point
            f"\n{len(catalog.pumps())} pumps, medians: {measured:g} measured with a tool ({at_random:g} in any order), "
            f"{answers:g} answers with looks and plates ({random_answers:g} in any order)"
        )
    assert measured <= MOST_MEASURED
    assert measured <= MOST_OF_RANDOM * at_random
    assert answers <= MOST_OF_RANDOM * random_answers


def test_skipping_never_blocks_and_rules_nobody_out() -> None:
    """Two in five cannot be reached: every walk still ends, nothing is asked twice, what is skipped narrows nothing."""
    for seed, pump_id in enumerate(truths_of(MANY)[:20]):
        walk = walked(MANY, pump_id, random.Random(seed), as_asked, lost=0.4)
        assert set(walk.asked) == {*walk.said, *walk.skipped}
        left = {hit.entry_id for hit in entries_meeting(MANY, "pump", walk.said)}
        assert pump_id in left
        question = next_question(MANY, "pump", walk.said, walk.skipped)
        assert question is not None
        assert question.candidates == len(left)


def test_skipping_costs_no_minutes_and_lays_nothing_bare() -> None:
    """What must come off for a field that was skipped is still on: the next field behind it costs the same."""
    first = next_question(SAMPLE, "pump", {}, ())
    assert first is not None
    skipped: list[str] = []
    while (question := next_question(SAMPLE, "pump", {}, skipped)) is not None:
        assert question.field not in skipped
        assert question.candidates == first.candidates
        field_ = field_for(question.field)
        assert question.minutes == minutes_of(field_, off_already({}))
        assert (question.minutes > field_.minutes) == (field_.comes_off_first != "")
        skipped.append(question.field)
    assert len(skipped) == len(set(skipped)) == len(asked_in_order("pump", {}, ()))
