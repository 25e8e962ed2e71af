"""Who is said to replace whom: shown as somebody's word, never in a circle, never through what was withdrawn."""

from __future__ import annotations

from dataclasses import replace

from tests.services.tiny import Quiet, entry, tiny, tiny_rows
from xref_app.core.model.catalog import Number, ReplacedBy
from xref_app.services.answers import Hit, RemarkKind
from xref_app.services.catalog import Catalog
from xref_app.services.desk import CatalogDesk
from xref_app.services.find_pump import Finder
from xref_app.services.replacements import Replacements

ROWS = tiny_rows()


def chained(*steps: tuple[str, str, str], names: str = "ABCD") -> Catalog:
    """Return the tiny catalog with pumps QX-A, QX-B and so on that replace each other as ``steps`` say."""
    entries = tuple(replace(entry(f"P{name}", "pump"), name="") for name in names)
    numbers = tuple(Number(f"P{name}", f"QX{name}70{place}", "maker", "plate") for place, name in enumerate(names))
    links = tuple(ReplacedBy(f"P{old}", f"P{new}", how=how) for old, new, how in steps)
    machine = replace(ROWS.machines[0], pump_id="PA")
    return tiny(entries=(*ROWS.entries, *entries), numbers=numbers, replaced_by=links, machines=(machine,))


CHAIN = (("A", "B", "sheet"), ("B", "C", "claimed"))


def led_to(catalog: Catalog, typed: str = "QXA700") -> list[Hit]:
    return [hit for hit in Finder.over(catalog).find(typed).hits if hit.route]


def claims(catalog: Catalog) -> dict[str, str]:
    desk = CatalogDesk(catalog, "Tiny")
    rows = desk.judge_all(desk.open_job(None, "M1", Quiet()), Quiet()).rows
    return {row.entry_id: str(remark.line) for row in rows for remark in row.remarks if remark.kind is RemarkKind.CLAIM}


def test_a_chain_shows_its_route_and_is_as_weak_as_its_weakest_step() -> None:
    (hit,) = led_to(chained(*CHAIN))
    assert (hit.entry_id, hit.route) == ("PC", ("QXA700", "QXB701", "QXC702"))
    assert str(hit.claim) == "said to replace QXA700 by way of QXB701 (claimed)"


def test_one_step_names_no_way() -> None:
    (hit,) = led_to(chained(("A", "B", "sheet")))
    assert str(hit.claim) == "said to replace QXA700 (sheet)"


def test_a_link_said_twice_is_as_strong_as_its_stronger_saying() -> None:
    (hit,) = led_to(chained(("A", "B", "claimed"), ("A", "B", "sheet")))
    assert str(hit.claim) == "said to replace QXA700 (sheet)"


def test_a_replacement_that_was_found_by_its_own_number_still_says_whom_it_replaces() -> None:
    hits = {hit.entry_id: hit for hit in Finder.over(chained(*CHAIN)).find("QX*").hits}
    assert len(hits) == 4
    assert str(hits["PC"].claim) == "said to replace QXA700 by way of QXB701 (claimed)"
    assert hits["PC"].matched
    assert hits["PD"].claim is None


def test_a_circle_is_called_one_and_nothing_hangs() -> None:
    (hit,) = led_to(chained(("A", "B", "sheet"), ("B", "A", "claimed")))
    assert hit.entry_id == "PB"
    assert str(hit.claim) == "said to replace QXA700, and QXA700 to replace it: ask which is the newer"
    assert claims(chained(*CHAIN, ("C", "A", "claimed")))["PC"].endswith("ask which is the newer")


def test_an_entry_said_to_replace_itself_replaces_nothing() -> None:
    catalog = chained(("A", "A", "claimed"))
    assert led_to(catalog) == []
    assert claims(catalog) == {}


def test_a_circle_further_on_does_not_touch_the_claim_before_it() -> None:
    catalog = chained(("A", "B", "sheet"), ("B", "C", "sheet"), ("C", "B", "sheet"))
    assert claims(catalog)["PB"] == "said to replace QXA700 (sheet)"


def test_a_chain_ends_before_what_was_withdrawn() -> None:
    catalog = chained(*CHAIN)
    entries = dict(catalog.entries)
    del entries["PC"]
    (hit,) = led_to(replace(catalog, entries=entries))
    assert (hit.entry_id, hit.route) == ("PB", ("QXA700", "QXB701"))
    entries = dict(catalog.entries)
    del entries["PB"]
    assert led_to(replace(catalog, entries=entries)) == []
    assert claims(replace(catalog, entries=entries)) == {}


def test_candidates_say_that_they_are_said_to_replace_the_pump_coming_off() -> None:
    assert claims(chained(*CHAIN)) == {
        "PB": "said to replace QXA700 (sheet)",
        "PC": "said to replace QXA700 by way of QXB701 (claimed)",
    }


def test_the_shortest_way_is_told() -> None:
    catalog = chained(*CHAIN, ("A", "C", "sheet"))
    assert Replacements.of(catalog).newer("PA")["PC"] == ("PA", "PC")


def test_a_claim_moves_no_pump_in_the_list() -> None:
    def numbers(catalog: Catalog) -> list[str]:
        desk = CatalogDesk(catalog, "Tiny")
        return [row.entry_id for row in desk.judge_all(desk.open_job(None, "M1", Quiet()), Quiet()).rows]

    assert numbers(chained(*CHAIN)) == numbers(chained())
