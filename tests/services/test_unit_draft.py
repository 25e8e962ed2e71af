"""A draft: each step taken back and done again by name, and the whole of it kept as text."""

from __future__ import annotations

import random

import pytest

from xref_app.services.unit_draft import (
    DraftUnreadableError,
    Heading,
    Typed,
    UnitDraft,
    UnitKind,
    draft_from_text,
)

FIELDS = ("bore_diameter_mm", "bore_depth_mm", "flange_hole_mm", Heading.NUMBER, Heading.MAKER)


def blank() -> UnitDraft:
    return UnitDraft("d1", UnitKind.PUMP)


def some_value(chance: random.Random) -> Typed | None:
    number = chance.randrange(1, 5)
    if number == 1:
        return None
    texts = tuple(f"{chance.uniform(1, 60):.2f}" for _ in range(number - 1))
    return Typed(texts=texts, parts=(("count", "4"),), unit=chance.choice(["mm", "in"]), worked_doubt=0.1)


def test_undo_names_the_field_and_puts_the_value_before_back() -> None:
    first, second = Typed(texts=("19.02",)), Typed(texts=("19.02", "19.04"))
    draft = blank().write("bore_diameter_mm", first).write("bore_diameter_mm", second)
    assert draft.next_undo == "bore_diameter_mm"
    before = draft.undo()
    assert before.written["bore_diameter_mm"] == first
    assert before.next_redo == "bore_diameter_mm"
    assert before.redo() == draft
    assert before.undo().undo().is_empty  # one step more than there are changes nothing


def test_writing_the_same_again_is_no_step() -> None:
    draft = blank().write("bore_depth_mm", Typed(texts=("65",)))
    assert draft.write("bore_depth_mm", Typed(texts=("65",))) is draft


def test_a_new_step_drops_those_taken_back() -> None:
    draft = blank().write("bore_depth_mm", Typed(texts=("65",))).undo().write("flange_hole_mm", Typed(texts=("8.7",)))
    assert draft.next_redo == ""
    assert [step.field for step in draft.steps] == ["flange_hole_mm"]


@pytest.mark.parametrize("seed", range(20))
def test_undo_all_of_a_thousand_random_edits_gives_the_blank_draft_and_redo_all_the_last(seed: int) -> None:
    chance = random.Random(seed)
    draft = blank()
    for _ in range(1000):
        act = chance.random()
        if act < 0.2:
            draft = draft.undo()
        elif act < 0.3:
            draft = draft.redo()
        else:
            draft = draft.write(chance.choice(FIELDS), some_value(chance))
        if chance.random() < 0.02:
            draft = draft_from_text("d1", draft.as_text())  # a restart in the middle
    last, done = dict(draft.written), draft.done
    while draft.next_undo:
        draft = draft.undo()
    assert draft.is_empty
    while draft.done < done:
        draft = draft.redo()
    assert draft.written == last


def test_text_and_back_is_the_same_draft() -> None:
    draft = UnitDraft("d1", UnitKind.MACHINE, "M-019", "P-030").write(
        "face_holes_xy_mm",
        Typed(
            texts=("count 4", "far 2 7/8"),
            parts=(("count", "4"),),
            instrument="caliper, inside jaws",
            how="claimed",
            unit="in",
            worked="46 0; 0 46",
            worked_doubt=0.15,
            taken_as="92 mm",
        ),
    )
    draft = draft.write("bore_depth_mm", Typed(is_skipped=True)).undo()
    assert draft_from_text("d1", draft.as_text()) == draft


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "{}",
        '{"format": 2}',
        blank().as_text().replace('"done": 0', '"done": 7'),
        blank().as_text().replace("pump", "pmup"),
        blank().write("bore_depth_mm", Typed(texts=("1",))).as_text().replace('["1"]', "3"),
    ],
)
def test_a_damaged_draft_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(DraftUnreadableError) as refused:
        draft_from_text("d1", text)
    assert str(refused.value).startswith("The unfinished entry d1 cannot be read (")
    assert str(refused.value).endswith("it is left aside, nothing else is.")
