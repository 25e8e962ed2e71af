"""How a typed text is understood, and the advice when nothing matches."""

from __future__ import annotations

import pytest
from hypothesis import given

from tests.search.plates import as_regex, crowded_catalogs, index_of, typed_patterns
from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex
from xref_app.search.left_out import LeftOut, best_left_out, no_match_advice
from xref_app.search.pattern import PatternError, parse_number
from xref_app.search.read_as import ReadKind, looks_like_size, read_typed

INDEX = NumberIndex.build(
    [
        NumberRow("K417-21", "p1", "pump"),
        NumberRow("K427-21", "p2", "pump"),
        NumberRow("K427-22", "p3", "pump"),
        NumberRow("Sprayer 2700", "m1", "machine"),
        NumberRow("EN-90", "d1", "driver"),
        NumberRow("TX-5", "p4", "pump"),
        NumberRow("TX-5", "m2", "machine"),
        NumberRow("12 in", "p5", "pump"),
    ]
)


@pytest.mark.parametrize(
    ("typed", "kind", "read_as"),
    [
        ("K417-21", ReadKind.NUMBER, "pump number."),
        ("K4?7-21", ReadKind.NUMBER, "pump number, 1 character unreadable."),
        ("K4?7-2[12]", ReadKind.NUMBER, "pump number, 2 characters unreadable."),
        ("K4*", ReadKind.NUMBER, "pump number, a part missing."),
        ("K?*1", ReadKind.NUMBER, "pump number, 1 character unreadable and a part missing."),
        ("K??*1", ReadKind.NUMBER, "pump number, 2 characters unreadable and a part missing."),
        ("sprayer 27", ReadKind.MODEL, "machine model."),
        ("SPRAYER ??00", ReadKind.MODEL, "machine model, 2 characters unreadable."),
        ("en90", ReadKind.NUMBER, "engine or motor number."),
        ("TX5", ReadKind.NUMBER, "number or model."),
        ("QQQ-1", ReadKind.NUMBER, "number or model."),
        ("3/4 in", ReadKind.SIZE, "a size."),
        ("19,05 mm", ReadKind.SIZE, "a size."),
        ("12 in", ReadKind.NUMBER, "pump number."),
    ],
)
def test_the_read_as_line_says_how_the_text_was_understood(typed: str, kind: ReadKind, read_as: str) -> None:
    reading = read_typed(typed, INDEX)
    assert (reading.kind, str(reading.read_as)) == (kind, read_as)
    assert (reading.hits is None) == (kind is ReadKind.SIZE)


# The ways of writing lengths of issue 2, item 4, and ux.md A5; what has no unit stays a number.
@pytest.mark.parametrize(
    "text", ["7/8 in", '1 1/4"', "1-1/4 in", "22,2 mm", ".750 in", "92.1mm", "2 cm", "1 inch", "3″"]
)
def test_a_number_with_a_unit_of_length_is_a_size(text: str) -> None:
    assert looks_like_size(text)


@pytest.mark.parametrize("text", ["7/8", "3/4-11.5 NH", "2700 psi", "K4 in", "12", "in", "4mm2", "1.2.3 mm", "A-12 mm"])
def test_other_text_is_no_size(text: str) -> None:
    assert not looks_like_size(text)


def test_text_that_is_no_number_is_refused() -> None:
    with pytest.raises(PatternError):
        read_typed("[", INDEX)


def test_a_long_paste_is_read_with_a_note() -> None:
    assert str(read_typed("9" * 100, INDEX).note) == "Only the first 64 characters were read."


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        ("K4?7-2?", None),
        ("K427-31", "Nothing matches all of K427-31. These are one or two characters away."),
        ("K4?7-2??", "Nothing matches all of K4?7-2??. These are one or two characters away."),
        ("K4?7-X", "Nothing matches all of K4?7-X. These are one or two characters away."),
        ("K*X*22", "Nothing matches all of K*X*22. These are one or two characters away."),
        ("X?K", "Nothing matches all of X?K. Without the last character: 2 entries."),
        ("7X", "Nothing matches all of 7X. Without the first character: 2 entries."),
        ("X*7*", "Nothing matches all of X*7*. With ? in place of 7 (3rd character): 2 entries."),
        # the dash is counted, for so does who looks at what was typed
        ("-X*7*", "Nothing matches all of -X*7*. With ? in place of 7 (4th character): 2 entries."),
        ("QQQ-1", "Nothing matches QQQ-1, nor with any one character left out."),
        ("Q", None),  # a worn 0 stands in some number
        ("W", "Nothing matches W, nor with any one character left out."),
    ],
)
def test_the_advice_names_the_one_character_to_leave_out(typed: str, advice: str | None) -> None:
    found = no_match_advice(INDEX.find(typed), INDEX)
    assert (found and str(found)) == advice
    assert read_typed(typed, INDEX).advice == found


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        # the inch is 25.4 mm exactly (1959)
        ("3/4 in", "This reads as a size: 19.05 mm. Measure with F7."),
        ("19,05 mm", "This reads as a size: 19.05 mm. Measure with F7."),
        (
            "1,234 mm",
            "“1,234 mm” can mean 1234 or 1.234. Write it like 1234 mm or 1.234 mm. Measure with F7.",
        ),
        ("12 in", None),  # known as a number
    ],
)
def test_a_size_in_the_line_for_numbers_is_sent_where_sizes_are_entered(typed: str, advice: str | None) -> None:
    told = read_typed(typed, INDEX).advice
    assert (told and str(told)) == advice


def test_of_two_characters_that_leave_as_many_the_last_is_named() -> None:
    left_out = best_left_out(parse_number("A1*B"), index_of(["A1", "1B"]))
    assert left_out == LeftOut(place=3, count=1)


def test_advice_stays_within_the_kinds_asked_for() -> None:
    left_out = best_left_out(parse_number("K4?7-2??"), INDEX, kinds={"machine"})
    assert left_out is None


@given(typed_patterns, crowded_catalogs)
def test_the_count_promised_is_what_then_comes(typed: str, numbers: list[str]) -> None:
    """Oracle: the regular expression of the text that a person would then type."""
    pattern = parse_number(typed)
    left_out = best_left_out(pattern, index_of(numbers))
    if left_out is None:
        return
    parts = [str(token) for token in pattern.tokens]
    parts[left_out.place] = "" if left_out.place in (0, len(parts) - 1) else "?"
    regex = as_regex("".join(parts))
    assert left_out.count == sum(regex.search(number) is not None for number in numbers) > 0
