"""The measure card: look-alikes stay open until the reading that decides, and nothing is taken that was not said."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import field_for
from xref_app.core.identify.even_holes import SAME_WITHIN_MM
from xref_app.core.model.known import Pattern
from xref_app.core.standards.threads import thread_rows
from xref_app.services.card_session import CardSession, ChoiceKind, NotTakenError
from xref_app.services.card_thread import designation_of
from xref_app.services.cards import also_said, session_for
from xref_app.services.field_reading import read_typed_field
from xref_app.services.unit_draft import Typed, UnitDraft, UnitKind

SKIP = None
ALL_SAME = "all the same, measured"


def blank(kind: UnitKind = UnitKind.PUMP) -> UnitDraft:
    return UnitDraft("d1", kind)


def session(field: str, draft: UnitDraft | None = None, unit: str = "mm") -> CardSession:
    return session_for(field_for(field), draft or blank(), unit=unit)


def answered(begun: CardSession, answers: Sequence[str | None]) -> CardSession | Typed:
    """Return where the card stands after these answers, None skipping a step."""
    now: CardSession | Typed | None = begun
    for answer in answers:
        assert isinstance(now, CardSession)
        now = now.skip_step() if answer is SKIP else now.take(answer)
    assert now is not None
    return now


def typed(begun: CardSession, *answers: str | None) -> Typed:
    found = answered(begun, answers)
    assert isinstance(found, Typed)
    return found


# --- one value


def test_a_number_is_taken_as_typed_and_the_published_sizes_are_only_offered() -> None:
    card = session("bore_diameter_mm")
    preview = card.preview("19.02")
    assert preview.reads == "19.02 ± 0.1 mm = 0.7488 in"
    assert [(one.kind, one.value) for one in preview.choices] == [
        (ChoiceKind.KEEP, ""),
        (ChoiceKind.TAKEN_AS, "19 mm"),
        (ChoiceKind.TAKEN_AS, "3/4 in"),
    ]
    assert card.take("19.02") == Typed(texts=("19.02",))
    named = card.take("19.02", preview.choices[2])
    assert named == Typed(texts=("19.02",), taken_as="3/4 in")
    assert isinstance(named, Typed)
    assert read_typed_field(field_for("bore_diameter_mm"), named).observed.value == 19.02  # never put in its place


def test_the_keyway_read_before_tells_the_bores_apart() -> None:
    draft = blank().write("bore_keyway_width_mm", Typed(texts=("4.8",)))
    offered = session("bore_diameter_mm", draft).preview("19.05").choices
    assert [one.value for one in offered] == ["", "3/4 in"]


def test_inch_or_mm_must_be_answered_before_the_reading_is_taken() -> None:
    card = session("bore_diameter_mm")
    preview = card.preview(".75")
    assert preview.must_choose
    assert [str(one.label) for one in preview.choices] == ["0.75 in = 19.05 mm", "0.75 mm = 0.02953 in"]
    with pytest.raises(NotTakenError) as refused:
        card.take(".75")
    assert str(refused.value) == "Inch or mm? Choose with Down and Enter."
    with pytest.raises(NotTakenError):
        card.again(".75")
    taken = card.take(".75", preview.choices[0])
    assert isinstance(taken, Typed)
    assert read_typed_field(field_for("bore_diameter_mm"), taken).observed.value == pytest.approx(19.05, abs=1e-12)


def test_readings_add_up_until_one_is_taken() -> None:
    card = session("shaft_diameter_mm", blank(UnitKind.MACHINE)).again("19.03").again("19.05")
    assert card.preview("").reads == "19.04 ± 0.06 mm = 0.7496 in"
    assert card.take("") == Typed(texts=("19.03", "19.05"))
    assert card.take("19.01") == Typed(texts=("19.03", "19.05", "19.01"))


@pytest.mark.parametrize("text", ["", "   "])
def test_an_empty_answer_says_what_to_do(text: str) -> None:
    with pytest.raises(NotTakenError) as refused:
        session("bore_depth_mm").take(text)
    assert str(refused.value) == "Type what you read, or F4 where it cannot be reached."


def test_a_word_is_found_by_its_beginning_and_never_guessed() -> None:
    card = session("bore_form")
    assert [one.value for one in card.preview("hollow").choices] == ["hollow keyed", "hollow plain", "hollow splined"]
    with pytest.raises(NotTakenError):
        card.take("hollow")
    assert card.take("hollow k") == Typed(texts=("hollow keyed",))
    assert card.take("", card.preview("").choices[1]) == Typed(texts=("hollow plain",))


# --- threads


def test_a_call_that_somebody_knows_is_taken_at_once() -> None:
    assert typed(session("inlet_thread"), "3/4-11.5 NH").worked == "3/4-11.5 NH"
    with pytest.raises(XrefError):
        session("inlet_thread").take("3/4-12 NH")


def test_an_m22_asks_for_its_seal_and_says_the_other_fields_by_the_way() -> None:
    at_seal = answered(session("outlet_thread"), [SKIP, "male", "21.9", "1.5 mm"])
    assert isinstance(at_seal, CardSession)
    assert at_seal.step is not None
    assert at_seal.step.key == "seal_mm"
    done = at_seal.take("14.02")
    assert isinstance(done, Typed)
    assert (done.worked, done.how) == ("M22x1.5", "measured")
    assert done.texts == ("gender male", "outside 21.9", "pitch 1.5 mm", "seal 14.02")
    assert also_said("outlet_thread", done) == {
        "outlet_gender": Typed(texts=("male",)),
        "outlet_seal_mm": Typed(texts=("14.02",)),
    }


@pytest.mark.parametrize(
    ("call", "form", "kept"),
    [
        ("G3/8", "cone 60", "G3/8 cone 60"),
        ("m18 x 1,5", "cone 24 L", "M18x1.5 cone 24 L"),
        ("7/8-14 UNF", "flare 37", "7/8-14 UNF flare 37"),
        ("G3/8", SKIP, "G3/8"),
    ],
)
def test_a_thread_that_seals_in_several_forms_asks_to_look_at_the_end(call: str, form: str, kept: str) -> None:
    at_form = session("inlet_thread").take(call)
    assert isinstance(at_form, CardSession)
    assert at_form.step is not None
    assert at_form.step.key == "form"
    assert typed(session("inlet_thread"), call, form).worked == kept


@pytest.mark.parametrize(
    "call",
    ["G3/8 cone 60", "7/8-14 UNF O-ring", "M22x1.5", "M22x1.5 cone 24 S", "3/8-18 NPT", "quick coupler 1/4 profile A"],
)
def test_an_end_whose_form_is_said_or_that_has_one_is_taken_at_once(call: str) -> None:
    assert typed(session("inlet_thread"), call).worked == call


def test_a_measured_thread_asks_how_its_end_seals_and_a_bolt_does_not() -> None:
    readings = [SKIP, "male", "16.6", "19 tpi", "no"]
    at_form = answered(session("outlet_thread"), readings)
    assert isinstance(at_form, CardSession)
    assert at_form.step is not None
    assert at_form.step.choices == ("cone 60", "flat shoulder", "flat end", "O-ring")
    assert typed(session("outlet_thread"), *readings, "flat shoulder").worked == "G3/8 flat shoulder"
    assert typed(session("face_bolt"), "M10x1.25").worked == "M10x1.25"
    with pytest.raises(XrefError):
        session("face_bolt").take("M10x1.25 O-ring")


def test_an_o_ring_port_picked_for_an_end_is_written_down_as_one() -> None:
    field, bolt = (field_for(field_id) for field_id in ("outlet_thread", "face_bolt"))
    assert designation_of("9/16-18 UNF O-ring port", field) == "9/16-18 UNF O-ring"
    assert designation_of("9/16-18 UNF O-ring port", bolt) == "9/16-18 UNF"
    assert designation_of("M22x1.5, 14 mm seal", field) == "M22x1.5"


def test_half_inch_pipe_threads_stay_open_by_diameter_and_pitch_alone() -> None:
    card = answered(session("outlet_thread"), [SKIP, "male", "20.9", "14 tpi"])
    assert isinstance(card, CardSession)
    assert {"G1/2", "1/2-14 NPT", "R1/2"} <= {one.value for one in card.preview("").choices}
    assert card.step is not None
    assert card.step.key in {"taper", "flank_angle_deg"}


def test_one_picked_from_several_counts_as_claimed() -> None:
    card = answered(session("outlet_thread"), [SKIP, "male", "20.9", "14 tpi"])
    assert isinstance(card, CardSession)
    chosen = next(one for one in card.preview("").choices if one.value == "G1/2")
    picked = card.take("", chosen)
    assert isinstance(picked, Typed)
    assert (picked.worked, picked.how) == ("G1/2", "claimed")


@pytest.mark.parametrize("how", ["plate", "sheet", "claimed"])
def test_what_a_seller_says_stays_a_claim_through_a_card_of_many_steps(how: str) -> None:
    """A worked-out value counted as measured would let a claim reach "Fits as is" without a word."""
    thread = replace(session("outlet_thread"), how=how)
    assert typed(thread, "M22x1.5").how == how
    stepwise = typed(thread, SKIP, "male", "21.9", "1.5 mm", "14")
    assert stepwise.how == how
    assert {one.how for one in also_said("outlet_thread", stepwise).values()} == {how}
    holes = replace(session("flange_holes_xy_mm"), how=how)
    assert typed(holes, "4", ALL_SAME, ALL_SAME, "73.754", "56.354").how == how


def test_a_thread_that_is_only_remembered_is_never_measured_by_being_picked() -> None:
    picked = 0
    for row in thread_rows():
        if row.family != "metric" or row.decides:
            continue
        card = answered(session("outlet_thread"), [SKIP, "male", f"{row.major_mm - 0.1:.2f}"])
        assert isinstance(card, CardSession)
        pitch = f"{row.pitch_mm:g} mm"
        for choice in card.preview(pitch).choices:
            if choice.value == row.designation:
                chosen = card.take(pitch, choice)
                assert isinstance(chosen, Typed)
                assert (chosen.worked, chosen.how) == (row.designation, "claimed")
                picked += 1
    assert picked >= 5


def test_the_one_thread_that_is_left_is_measured_when_picked_and_what_stands_in_the_field_counts() -> None:
    card = answered(session("face_bolt", blank(UnitKind.MACHINE)), [SKIP, "7.9"])
    assert isinstance(card, CardSession)
    choice = next(one for one in card.preview("24 tpi").choices if one.value.startswith("5/16-24"))
    picked = card.take("24 tpi", choice)
    assert isinstance(picked, Typed)
    assert picked.parts == (("outside_mm", "7.9"), ("pitch_mm", "24 tpi"))
    assert picked.how == "measured"


def test_crests_over_a_length_give_the_pitch_and_every_way_to_write_it_is_read() -> None:
    for text in ("11 crests 18.14 mm", "11 crests over 18,14", "14 tpi", "14 per inch"):
        card = answered(session("outlet_thread"), [SKIP, "male", "20.9", text])
        assert isinstance(card, CardSession)
        assert "1/2-14 NPT" in {one.value for one in card.preview("").choices}
    with pytest.raises(XrefError) as refused:
        answered(session("outlet_thread"), [SKIP, "male", "20.9", "14"])
    assert str(refused.value) == "“14” is no pitch. Write it like 14 tpi, 1.5 mm or 11 crests 18.1 mm."


# --- bolt holes


def pattern_of(field: str, done: Typed) -> Pattern:
    known = read_typed_field(field_for(field), done).known
    assert isinstance(known, Pattern)
    return known


def test_the_card_asks_for_holes_as_equal_as_the_doubt_of_their_places_takes_them_to_be() -> None:
    card = session("flange_holes_xy_mm").take("4")
    assert isinstance(card, CardSession)
    then = card.take(ALL_SAME)
    assert isinstance(then, CardSession)
    for now in (card, then):
        assert now.step is not None
        assert f"all the same, within {SAME_WITHIN_MM:g} mm?" in str(now.step.ask)


@pytest.mark.parametrize("count", range(2, 9))
def test_evenly_spaced_holes_come_out_of_the_edges_of_two_neighbours(count: int) -> None:
    circle_mm, hole_mm = 92.0, 8.7
    chord = circle_mm * math.sin(math.pi / count)
    far, near = f"{chord + hole_mm:.3f} mm", f"{chord - hole_mm:.3f} mm"
    done = typed(session("flange_holes_xy_mm"), str(count), ALL_SAME, ALL_SAME, far, near)
    found = pattern_of("flange_holes_xy_mm", done)
    assert done.how == ("measured" if count > 2 else "claimed")  # two holes may be bent out of line unseen
    for number, hole in enumerate(found.holes):
        angle = math.radians(360 * number / count)
        assert math.hypot(hole.x_mm - 46 * math.cos(angle), hole.y_mm - 46 * math.sin(angle)) < 0.02
    assert found.doubt_mm >= 0.20  # what equal distances leave open, not only what one reading does


def test_one_edge_needs_the_hole_and_what_was_not_measured_all_round_is_only_claimed() -> None:
    chord = 92 * math.sin(math.pi / 4)
    done = typed(session("flange_holes_xy_mm"), "4", "not measured", ALL_SAME, f"{chord + 8.7:.3f}", SKIP, "8.7")
    assert done.how == "claimed"
    assert pattern_of("flange_holes_xy_mm", done).holes[0].x_mm == pytest.approx(46, abs=0.02)


def test_a_machines_holes_stand_where_hole_one_points() -> None:
    chord = 92 * math.sin(math.pi / 4)
    answers = ("4", ALL_SAME, ALL_SAME, f"{chord + 8.7:.3f}", f"{chord - 8.7:.3f}", "90")
    done = typed(session("face_holes_xy_mm", blank(UnitKind.MACHINE)), *answers)
    first = pattern_of("face_holes_xy_mm", done).holes[0]
    assert (first.x_mm, first.y_mm) == pytest.approx((0, 46), abs=0.02)


def test_unequal_holes_are_measured_pair_by_pair_and_a_loose_pump_is_mirrored() -> None:
    truth = [(50.0, 0.0), (-20.0, 45.0), (-25.0, -40.0)]  # counter-clockwise, on the loose pump
    hole_mm, bore_mm = 8.7, 19.05
    pairs = [(0, 1), (0, 2), (1, 2)]
    far = [f"{math.dist(truth[one], truth[other]) + hole_mm:.3f}" for one, other in pairs]
    to_axis = [f"{math.hypot(*hole) - hole_mm / 2 - bore_mm / 2:.3f}" for hole in truth]
    answers = ("3", "they differ", f"{hole_mm}", f"{bore_mm}", *far, *to_axis)
    found = pattern_of("flange_holes_xy_mm", typed(session("flange_holes_xy_mm"), *answers))
    for hole, (x, y) in zip(found.holes, truth, strict=True):
        assert math.hypot(hole.x_mm - x, hole.y_mm + y) < 0.02
    assert found.doubt_mm > 0.2  # the doubts of six distances are not thrown away


def test_a_step_back_hands_the_answer_out_again_and_the_rest_stands() -> None:
    card = answered(session("flange_holes_xy_mm"), ("3", "they differ", "8.7", "19.05", "80"))
    assert isinstance(card, CardSession)
    before, text = card.back()
    assert text == "80"
    assert before.step is not None
    assert before.step.key == "1-2"
    assert dict(before.answers) == {"count": "3", "spacing": "they differ", "hole": "8.7", "shaft or bore": "19.05"}
    first = session("flange_holes_xy_mm")
    assert first.back() == (first, "")


def test_distances_that_cannot_all_be_true_are_refused_in_one_sentence() -> None:
    answers = ("3", "they differ", "8.7", "19.05", "80", "80", "200", "20", "20", "20")
    with pytest.raises(XrefError) as refused:
        answered(session("flange_holes_xy_mm"), answers)
    assert "measure" in str(refused.value)


def test_the_last_of_many_answers_is_read_before_it_is_taken() -> None:
    with pytest.raises(XrefError):
        answered(session("flange_holes_xy_mm"), ("4", ALL_SAME, ALL_SAME, "wide"))


# --- inch or mm, on every step


def test_decimal_inches_typed_while_mm_are_shown_are_asked_about_on_every_step() -> None:
    card = answered(session("flange_holes_xy_mm"), ("4", ALL_SAME, ALL_SAME))
    assert isinstance(card, CardSession)
    preview = card.preview("2.875")
    assert preview.must_choose
    with pytest.raises(NotTakenError):
        card.take("2.875")
    after = card.take("2.875", preview.choices[0])
    assert isinstance(after, CardSession)
    near = after.preview("2.25")
    done = after.take("2.25", near.choices[0])
    assert isinstance(done, Typed)
    assert pattern_of("flange_holes_xy_mm", done).holes[0].x_mm == pytest.approx(46.02, abs=0.01)


def test_millimetres_typed_while_inches_are_shown_are_asked_about_on_a_thread() -> None:
    card = answered(session("outlet_thread", unit="in"), [SKIP, "male"])
    assert isinstance(card, CardSession)
    after = card.take("22", card.preview("22").choices[1])
    assert isinstance(after, CardSession)
    assert after.answers["outside_mm"] == "22 mm"


@pytest.mark.parametrize("text", ["73.025 in", "0.1 mm", "9000"])
def test_what_no_face_has_goes_no_further_without_an_answer(text: str) -> None:
    card = answered(session("flange_holes_xy_mm"), ("4", ALL_SAME, ALL_SAME))
    assert isinstance(card, CardSession)
    with pytest.raises(XrefError):
        card.take(text)


def test_the_unit_that_was_chosen_goes_before_the_one_that_was_written() -> None:
    card = session("bore_diameter_mm")
    inches, millimetres = card.preview("19.05 in").choices
    taken = card.take("19.05 in", millimetres)
    assert taken == Typed(texts=("19.05 mm",))
    assert isinstance(taken, Typed)
    assert read_typed_field(field_for("bore_diameter_mm"), taken).question is None
    with pytest.raises(XrefError) as refused:
        card.take("19.05 in", inches)
    assert "lies outside 8 to 60 mm" in str(refused.value)
