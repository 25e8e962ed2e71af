"""Two processes pair up one engine at the same instant, each with a pump of its own: exactly one has it, whole."""

from __future__ import annotations

from collections import Counter
from contextlib import ExitStack
from pathlib import Path

from tests.faults.racers import PEOPLE, RACES, race, racer, send_home
from tests.store.rows import small_catalog
from xref_app.core.model.catalog import SalvagedUnit
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository


def units() -> tuple[SalvagedUnit, ...]:
    """Return for each race one engine and two pumps."""
    return tuple(
        SalvagedUnit(f"{letter}-{number:03}", entry)
        for number in range(RACES)
        for letter, entry in (("RE", "D001"), ("RP", "P003"), ("RQ", "P003"))
    )


def test_exactly_one_of_two_has_the_engine_and_the_other_holds_nothing(tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    engine = open_engine(store)
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    import_catalog(engine, CatalogRows(salvaged_units=units()), who="Ana", why="salvaged")
    winners = Counter[str]()
    with ExitStack() as stack:
        racers = [racer(stack, "racing_pairer", store, who) for who in PEOPLE]
        for number in range(RACES):
            motor = f"RE-{number:03}"
            said = race(racers, [f"{motor} RP-{number:03}", f"{motor} RQ-{number:03}"])
            assert said.count("won") == 1, said
            winner = PEOPLE[said.index("won")]
            words = f"Unit {motor} is reserved for job of {winner} by {winner}; nothing was changed: take another pair."
            assert said[1 - said.index("won")] == words
            winners[winner] += 1
        send_home(racers)
    assert min(winners[who] for who in PEOPLE) > 0  # or they took turns in one order, and this test shows nothing
    held = Counter(one.unit_id for one in CatalogRepository(engine).unit_reservations() if one.unit_id[0] == "R")
    assert max(held.values()) == 1
    assert Counter(one[:2] for one in held) == {"RE": RACES, "RP": winners["Ana"], "RQ": winners["Ben"]}
    assert check_store(engine).is_whole
    engine.dispose()
