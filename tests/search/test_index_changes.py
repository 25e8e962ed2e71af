"""Changes beside a large store, putting together, and the file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.search.plates import crowded_plates, typed_patterns
from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex
from xref_app.search.index_file import is_sound

rows = st.builds(NumberRow, crowded_plates, st.sampled_from("1234"), st.just("pump"))
row_lists = st.lists(rows, min_size=1, max_size=10)
changes = st.lists(st.tuples(st.booleans(), rows), max_size=8)
SOME = [NumberRow(f"K47-{last:03}", f"e{last}", "pump") for last in range(200)] + [NumberRow("ЖK4²-7", "odd", "pump")]


def changed(index: NumberIndex, kept: list[NumberRow], steps: list[tuple[bool, NumberRow]]) -> list[NumberRow]:
    """Make the changes to ``index`` and return the rows that are left."""
    for is_added, row in steps:
        if is_added:
            index.add(row)
            kept = [*kept, row]
        else:
            index.remove(row.entry_id)
            kept = [other for other in kept if other.entry_id != row.entry_id]
    return kept


@given(typed_patterns, row_lists, changes, changes)
def test_changes_give_the_same_as_building_afresh(
    typed: str, filed: list[NumberRow], first: list[tuple[bool, NumberRow]], then: list[tuple[bool, NumberRow]]
) -> None:
    """Also across putting together in the background, while more changes come in."""
    index = NumberIndex.build(filed)
    index.find("K4")
    kept = changed(index, filed, first)
    assert index.find(typed) == NumberIndex.build(kept).find(typed)
    taken = index.snapshot()
    kept = changed(index, kept, then)
    index.replace(taken, taken.put_together())
    assert index.find(typed) == NumberIndex.build(kept).find(typed)
    assert len(index) == len(kept)


def test_thousands_of_additions_are_all_found() -> None:
    index = NumberIndex.build(SOME)
    index.find("K47")
    for last in range(3000):
        index.add(NumberRow(f"M{last:05}", f"m{last}", "pump"))
    index.remove("m1500")
    assert len(index) == len(SOME) + 2999
    assert [index.find(f"M{last:05}").hits[0].entry_id for last in (0, 511, 512, 2999)] == [
        "m0",
        "m511",
        "m512",
        "m2999",
    ]
    assert index.find("M01500").hits[0].number != "M01500"


def test_the_file_answers_as_the_index_it_was_written_from(tmp_path: Path) -> None:
    path = tmp_path / "numbers.index"
    built = NumberIndex.build([*SOME, NumberRow("L" * 200, "long", "machine")])
    built.save(path, "one")
    opened = NumberIndex.opened(path, "one")
    assert opened is not None
    for typed in ("K47-01", "K?7", "K74-012", "ЖK42", "жк42-7", "LLLLL", "*9"):
        assert opened.find(typed) == built.find(typed)
    opened.add(NumberRow("NEW-1", "new", "pump"))
    assert opened.find("NEW1").hits[0].entry_id == "new"
    assert is_sound(path)


def test_another_stamp_does_not_open_and_is_built_anew(tmp_path: Path) -> None:
    path = tmp_path / "numbers.index"
    NumberIndex.opened_or_built(path, "one", lambda: SOME)
    assert NumberIndex.opened(path, "two") is None
    index = NumberIndex.opened_or_built(path, "two", lambda: [NumberRow("X1", "x", "pump")])
    assert (len(index), NumberIndex.opened(path, "one"), NumberIndex.opened(path, "two") is None) == (1, None, False)
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize("place", [0, 9, 30, 60, 200])
def test_a_damaged_head_does_not_open(tmp_path: Path, place: int) -> None:
    path = tmp_path / "numbers.index"
    NumberIndex.build(SOME).save(path, "one")
    whole = bytearray(path.read_bytes())
    whole[place] ^= 1
    path.write_bytes(whole)
    assert NumberIndex.opened(path, "one") is None


def test_a_cut_file_does_not_open_and_a_changed_byte_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "numbers.index"
    NumberIndex.build(SOME).save(path, "one")
    whole = bytearray(path.read_bytes())
    path.write_bytes(whole[:-1])
    assert NumberIndex.opened(path, "one") is None
    whole[len(whole) // 2] ^= 1
    path.write_bytes(whole)
    assert not is_sound(path)


def test_no_file_and_an_empty_index_do_no_harm(tmp_path: Path) -> None:
    assert NumberIndex.opened(tmp_path / "none", "one") is None
    assert not is_sound(tmp_path / "none")
    NumberIndex().save(tmp_path / "empty", "one")
    empty = NumberIndex.opened(tmp_path / "empty", "one")
    assert empty is not None
    assert empty.find("K47").hits == ()
