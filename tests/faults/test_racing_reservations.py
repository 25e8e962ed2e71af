"""Two processes reserve the last pieces at the same instant: exactly one has them, and the other is told who."""

from __future__ import annotations

from collections import Counter
from contextlib import ExitStack
from pathlib import Path

from tests.faults.racers import PEOPLE, RACES, race, racer, send_home
from tests.store.rows import small_catalog
from xref_app.core.model.catalog import ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository


def test_exactly_one_of_two_gets_the_last_pieces(tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    engine = open_engine(store)
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    places = [f"RACE-{number:03}" for number in range(RACES)]
    rows = tuple(ShelfRow(one, "S32", "", one.removeprefix("RACE-"), 4) for one in places)
    import_catalog(engine, CatalogRows(shelf=rows), who="Ana", why="last pieces")
    winners = Counter[str]()
    with ExitStack() as stack:
        racers = [racer(stack, "racing_reserver", store, who) for who in PEOPLE]
        for place in places:
            said = race(racers, [place] * len(racers))
            assert said.count("won") == 1, said
            winner = PEOPLE[said.index("won")]
            label = place.removeprefix("RACE-")
            words = f"Bin {label} has 0 free and 4 are wanted; 4 are reserved for job of {winner} by {winner}."
            assert said[1 - said.index("won")] == words
            winners[winner] += 1
        send_home(racers)
    assert min(winners[who] for who in PEOPLE) > 0  # or they took turns in one order, and this test shows nothing
    held = Counter(one.shelf_id for one in CatalogRepository(engine).reservations())
    assert all(held[place] == 1 for place in places)
    assert check_store(engine).is_whole
    engine.dispose()
