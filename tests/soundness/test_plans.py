"""Every plan does what it claims: put in by a second implementation it holds for every draw, and no cheaper one does.

The bench is played by tests/soundness/oracle.py, which shares no code with xref_app: the pieces of the plan are laid
under the bolts it names, each as thick as a listed piece may be, the new bolts are put in, and everything is measured.
"""

from __future__ import annotations

import copy
import random
from dataclasses import replace

import pytest

from tests.core.bolts_as_sold import lengths_sold_mm
from tests.soundness.bases import BASES
from tests.soundness.cases import SeededCase
from tests.soundness.changes import set_doubts, value_at
from tests.soundness.draw import draw
from tests.soundness.fields import HEIGHTS, Json, put
from tests.soundness.oracle import LENIENT, bolt_major_and_pitch_mm, failing_at
from tests.soundness.realisation import Realisation
from xref_app.core.errors import XrefError
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.fit.hints import without_hints
from xref_app.core.model.case import Case
from xref_app.core.plan.face_plan import face_plan
from xref_app.core.plan.judge import judge
from xref_app.exchange.case_file import read_case

CASES, CHUNK, DRAWS = 5_000, 250, 3
ALONE = 1_500  # cases judged again with nothing but the plan on the shelf
PIECE_MM, PICKED_MM = 0.05, 0.02  # house rules: a listed thickness; one picked with the micrometer for one leg
FACE_CHECKS = {"reach", "key load", "pilot", "seat", "bolts", "pattern"}
ON_ARRIVAL = {"room", "oil", "way out"}


def gap_case(seed: int) -> SeededCase:
    """Return a case with gaps that parts may bridge, and a shelf that may hold them."""
    rng = random.Random(seed)
    case = BASES[seed % len(BASES)]()
    for gap in rng.sample((longer_shaft, low_legs, boss_on_flat, other_bolts, thick_flange), rng.choice((1, 1, 2, 3))):
        gap(case, rng)
    case["shelf"] = shelf(case, rng)
    if rng.random() < 0.6:
        set_doubts(case, rng)
    return SeededCase(seed, case, copy.deepcopy(case), ())


def longer_shaft(case: Json, rng: random.Random) -> None:
    put(case, "machine.shaft.projection_mm", value_at(case, "pump.bore.depth_mm") - 1.6 + rng.uniform(0.2, 9))


def low_legs(case: Json, rng: random.Random) -> None:
    count = len(value_at(case, "pump.flange.holes_xy_mm"))
    low = [0.0] + [-rng.choice((0, 0, 0.5, 1, 2, rng.uniform(0, 3))) for _ in range(count - 1)]
    put(case, HEIGHTS["pump"], {"value": low, "doubt": rng.choice((0.0, 0.02, 0.05))})
    put(case, "machine.face.seat_kind", "flat face")
    put(case, HEIGHTS["machine"], None)


def boss_on_flat(case: Json, rng: random.Random) -> None:
    for side, kind in (("machine.face", "boss"), ("pump.flange", "none")):
        put(case, f"{side}.pilot_kind", kind)
    put(case, "machine.face.pilot_mm", 60)
    put(case, "machine.face.pilot_depth_mm", {"value": rng.uniform(0.5, 6), "doubt": rng.choice((0.0, 0.1))})


def other_bolts(case: Json, rng: random.Random) -> None:
    put(case, "machine.face.bolt_length_mm", rng.choice((None, 19.05, 25.4, 38.1, 50.8)))


def thick_flange(case: Json, rng: random.Random) -> None:
    put(case, "pump.flange.thickness_mm", value_at(case, "pump.flange.thickness_mm") + rng.uniform(-4, 12))


def shelf(case: Json, rng: random.Random) -> list[Json]:
    """Return up to six kinds of spacer and shim and some bolts, few of each."""
    pieces = [
        {
            "kind": rng.choice(("spacer", "spacer", "shim")),
            "thickness_mm": rng.choice((0.2, 0.5, 1, 1.5, 2, 3.2, 4, 4.8, 5, 6.4)),
            "count": rng.choice((1, 2, 3, 4, 6, 8)),
            "cost": rng.choice((0.1, 0.4, 0.5, 2)),
            "part_id": f"T-{place:03}",
        }
        for place in range(rng.randrange(7))
    ]
    bolts = [
        {
            "kind": "bolt",
            "thread": value_at(case, "machine.face.bolt"),
            "length_mm": rng.choice((25.4, 31.75, 35, 38.1, 40, 44.45)),
            "count": rng.choice((1, 3, 4)),
            "cost": 0.5,
            "part_id": f"T-{place:03}",
        }
        for place in range(50, 50 + rng.randrange(4))
    ]
    return [*pieces, *bolts]


def read_or_none(case: SeededCase) -> Case | None:
    try:
        read = read_case(case.shown)
    except XrefError:
        return None
    return without_hints(read[0]) if len(read) == 1 else None


def put_in(real: Realisation, parts: FaceParts, rng: random.Random) -> Realisation:
    """Lay the pieces under the bolts and put in the new bolts, as exact sizes the list allows."""
    assert parts.turn is not None
    stacks = [parts.stack_under(place) for place in range(len(parts.turn.pairs))]
    doubt = PIECE_MM if len(set(stacks)) == 1 else PICKED_MM
    off = {piece: rng.choice((-doubt, 0.0, doubt)) for stack in stacks for piece in stack.pieces}
    under = {
        hole: sum(piece.thickness_mm + off[piece] for piece in stack.pieces)
        for (hole, _), stack in zip(parts.turn.pairs, stacks, strict=True)
    }
    bolts = parts.bolts if len(parts.bolts) > 1 else parts.bolts * len(stacks)
    thread = real.words["face_bolt"]
    major, is_metric = bolt_major_and_pitch_mm(thread)[0], thread.startswith("M")
    new = {
        hole: rng.choice(lengths_sold_mm(bolt.length_mm, is_metric=is_metric, nominal_mm=major))
        for (hole, _), bolt in zip(parts.turn.pairs, bolts, strict=False)
        if bolt is not None
    }
    return replace(real, under_mm=under, new_bolts_mm=new)


@pytest.mark.parametrize("start", range(0, CASES, CHUNK))
def test_a_plan_put_in_holds_for_every_draw(start: int) -> None:
    for seed in range(start, start + CHUNK):
        seeded = gap_case(seed)
        case = read_or_none(seeded)
        if case is None or judge(case).verdict not in {Verdict.FITS, Verdict.FITS_WITH_PARTS}:
            continue
        parts = face_plan(case).parts
        assert parts.turn is not None
        pairs = {(theirs, ours) for ours, theirs in parts.turn.pairs}
        rng = random.Random(seed)
        for real in draw(seeded.shown, seeded.made_from, DRAWS, seed):
            failing = failing_at(put_in(real, parts, rng), pairs, LENIENT)
            assert not failing - ON_ARRIVAL, f"seed {seed}: {parts} fails {failing}: {real}"


def test_the_cases_ask_for_every_kind_of_part() -> None:
    stacked = legged = bolted = made = listed_two = 0
    for seed in range(600):
        case = read_or_none(gap_case(seed))
        if case is None or judge(case).verdict is not Verdict.FITS_WITH_PARTS:
            continue
        parts = face_plan(case).parts
        stacked += parts.has_stacks and len(set(parts.stacks)) == 1
        legged += len(set(parts.stacks)) > 1
        bolted += any(parts.bolts)
        made += any(piece.listed is None for stack in parts.stacks for piece in stack.pieces)
        listed_two += any(len(stack.pieces) == 2 for stack in parts.stacks)
    assert min(stacked, legged, bolted, made, listed_two) >= 10, (stacked, legged, bolted, made, listed_two)


def back_through(case: Case) -> Case:
    """Return the case with the plan's parts and no others on the shelf, in just the numbers it takes."""
    counted: dict[str, int] = {}
    for need in judge(case).needs:
        if need.listed is not None:
            counted[need.listed.part_id] = counted.get(need.listed.part_id, 0) + need.quantity
    shelf_left = tuple(replace(part, count=counted[part.part_id]) for part in case.shelf if part.part_id in counted)
    return replace(case, shelf=shelf_left)


@pytest.mark.parametrize("start", range(0, ALONE, CHUNK))
def test_the_parts_of_a_plan_alone_on_the_shelf_give_the_same_verdict(start: int) -> None:
    for seed in range(start, start + CHUNK):
        case = read_or_none(gap_case(seed))
        if case is None:
            continue
        judgement = judge(case)
        if judgement.verdict is not Verdict.FITS_WITH_PARTS:
            continue
        again = judge(back_through(case))
        assert again.verdict is Verdict.FITS_WITH_PARTS, seed
        assert {(str(need.what), need.quantity) for need in again.needs} == {
            (str(need.what), need.quantity) for need in judgement.needs
        }, seed
        claimed = {one.check for one in judgement.findings if one.outcome is Outcome.BY_PARTS}
        assert claimed & FACE_CHECKS, seed
