"""Changes beside a large store, putting together, and the file."""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.search.plates import crowded_plates, typed_patterns
from xref_app.files.errors import DamagedArrayError
from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberHits, NumberIndex
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


def test_another_stamp_does_not_open_and_a_file_is_replaced_whole(tmp_path: Path) -> None:
    path = tmp_path / "numbers.index"
    NumberIndex.build(SOME).save(path, "one")
    assert NumberIndex.opened(path, "two") is None
    NumberIndex.build([NumberRow("X1", "x", "pump")]).save(path, "two")
    assert NumberIndex.opened(path, "one") is None
    found = NumberIndex.opened(path, "two")
    assert found is not None
    assert len(found) == 1
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


def test_a_file_with_one_byte_changed_is_not_sound_and_is_not_opened_as_such(tmp_path: Path) -> None:
    path = tmp_path / "numbers.index"
    NumberIndex.build(SOME).save(path, "one")
    assert NumberIndex.opened_sound(path, "one") is not None
    whole = path.read_bytes()
    path.write_bytes(whole[:-70] + bytes([whole[-70] ^ 1]) + whole[-69:])
    assert NumberIndex.opened_sound(path, "one") is None


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


@pytest.fixture(scope="module")
def whole_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of an index large enough to have lists."""
    path = tmp_path_factory.mktemp("large") / "numbers.index"
    texts = [f"K{place % 97:02}-{place:05}" for place in range(2000)] + ["ЖK4²-7"]
    NumberIndex.build(NumberRow(text, f"e{place}", "pump") for place, text in enumerate(texts)).save(path, "one")
    return path


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), min_size=1, max_size=400))
def test_damage_inside_the_arrays_gives_answers_or_the_one_error(
    whole_file: Path, tmp_path: Path, spots: list[tuple[float, int]]
) -> None:
    """Bytes anywhere behind the head are overwritten; nothing but the error that asks for a rebuild may come out."""
    damaged = bytearray(whole_file.read_bytes())
    start = 4096
    for where, byte in spots:
        damaged[start + int(where * (len(damaged) - start))] = byte
    path = tmp_path / "damaged.index"
    path.write_bytes(damaged)
    index = NumberIndex.opened(path, "one")
    if index is None:
        return
    for typed in ("K47-00047", "K4?00147", "47-0", "K74", "ЖK4²-7", "KK47-01", "*9"):
        with suppress(DamagedArrayError):
            assert isinstance(index.find(typed), NumberHits)
    with suppress(DamagedArrayError):
        index.remove("e100")


@pytest.mark.parametrize("array", ["owners", "postings", "texts", "text_ends", "id_ends", "kind_of", "separators"])
def test_a_wholly_overwritten_array_gives_answers_or_the_one_error(
    whole_file: Path, tmp_path: Path, array: str
) -> None:
    damaged = bytearray(whole_file.read_bytes())
    length = int.from_bytes(damaged[8:16], "little")
    head = json.loads(damaged[48 : 48 + length])
    start = -(-(48 + length) // 64) * 64 + head["arrays"][array]["at"]
    stop = start + head["arrays"][array]["length"] * int(head["arrays"][array]["type"][-1])
    damaged[start:stop] = b"\xfe" * (stop - start)
    path = tmp_path / "damaged.index"
    path.write_bytes(damaged)
    index = NumberIndex.opened(path, "one")
    assert index is not None
    with suppress(DamagedArrayError):
        assert isinstance(index.find("K47-00047"), NumberHits)


def test_the_error_says_what_to_do() -> None:
    assert str(DamagedArrayError("numbers")).endswith("It is made anew when it is opened.")


def test_lists_that_do_not_hold_together_do_not_open(whole_file: Path, tmp_path: Path) -> None:
    damaged = bytearray(whole_file.read_bytes())
    length = int.from_bytes(damaged[8:16], "little")
    arrays = json.loads(damaged[48 : 48 + length])["arrays"]
    for array in ("list_ends", "first_of_length"):
        start = -(-(48 + length) // 64) * 64 + arrays[array]["at"]
        spoilt = bytearray(damaged)
        spoilt[start : start + 8] = b"\xff" * 8
        path = tmp_path / f"{array}.index"
        path.write_bytes(spoilt)
        assert NumberIndex.opened(path, "one") is None


edits = st.lists(st.tuples(st.sampled_from("aer"), rows, crowded_plates), max_size=12)


@given(typed_patterns, row_lists, edits)
def test_adding_editing_and_removing_in_any_order_gives_the_same_as_building_afresh(
    typed: str, filed: list[NumberRow], steps: list[tuple[str, NumberRow, str]]
) -> None:
    """Editing an entry is forgetting its numbers and filing others, as the services do."""
    index = NumberIndex.build(filed)
    index.find("K4")
    kept = list(filed)
    for step, row, other in steps:
        if step in "er":
            index.remove(row.entry_id)
            kept = [one for one in kept if one.entry_id != row.entry_id]
        if step in "ae":
            new = [row, NumberRow(other, row.entry_id, row.kind)]
            kept += new
            for one in new:
                index.add(one)
        assert index.find(typed) == NumberIndex.build(kept).find(typed)
    assert len(index) == len(kept)
