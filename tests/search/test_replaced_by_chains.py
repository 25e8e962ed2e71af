"""Replaced-by chains."""

from __future__ import annotations

from itertools import pairwise, permutations

from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.model.catalog import ReplacedBy
from xref_app.search.chains import MOST_ROUTES, MOST_STEPS, follow, links_from

_names = "ABCDE"
_graphs = st.dictionaries(
    st.sampled_from(_names), st.lists(st.sampled_from(_names), min_size=1, max_size=3, unique=True), max_size=5
)


def test_a_chain_is_shown_oldest_first() -> None:
    links = links_from([ReplacedBy("B", "C"), ReplacedBy("A", "B"), ReplacedBy("C", "D"), ReplacedBy("A", "B")])
    assert links == {"B": ("C",), "A": ("B",), "C": ("D",)}
    assert follow("A", links) == (("A", "B", "C", "D"),)
    assert follow("C", links) == (("C", "D"),)


def test_a_current_entry_has_no_route() -> None:
    assert follow("D", {"A": ("D",)}) == ()


def test_every_branch_is_a_route_of_its_own() -> None:
    links = {"A": ("B", "C"), "B": ("D",), "C": ("D", "E")}
    assert follow("A", links) == (("A", "B", "D"), ("A", "C", "D"), ("A", "C", "E"))


def test_a_circle_ends_before_it_closes() -> None:
    assert follow("A", {"A": ("B",), "B": ("C",), "C": ("A",)}) == (("A", "B", "C"),)
    assert follow("A", {"A": ("A",)}) == ()


def test_long_chains_and_many_routes_are_cut() -> None:
    chain = {str(step): (str(step + 1),) for step in range(100)}
    assert follow("0", chain) == (tuple(str(step) for step in range(MOST_STEPS + 1)),)
    tangled = dict.fromkeys("ABCDEFGHIJKLMNOP", tuple("ABCDEFGHIJKLMNOP"))
    assert len(follow("A", tangled)) == MOST_ROUTES


@given(_graphs)
def test_routes_are_those_found_by_trying_every_order(links: dict[str, list[str]]) -> None:
    expected = set()
    for length in range(2, len(_names) + 1):
        for order in permutations(_names, length):
            is_linked = all(newer in links.get(older, ()) for older, newer in pairwise(order))
            if order[0] == "A" and is_linked and set(links.get(order[-1], ())) <= set(order):
                expected.add(order)
    assert set(follow("A", links)) == expected
