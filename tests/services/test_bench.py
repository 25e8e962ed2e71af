"""The bench over a real store: kept after every field, saved as one change, taken back by name, across restarts."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.services.bench_store import sample_desk
from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.known import Dimension
from xref_app.core.progress import Progress
from xref_app.services.bench import LineState, NotSavedError
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.services.unit_draft import Heading, Typed, UnitDraft, UnitKind

CHORD_FAR, CHORD_NEAR = "73.754", "56.354"  # four holes of 8.7 mm on a circle of 92 mm


class Quiet(Progress):
    """Nobody waits."""

    def step(self, done: int, total: int) -> None:
        """Go on."""


@pytest.fixture(params=[MOST_IN_MEMORY, 0], ids=["in memory", "in the store"])
def desk(tmp_path: Path, request: pytest.FixtureRequest) -> LiveDesk:
    return sample_desk(tmp_path, most_in_memory=request.param)


def written(draft: UnitDraft, **fields: str) -> UnitDraft:
    for name, text in fields.items():
        draft = draft.write(name, Typed(texts=(text,)))
    return draft


def whole_pump(desk: LiveDesk) -> UnitDraft:
    """Return the draft of a pump with eight sizes, made up."""
    draft = written(
        desk.begin(UnitKind.PUMP),
        number="ZX 77-104",
        maker="Quillmere",
        bore_form="hollow keyed",
        bore_diameter_mm="0.751 in",
        bore_depth_mm="64,8",
        bore_keyway_width_mm="4.80",
        flange_hole_mm="8.7",
        flange_thickness_mm="12.1",
        inlet_thread="3/4-11.5 NH",
        outlet_thread="M22x1.5",
    )
    return draft.write(
        "flange_holes_xy_mm", Typed(texts=("count 4",), worked="46 0; 0 46; -46 0; 0 -46", worked_doubt=0.12)
    )


def test_a_draft_is_there_after_a_restart_as_it_was_kept(desk: LiveDesk, tmp_path: Path) -> None:
    draft = whole_pump(desk)
    desk.keep(draft, "Ana")
    later = sample_desk(tmp_path)
    assert later.unfinished() == (draft,)
    later.drop(draft)
    assert later.unfinished() == ()


def test_a_blank_draft_leaves_no_trace(desk: LiveDesk) -> None:
    desk.keep(desk.begin(UnitKind.PUMP), "Ana")
    assert desk.unfinished() == ()


def test_the_view_tells_how_each_field_stands_and_what_hinders_saving(desk: LiveDesk) -> None:
    draft = written(desk.begin(UnitKind.PUMP), bore_diameter_mm=".75", bore_depth_mm="sixty", flange_hole_mm="8.7")
    draft = draft.write("flange_thickness_mm", Typed(is_skipped=True))
    view = desk.keep(draft, "")
    states = {line.field.field_id: line.state for line in view.lines if line.state is not LineState.BLANK}
    assert states == {
        "bore_diameter_mm": LineState.ASKED,
        "bore_depth_mm": LineState.TROUBLE,
        "flange_hole_mm": LineState.READ,
        "flange_thickness_mm": LineState.SKIPPED,
    }
    assert [str(one) for one in view.problems] == [
        "Bore diameter: answer “inch or mm?” first.",
        "Bore depth: “sixty” is not a length with a unit. Write it like 22.2 mm or 7/8 in.",
        "Say who measured.",
        "Say what it is: a number, a maker or a name.",
    ]
    with pytest.raises(NotSavedError):
        desk.save(draft, "")
    assert desk.unfinished() == (draft,)


def test_two_sizes_leave_fewer_entries_and_the_next_question_is_never_one_that_was_skipped(desk: LiveDesk) -> None:
    draft = written(desk.begin(UnitKind.PUMP), bore_diameter_mm="19.06", bore_keyway_width_mm="4.78")
    view = desk.keep(draft, "Ana")
    everything = desk.keep(written(desk.begin(UnitKind.PUMP), bore_form="hollow keyed"), "Ana")
    assert 0 < view.hit_count < everything.hit_count
    for _ in range(5):
        assert view.next_question is not None
        field = view.next_question.field
        assert field not in draft.written
        draft = draft.write(field, Typed(is_skipped=True))
        view = desk.keep(draft, "Ana")


def test_a_saved_entry_is_found_judged_and_traceable_at_once(desk: LiveDesk) -> None:
    saved = desk.save(whole_pump(desk), "Ana")
    assert desk.unfinished() == ()
    assert saved.kind == "pump"
    assert desk.find("ZX77104", Quiet()).hits[0].entry_id == saved.entry_id
    rows = {row.field: row for row in desk.catalog.observations[saved.entry_id]}
    assert (rows["bore_depth_mm"].as_typed, rows["bore_depth_mm"].value) == ("64,8", 64.8)
    assert rows["bore_diameter_mm"].value == pytest.approx(19.0754, abs=1e-9)
    assert {(row.seen_by, row.how) for row in rows.values()} == {("Ana", "measured")}
    assert rows["flange_holes_xy_mm"].doubt == 0.12
    job = desk.open_job(saved.entry_id, None, Quiet())
    assert len(desk.judge_all(job, Quiet()).rows) == len(desk.catalog.pumps())


def test_undo_and_redo_are_named_work_after_a_restart_and_reach_finding(desk: LiveDesk, tmp_path: Path) -> None:
    saved = desk.save(whole_pump(desk), "Ana")
    assert desk.undo_names().undo == "ZX 77-104 entered"
    later = sample_desk(tmp_path)
    assert later.undo("Bo") == "ZX 77-104 entered"
    assert saved.entry_id not in later.catalog.entries
    assert saved.entry_id not in {hit.entry_id for hit in later.find("ZX77104", Quiet()).hits}
    assert later.redo("Bo") == "ZX 77-104 entered"
    assert later.catalog.known(saved.entry_id) == desk.catalog.known(saved.entry_id)


def test_the_same_pump_entered_again_is_warned_of_by_sizes_and_by_number(desk: LiveDesk) -> None:
    desk.save(whole_pump(desk), "Ana")
    again = written(whole_pump(desk), number="ZX77-1O4")
    view = desk.keep(again, "Bo")
    assert view.same_as[0].near_number == "ZX 77-104"
    with pytest.raises(NotSavedError) as refused:
        desk.save(again, "Bo")
    assert str(refused.value) == (
        "Not saved yet: it may be ZX 77-104 (Quillmere), which is entered already. "
        "Ctrl+S again saves it as one of its own."
    )
    nameless = again.write(Heading.NUMBER, None)
    same = [one for one in desk.keep(nameless, "Bo").same_as if one.number == "ZX 77-104"]
    assert len(same[0].agreeing) >= 4


def test_a_measured_machine_becomes_machine_and_engine_with_the_pump_that_came_off(desk: LiveDesk) -> None:
    draft = written(
        desk.begin(UnitKind.MACHINE, pump_id="P-030"),
        number="QM 33",
        power_kind="petrol",
        shaft_diameter_mm="19.03",
        supply_flow_lpm="19",
    )
    saved = desk.save(draft, "Ana")
    row = desk.catalog.machines[saved.entry_id]
    assert (row.model, row.pump_id) == ("QM 33", "P-030")
    assert "shaft_diameter_mm" in desk.catalog.known(row.driver_id)
    assert "supply_flow_lpm" in desk.catalog.known(row.entry_id)
    assert desk.catalog.drivers[row.driver_id].power_kind == "petrol"


def test_more_readings_stand_beside_what_was_known_and_a_difference_is_shown_not_averaged(desk: LiveDesk) -> None:
    draft = written(desk.begin(UnitKind.PUMP, entry_id="P-030"), bore_depth_mm="20")
    line = next(one for one in desk.keep(draft, "Ana").lines if one.field.field_id == "bore_depth_mm")
    assert line.state is LineState.DIFFERS
    desk.save(draft, "Ana")
    versions = desk.catalog.known("P-030")["bore_depth_mm"]
    assert sorted(one.value for one in versions if isinstance(one, Dimension)) == [20, 65]


def test_a_contradiction_is_judged_under_each_version_settled_with_a_reason_and_taken_back(desk: LiveDesk) -> None:
    job = desk.open_job(None, "M-019", Quiet())
    fitting = next(
        row
        for row in desk.judge_all(desk.pick_build(job, "M-019", Quiet()), Quiet()).rows
        if row.judgement.verdict is Verdict.FITS
    )
    job = desk.pick_build(job, "M-019", Quiet())
    desk.save(written(desk.begin(UnitKind.PUMP, entry_id=fitting.entry_id), bore_depth_mm="30"), "Ana")
    open_now = next(row for row in desk.judge_all(job, Quiet()).rows if row.entry_id == fitting.entry_id)
    assert open_now.judgement.verdict is Verdict.NOT_KNOWN_YET
    versions = desk.versions(job, fitting.entry_id, "bore_depth_mm", fitting.entry_id, Quiet())
    assert {row.verdict for row in versions.rows} == {Verdict.FITS, Verdict.DOES_NOT_FIT}
    kept = next(place for place, row in enumerate(versions.rows) if row.verdict is Verdict.FITS)
    desk.settle(versions, kept, "Bo", "measured again: chips lay in the bore")
    assert len(desk.catalog.known(fitting.entry_id)["bore_depth_mm"]) == 1
    assert desk.undo("Bo") == "Bore depth"
    assert len(desk.catalog.known(fitting.entry_id)["bore_depth_mm"]) == 2
    assert desk.redo("Bo") == "Bore depth"


def test_a_guessed_number_is_settled_by_one_measured_size_that_agrees(desk: LiveDesk) -> None:
    agrees = written(desk.begin(UnitKind.PUMP, entry_id="P-030"), bore_depth_mm="65.05")
    assert desk.save(agrees, "Ana", guessed_entry=True).settles_number
    said = desk.begin(UnitKind.PUMP, entry_id="P-030").write("bore_depth_mm", Typed(texts=("65",), how="claimed"))
    assert not desk.save(said, "Ana", guessed_entry=True).settles_number


@pytest.mark.parametrize(
    ("field", "text", "settles"),
    [
        ("bore_depth_mm", "65.05", True),
        ("bore_depth_mm", "65 ± 0.4", True),
        ("bore_depth_mm", "60 ± 30", False),  # anything agrees with that
        ("bore_depth_mm", "65 ± 0.6", False),
        ("bore_form", "hollow keyed", False),  # as most pumps are
        ("has_unloader", "yes", False),  # what an owner may have changed
    ],
)
def test_a_guessed_number_is_not_settled_by_a_reading_that_tells_nothing(
    desk: LiveDesk, field: str, text: str, *, settles: bool
) -> None:
    draft = written(desk.begin(UnitKind.PUMP, entry_id="P-030"), **{field: text})
    assert desk.save(draft, "Ana", guessed_entry=True).settles_number is settles


def test_readings_of_another_pump_are_never_written_under_a_guessed_number(desk: LiveDesk) -> None:
    other = written(desk.begin(UnitKind.PUMP, entry_id="P-030"), bore_depth_mm="65.05", bore_diameter_mm="25.4")
    before = desk.catalog.observations["P-030"]
    with pytest.raises(NotSavedError) as refused:
        desk.save(other, "Ana", guessed_entry=True)
    number = desk.catalog.number_of("P-030")
    assert str(refused.value) == (
        f"Not saved under {number}: what is known of it differs in Bore diameter, so this may be another pump. "
        "Take the guessed number away, or enter it as a pump of its own."
    )
    assert desk.catalog.observations["P-030"] == before


def test_a_photo_is_kept_by_its_content_without_what_the_camera_wrote(desk: LiveDesk, tmp_path: Path) -> None:
    picture = tmp_path / "plate of ZX.jpg"
    exif = Image.Exif()
    exif[0x010E] = "a description that must not stay"
    Image.new("RGB", (64, 48), "grey").save(picture, exif=exif)
    draft = desk.add_photo(whole_pump(desk), picture)
    assert desk.add_photo(draft, picture) is draft  # the same picture twice is one photo
    saved = desk.save(draft, "Ana")
    (photo,) = desk.catalog.photos[saved.entry_id]
    assert (photo.width_px, photo.height_px, photo.caption, photo.added_by) == (64, 48, "plate of ZX", "Ana")
    kept = tmp_path / "photos" / f"{photo.content_hash}.jpg"
    assert b"must not stay" not in kept.read_bytes()
    with pytest.raises(XrefError):
        desk.add_photo(draft, tmp_path / "shop.sqlite")


def test_an_invisible_character_in_a_number_is_not_saved_and_a_mixed_script_is_told(desk: LiveDesk) -> None:
    hidden = written(whole_pump(desk), number="ZX\u200b77")
    assert "nobody can see" in str(desk.keep(hidden, "Ana").problems[0])
    mixed = written(whole_pump(desk), number="ZX 77-К")  # a Cyrillic К
    assert "only look like" in str(desk.keep(mixed, "Ana").notes[0])


def test_readings_that_cannot_be_of_one_unit_are_told_before_saving(desk: LiveDesk) -> None:
    draft = written(
        whole_pump(desk), flange_seat_heights_mm="0; 0; -2", rating_speed_rpm="3400", rating_max_speed_rpm="3000"
    )
    assert [str(one) for one in desk.keep(draft, "Ana").problems] == [
        "Seat heights of the pump: 3 heights for 4 holes; give one for each, in their order.",
        "Highest speed: below the rated speed; read both off the plate again.",
    ]
