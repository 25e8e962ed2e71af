"""Both ports bridged together take the least there is, and nothing under-rated is ever among the needs."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from tests.core.fit.cases import case_with
from tests.core.parts.fitting_graphs import THREADS, all_chains, burden_by_hand, fitting, held_at_once, random_end
from xref_app.core.fit.rated import highest_pressure_bar
from xref_app.core.fit.water_joints import judge_outlet
from xref_app.core.model.shelf import Part, PartEnd
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.fitting_index import fitting_index
from xref_app.core.parts.water import Port, bridge_both
from xref_app.core.plan.judge import judge


def least_by_hand(shelf: tuple[Part, ...], ports: list[Port]) -> Burden | None:
    """Return the least that both chains take together, every pair of chains tried."""
    first, second = (list(all_chains(shelf, port.ours, port.theirs, lambda _: True)) for port in ports)
    fitting_pairs = [burden_by_hand((*one, *other)) for one in first for other in second if held_at_once(one, other)]
    return min(fitting_pairs, default=None)


@pytest.mark.parametrize("start", range(0, 600, 100))
def test_two_ports_share_a_shelf_for_the_least_total(start: int) -> None:
    fought_over = 0
    for seed in range(start, start + 100):
        rng = random.Random(seed)
        threads = rng.sample(THREADS, rng.randrange(1, 3))
        shelf = tuple(fitting(rng, place, threads) for place in range(rng.randrange(2, 6)))
        index = fitting_index(shelf, least_bar=None, hottest_c=20.0)
        ports = [Port(index, random_end(rng, threads), random_end(rng, threads)) for _ in range(2)]
        least = least_by_hand(shelf, ports)
        chains = [one.chain for one in bridge_both(*ports)]
        if least is None:
            assert None in chains, seed
            continue
        assert chains[0] is not None
        assert chains[1] is not None
        assert chains[0].burden + chains[1].burden == least, seed
        used = Counter((*chains[0].pieces, *chains[1].pieces))
        assert all(many <= part.count for part, many in used.items()), seed
        alone = [port.chains(1)[0].burden for port in ports]
        fought_over += alone[0] + alone[1] != least
    assert fought_over


# How many of the random cases are put before the whole judge as well, which takes far longer.
WHOLE_CASES = 100
FITTING: dict[str, Any] = {
    "kind": "fitting",
    "ends": [
        {"thread": "3/8-18 NPT", "gender": "male"},
        {"thread": "M22x1.5", "gender": "male", "seal_mm": 14},
    ],
    "count": 1,
    "cost": 5,
}


def random_piece(rng: random.Random, place: int) -> Part:
    threads = [rng.choice(("3/8-18 NPT", "M22x1.5", "1/4-18 NPT")) for _ in range(2)]
    ends = [PartEnd(one, rng.choice((Gender.MALE, Gender.FEMALE)), 14.0 if "M22" in one else None) for one in threads]
    rating = rng.choice((100.0, 189.0, 190.0, 191.0, 250.0, None))
    return Part(PartKind.FITTING, 2, 1.0 + place, f"T-{place:03}", ends=tuple(ends), rating_bar=rating)


def test_a_weak_piece_is_never_needed_whatever_else_is_listed() -> None:
    port = {"thread": "3/8-18 NPT", "gender": "female", "seal_mm": None}
    outlet = {f"pump.ports.outlet.{name}": value for name, value in port.items()}
    cases = [case_with({**outlet, "pump.rating.pressure_bar": {"value": 190, "doubt": doubt}}) for doubt in (0, 0, 1)]
    planned = 0
    for seed in range(1_000):
        rng = random.Random(seed)
        shelf = tuple(random_piece(rng, place) for place in range(rng.randrange(1, 6)))
        case = replace(rng.choice(cases), shelf=shelf)
        highest = highest_pressure_bar(case.pump, case.shelf)
        assert highest is not None
        needs = judge_outlet(case.machine, case.pump, case.shelf).needs
        if seed < WHOLE_CASES:
            # The whole judge asks for the fittings of this check and for no others.
            assert tuple(need for need in judge(case).needs if need.listed in shelf) == needs, seed
        for need in needs:
            assert need.listed is not None
            planned += 1
            assert need.listed.rating_bar is not None
            assert need.listed.rating_bar >= highest.high, seed
    assert planned >= 20


def test_a_reducer_and_an_adapter_make_a_chain_of_two() -> None:
    two = [
        {**FITTING, "part_id": "T-001", "rating_bar": 250},
        {
            "kind": "fitting",
            "part_id": "T-002",
            "rating_bar": 250,
            "count": 1,
            "cost": 3,
            "ends": [{"thread": "3/8-18 NPT", "gender": "female"}, {"thread": "1/4-18 NPT", "gender": "male"}],
        },
    ]
    changes = {
        "pump.ports.outlet.thread": "1/4-18 NPT",
        "pump.ports.outlet.gender": "female",
        "pump.ports.outlet.seal_mm": None,
    }
    outlet = next(one for one in judge(case_with({**changes, "shelf": two})).findings if one.check == "outlet")
    assert str(outlet.reason) == (
        "M22x1.5 and 1/4-18 NPT are different threads: 22.0 against 13.6 mm over the crests. These listed "
        "fittings join them, from the hose on: 3/8-18 NPT male to M22x1.5 male (14 mm seal), then 3/8-18 NPT female "
        "to 1/4-18 NPT male."
    )
    assert [str(need.what) for need in outlet.needs] == [
        "Fitting 3/8-18 NPT male to M22x1.5 male (14 mm seal)",
        "Fitting 3/8-18 NPT female to 1/4-18 NPT male",
    ]
    tight, turned = (str(note) for note in outlet.notes)
    assert tight == (
        "Made tight, from the hose on: O-ring on the plug; sealant or tape on the taper; sealant or tape on the taper."
    )
    assert turned.startswith("No end of these turns by itself")


def test_hot_water_wants_fittings_that_stand_it() -> None:
    part = {**FITTING, "part_id": "T-001", "rating_bar": 250, "max_c": 50}
    changes = {
        "pump.ports.outlet.thread": "3/8-18 NPT",
        "pump.ports.outlet.gender": "female",
        "pump.ports.outlet.seal_mm": None,
        "shelf": [part],
    }

    def outlet(temperature: Any) -> tuple[str, str]:  # a JSON value
        judged = judge(case_with({**changes, "machine.water.supply.temperature_c": temperature}))
        found = next(one for one in judged.findings if one.check == "outlet")
        return found.outcome.word, str(found.reason)

    assert outlet(40)[0] == "by parts"
    assert outlet(55)[0] == "fail"
    assert outlet(55)[1].endswith("do not stand water of 56 °C.")
    assert outlet({"value": 50, "doubt": 3})[0] == "unknown"


def test_the_last_piece_goes_to_one_port_only() -> None:
    part = {**FITTING, "part_id": "T-001", "rating_bar": 250}
    same = {
        "machine.water.supply.thread": "M22x1.5",
        "machine.water.supply.gender": "female",
        "machine.water.supply.seal_mm": 14,
    }
    for port in ("inlet", "outlet"):
        same |= {
            f"pump.ports.{port}.thread": "3/8-18 NPT",
            f"pump.ports.{port}.gender": "female",
            f"pump.ports.{port}.seal_mm": None,
        }
    one = {finding.check: finding for finding in judge(case_with({**same, "shelf": [part]})).findings}
    assert one["outlet"].outcome.word == "by parts"
    assert one["inlet"].outcome.word == "fail"
    assert str(one["inlet"].reason).endswith("are needed at the other port, and no more are listed.")
    both = judge(case_with({**same, "shelf": [{**part, "count": 2}]}))
    assert [(str(need.what), need.quantity) for need in both.needs] == [
        ("Fitting 3/8-18 NPT male to M22x1.5 male (14 mm seal), at the inlet", 1),
        ("Fitting 3/8-18 NPT male to M22x1.5 male (14 mm seal), at the outlet", 1),
    ]
