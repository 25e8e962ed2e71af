"""What a typed number or model could mean."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.services.tiny import Cancelled, Quiet, entry, tiny, tiny_rows
from xref_app.core.model.catalog import Number, ReplacedBy
from xref_app.core.progress import WorkCancelledError
from xref_app.services.catalog import Catalog
from xref_app.services.desk import CatalogDesk
from xref_app.services.find_pump import Finder, is_guessed

TYPED = "LM100-A"


def test_a_typed_number_finds_its_pump_with_every_character_matched() -> None:
    found = Finder.over(tiny()).find(TYPED)
    hit = found.hits[0]
    assert (hit.entry_id, hit.kind, hit.number, hit.maker, hit.route) == ("P1", "pump", TYPED, "Lowmarsh", ())
    assert {TYPED[place] for place in hit.matched} >= set("LM100A")
    assert hit.guessed == ()
    assert not is_guessed(hit)
    assert str(found.read_as)


def test_an_unreadable_character_is_a_guessed_position() -> None:
    found = Finder.over(tiny()).find("LM1?0-A")
    hit = next(one for one in found.hits if one.number == TYPED)
    assert [TYPED[place] for place in hit.guessed] == ["0"]
    assert hit.guessed == (3,)
    assert is_guessed(hit)


def test_what_replaces_a_pump_follows_it_with_the_route() -> None:
    found = Finder.over(tiny()).find(TYPED)
    (end,) = [hit for hit in found.hits if hit.route]
    assert (end.entry_id, end.number, end.route) == ("P2", "P2", (TYPED, "P2"))
    assert (end.matched, end.guessed) == ((), ())


def test_a_replacement_that_was_found_anyway_is_not_shown_twice() -> None:
    numbers = (Number("P1", "LM 100", "maker", "sheet"), Number("P2", "LM 100", "maker", "sheet"))
    found = Finder.over(tiny(numbers=numbers)).find("LM 100")
    assert sorted(hit.entry_id for hit in found.hits) == ["P1", "P2"]


def test_a_replacement_that_is_not_in_the_catalog_is_left_out() -> None:
    found = Finder.over(tiny(replaced_by=(ReplacedBy("P1", "P9"),))).find(TYPED)
    assert all(hit.entry_id != "P9" for hit in found.hits)


def test_a_number_of_an_entry_that_is_gone_is_not_found() -> None:
    catalog = tiny(numbers=(*tiny_rows().numbers, Number("P9", "ZZ 777", "maker", "sheet")))
    assert Finder.over(catalog).find("ZZ 777").hits == ()


def test_a_model_finds_its_machine() -> None:
    hit = Finder.over(tiny()).find("Heron 27").hits[0]
    assert (hit.entry_id, hit.kind) == ("M1", "machine")


def test_nothing_typed_finds_nothing() -> None:
    found = Finder.over(tiny()).find("   ")
    assert (found.hits, found.total, str(found.read_as)) == ((), 0, "")


def test_no_more_hits_are_shown_than_asked_for() -> None:
    numbers = tuple(Number(f"P{i}", f"KX {i:03d}", "maker", "sheet") for i in range(40))
    entries = (*tiny_rows().entries, *(entry(f"P{i}", "pump") for i in range(40)))
    found = Finder.over(tiny(numbers=numbers, entries=entries)).find("KX", limit=5)
    assert len(found.hits) <= 5


def test_a_pump_is_called_by_its_makers_number_else_its_first_else_its_id() -> None:
    catalog = tiny()
    assert catalog.number_of("P1") == TYPED
    assert tiny(numbers=tiny_rows().numbers[:1]).number_of("P1") == "LM 100"
    assert catalog.number_of("P2") == "P2"


def test_every_number_of_the_sample_finds_its_own_entry(sample: Catalog) -> None:
    finder = Finder.over(sample)
    rows = [number for numbers in sample.numbers.values() for number in numbers][::25]
    assert len(rows) > 10
    for row in rows:
        assert row.entry_id in {hit.entry_id for hit in finder.find(row.number, limit=200).hits}, row


def test_a_chain_of_the_sample_leads_to_its_end(sample: Catalog) -> None:
    # replaced_by.csv: P-020 to P-013 to P-006 to P-001
    finder = Finder.over(sample)
    hits = finder.find(sample.number_of("P-020"), limit=200).hits
    assert "P-020" in {hit.entry_id for hit in hits}
    (route,) = [hit.route for hit in hits if hit.entry_id == "P-001"]
    assert route == tuple(sample.number_of(step) for step in ("P-020", "P-013", "P-006", "P-001"))


def test_a_search_nobody_waits_for_stops() -> None:
    desk = CatalogDesk(tiny(), "Tiny")
    assert desk.title() == "Tiny"
    assert desk.find(TYPED, Quiet()).hits
    with pytest.raises(WorkCancelledError):
        desk.find(TYPED, Cancelled())


def test_a_typed_size_is_read_as_a_size_and_looks_for_no_number() -> None:
    found = Finder.over(tiny()).find("6.35 mm")
    assert found.hits == ()
    assert str(found.read_as)


def test_a_changed_entry_is_found_as_it_is_now_and_a_withdrawn_one_no_more() -> None:
    catalog = tiny()
    before = Finder.over(catalog)
    assert [hit.entry_id for hit in before.find("LM100-A").hits][:1] == ["P1"]
    renamed = replace(catalog, numbers={**catalog.numbers, "P1": (Number("P1", "ZW777-K", "maker", "sheet"),)})
    after = before.after(renamed, ["P1"])
    assert [hit.entry_id for hit in after.find("ZW777-K").hits if not hit.route] == ["P1"]
    assert all(hit.number != "LM100-A" for hit in after.find("LM100-A").hits)
    gone = {key: entry for key, entry in catalog.entries.items() if key != "P1"}
    withdrawn = after.after(replace(renamed, entries=gone), ["P1"])
    assert withdrawn.find("ZW777-K").hits == ()
    # Who still asks the desk of before is told nothing that its catalog does not hold.
    added = replace(catalog, entries={**catalog.entries, "P9": replace(catalog.entries["P1"], entry_id="P9")})
    new = replace(added, numbers={**catalog.numbers, "P9": (Number("P9", "QQ5150", "maker", "sheet"),)})
    newest = before.after(new, ["P9"])
    assert [hit.entry_id for hit in newest.find("QQ5150").hits if not hit.route] == ["P9"]
    assert before.find("QQ5150").hits == ()
