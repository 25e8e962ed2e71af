"""Every pump of a catalog judged against a job: order, headlines, contradictions, names, all four verdicts."""

from __future__ import annotations

import pytest

from tests.services.best_measurement import best_settling_of
from tests.services.tiny import Cancelled, Quiet, entry, reading, tiny, tiny_rows, without
from xref_app.core.fields.fields import field_for
from xref_app.core.fit.finding import Judgement, Outcome, Verdict
from xref_app.core.model.assemble import MOST_COMBINATIONS
from xref_app.core.model.catalog import Number, Observation, PartRow, ShelfRow
from xref_app.core.progress import WorkCancelledError
from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Candidates
from xref_app.services.catalog import NO_DAMAGE, Catalog
from xref_app.services.judge_all import judge_all
from xref_app.services.judge_candidates import headline, judge_one, judgement_of, question
from xref_app.services.judge_named import NotNamedError, judge_named
from xref_app.services.machine_side import job_values
from xref_app.services.shelf_parts import ORDERED_PIECES

ROWS = tiny_rows()
SPACER = PartRow("T-1", "spacer", "Spacer 6", thickness_mm=6.0, cost=0.4)


def changed(*readings: Observation) -> tuple[Observation, ...]:
    """Return the rows with these readings in place of what the entries said there."""
    rows: tuple[Observation, ...] = ROWS.observations
    for one in readings:
        rows = without(rows, one.entry_id, one.field)
    return (*rows, *readings)


def judged(catalog: Catalog, *, guessed: bool = False) -> Candidates:
    return judge_all(catalog, job_values(catalog, None, "M1"), guessed_number=guessed, progress=Quiet())


def test_a_pump_like_the_example_fits_as_is() -> None:
    candidate = judge_one(tiny(), job_values(tiny(), None, "M1"), "P1")
    assert candidate.judgement.verdict is Verdict.FITS
    assert (candidate.entry_id, candidate.number, candidate.maker) == ("P1", "LM100-A", "Lowmarsh")
    assert str(candidate.headline) == "same pump: all 24 checks pass"


def test_candidates_come_best_first_each_with_its_own_headline() -> None:
    # P3 wants a 6 mm spacer (65 - 3 deep: 61.9 is 1.6 + 0.2 - 0.1 too long), P4 lacks a size, P5 turns too slow
    entries = (*ROWS.entries, *(entry(name, "pump") for name in ("P3", "P4", "P5")))
    copies = [
        Observation(0, name, row.field, row.as_typed, row.value, row.text, row.doubt, row.how)
        for name in ("P3", "P4", "P5")
        for row in ROWS.observations
        if row.entry_id == "P1"
    ]
    rows = without(copies, "P3", "bore_depth_mm")
    rows = without(without(rows, "P4", "bore_depth_mm"), "P5", "rating_max_speed_rpm")
    rows = (
        *ROWS.observations,
        *rows,
        reading("P3", "bore_depth_mm", 59.0),
        reading("P5", "rating_max_speed_rpm", 3400),
    )
    rows = (*without(rows, "P5", "rating_speed_rpm", "rating_max_speed_rpm"), reading("P5", "rating_speed_rpm", 1450))
    rows = (*rows, reading("P5", "rating_max_speed_rpm", 1750))
    shelf = (ShelfRow("S-1", "T-1", "", "A1", 4),)
    catalog = tiny(entries=entries, observations=rows, parts=(SPACER,), shelf=shelf)
    listed = judged(catalog).rows
    assert [(row.entry_id, row.judgement.verdict.value, str(row.headline)) for row in listed] == [
        ("P1", "Fits as is", "same pump: all 24 checks pass"),  # it came off M1
        ("P2", "Fits as is", "all 24 checks pass"),
        ("P3", "Fits with parts", "needs 4 spacers, 4 standard bolts"),
        ("P4", "Not known yet", "measure bore depth"),
        ("P5", "Does not fit", "The engine turns 3400 rpm; the pump may run 1750 rpm at most."),
    ]


def test_a_headline_names_two_fields_and_counts_the_rest() -> None:
    rows = without(ROWS.observations, "P1", "bore_depth_mm", "bore_diameter_mm", "flange_hole_mm")
    catalog = tiny(observations=rows)
    # the diameter stops bore, key and reach, the hole pattern and seat, the depth only the reach
    line = str(judge_one(catalog, job_values(catalog, "P2", "M1"), "P1").headline)
    assert line == "measure bore diameter, bolt hole of the pump and 1 more"


def test_two_measured_depths_that_contradict_leave_open_what_only_one_decides() -> None:
    rows = (*changed(), reading("P1", "bore_depth_mm", 50.0))
    catalog = tiny(observations=rows)
    asked = question(catalog, job_values(catalog, None, "M1"), "P1")
    assert len(asked.cases) == 2
    assert asked.contradicted == ("bore_depth_mm",)
    judgement = judgement_of(catalog, job_values(catalog, None, "M1"), "P1")
    reach = next(one for one in judgement.findings if one.check == "reach")
    assert reach.outcome is Outcome.UNKNOWN
    assert reach.measure == ("bore_depth_mm",)
    assert judgement.verdict is Verdict.NOT_KNOWN_YET


def test_more_contradictions_than_can_be_judged_count_as_not_known() -> None:
    names = (
        "bore_depth_mm",
        "bore_recess_mm",
        "flange_hole_mm",
        "flange_thickness_mm",
        "bore_keyway_to_mm",
        "rating_flow_lpm",
        "pump_length_mm",
    )
    assert 2 ** len(names) > MOST_COMBINATIONS
    kept = {row.field: row.value or 0.0 for row in ROWS.observations if row.entry_id == "P1"}
    twice = tuple(reading("P1", name, kept[name] + 5) for name in names)
    catalog = tiny(observations=(*ROWS.observations, *twice))
    asked = question(catalog, job_values(catalog, "P2", "M1"), "P1")
    assert len(asked.cases) == 1
    assert asked.cases[0].pump.bore.depth_mm is None
    assert asked.cases[0].pump.bore.diameter_mm is not None
    judgement = judgement_of(catalog, job_values(catalog, "P2", "M1"), "P1")
    assert judgement.verdict is Verdict.NOT_KNOWN_YET


def test_a_guessed_number_leaves_every_pump_open() -> None:
    rows = judged(tiny(), guessed=True).rows
    assert {row.judgement.verdict for row in rows} == {Verdict.NOT_KNOWN_YET}


def test_work_tells_how_far_it_is_and_stops_when_nobody_waits() -> None:
    catalog = tiny()
    told = Quiet()
    judge_all(catalog, job_values(catalog, None, "M1"), guessed_number=False, progress=told)
    done, totals = zip(*told.told, strict=True)
    assert (done[0], len(set(totals))) == (0, 1)
    assert list(done) == sorted(set(done))
    assert done[-1] < totals[0]
    with pytest.raises(WorkCancelledError):
        judge_all(catalog, job_values(catalog, None, "M1"), guessed_number=False, progress=Cancelled(after=1))


# --- one machine and one pump by name


def test_names_may_be_an_entry_a_number_or_a_model_in_any_case() -> None:
    catalog = tiny()
    by_id = judge_named(catalog, machine="M1", pump="P1")
    assert judge_named(catalog, machine="heron 27", pump="lm100-a") == by_id
    assert by_id.verdict is Verdict.FITS


@pytest.mark.parametrize(
    ("machine", "pump", "message"),
    [
        ("Tern", "P1", "machine “Tern” is in no entry of the catalog – look it up with find."),
        ("M1", "LM 999", "pump “LM 999” is in no entry of the catalog – look it up with find."),
        ("M1", "LM 100", "pump “LM 100” means 2 entries: P1, P2 – name one of them."),
        ("P1", "P1", "machine “P1” is in no entry of the catalog – look it up with find."),
        ("M1", "M1", "pump “M1” is in no entry of the catalog – look it up with find."),
    ],
)
def test_a_name_of_nothing_or_of_several_is_refused_in_one_sentence(machine: str, pump: str, message: str) -> None:
    numbers = (*ROWS.numbers, Number("P2", "LM 100", "seller", "claimed"), Number("P9", "LM 999", "maker", "sheet"))
    with pytest.raises(NotNamedError) as caught:
        judge_named(tiny(numbers=numbers), machine=machine, pump=pump)
    assert str(caught.value) == message
    assert caught.value.name in {machine, pump}


# --- the shelf


def test_parts_in_a_bin_come_first_and_cost_what_the_bin_says() -> None:
    parts = (
        PartRow("T-1", "spacer", "to order", thickness_mm=1.0, cost=0.1),
        PartRow("T-2", "spacer", "in a bin", thickness_mm=2.0, cost=0.2),
        PartRow("T-3", "spacer", "bin is empty", thickness_mm=3.0),
        PartRow(
            "T-4",
            "fitting",
            "elbow",
            end_1_thread="G3/8",
            end_1_gender="male",
            end_2_thread="M22x1.5",
            end_2_gender="female",
            end_2_seal_mm=14.0,
            end_2_swivel=True,
        ),
    )
    shelf = (
        ShelfRow("S-2", "T-2", "", "B7", 3, 0.9),
        ShelfRow("S-3", "T-3", "", "B8", 0),
        ShelfRow("S-9", "", "P1", "C", 1),
    )
    listed = {part.part_id: part for part in tiny(parts=parts, shelf=shelf).shelf}
    first = tiny(parts=parts, shelf=shelf).shelf[0]
    assert (first.part_id, first.bin, first.count, first.cost, first.to_order) == ("T-2", "B7", 3, 0.9, False)
    assert (listed["T-1"].count, listed["T-1"].to_order) == (ORDERED_PIECES, True)
    assert (listed["T-3"].to_order, listed["T-3"].cost) == (True, 0.0)
    assert [(end.thread, end.gender.value, end.seal_mm, end.swivel) for end in listed["T-4"].ends] == [
        ("G3/8", "male", None, False),
        ("M22x1.5", "female", 14.0, True),
    ]


# --- measure next


def candidate(number: str, verdict: Verdict, *fields: str) -> Candidate:
    return Candidate(number, number, "", "", Sentence(""), Judgement(verdict, (), measure_next=fields))


def open_on(number: str, *fields: str) -> Candidate:
    return candidate(number, Verdict.NOT_KNOWN_YET, *fields)


def test_a_size_of_the_machine_settles_many_pumps_and_a_size_of_a_pump_only_its_own() -> None:
    rows = [open_on(number, "bore_depth_mm", "shaft_projection_mm") for number in ("K-1", "K-2")]
    best = best_settling_of([*rows, open_on("K-3", "bore_depth_mm")])
    assert best is not None
    assert (best.field, best.title, best.settles, best.open) == ("shaft_projection_mm", "Shaft projection", 2, 3)
    assert best.minutes > 0
    assert best.how_to


def test_of_the_pumps_sizes_only_those_of_the_nearest_pump_are_worth_taking() -> None:
    best = best_settling_of([open_on("K-1", "bore_depth_mm"), open_on("K-2", "rating_speed_rpm")])
    assert best is not None
    assert (best.field, best.title, best.settles, best.open) == ("bore_depth_mm", "Bore depth, K-1", 1, 2)


def test_a_size_of_a_candidate_needs_nothing_off_the_machine_and_one_of_the_machine_does() -> None:
    # data_schema: for both the field says that the pump comes off first; the candidate is not on the machine yet
    on_candidate = best_settling_of([open_on("K-1", "bore_depth_mm")])
    on_machine = best_settling_of([open_on("K-1", "shaft_projection_mm")])
    assert on_candidate is not None
    assert on_machine is not None
    assert (on_candidate.comes_off_first, on_machine.comes_off_first) == ("", "pump")
    assert field_for("bore_depth_mm").comes_off_first != ""


def test_nothing_is_to_be_measured_where_nothing_is_open() -> None:
    assert best_settling_of([]) is None
    assert best_settling_of([candidate("K-1", Verdict.DOES_NOT_FIT, "bore_depth_mm")]) is None
    assert best_settling_of([open_on("K-1")]) is None


# --- the sample


@pytest.fixture(scope="module")
def all_judged(sample: Catalog) -> dict[str, Candidates]:
    machines = list(sample.machines)[::9]
    return {
        machine: judge_all(sample, job_values(sample, None, machine), guessed_number=False, progress=Quiet())
        for machine in machines
    }


def test_all_four_verdicts_occur_on_the_sample(all_judged: dict[str, Candidates]) -> None:
    verdicts = {row.judgement.verdict for one in all_judged.values() for row in one.rows}
    assert verdicts == set(Verdict)


def test_every_list_of_the_sample_holds_every_pump_in_the_order_of_the_verdicts(
    sample: Catalog, all_judged: dict[str, Candidates]
) -> None:
    order = list(Verdict)
    for machine, one in all_judged.items():
        assert {row.entry_id for row in one.rows} == {pump.entry_id for pump in sample.pumps()}
        places = [order.index(row.judgement.verdict) for row in one.rows]
        assert places == sorted(places)
        for row in one.rows:
            same = "same pump: " if row.entry_id == sample.machines[machine].pump_id else ""
            assert str(row.headline) == same + str(headline(row.judgement))
            if row.judgement.verdict is Verdict.NOT_KNOWN_YET:
                assert row.judgement.measure_next, row.entry_id


def test_judging_twice_gives_the_same(sample: Catalog, all_judged: dict[str, Candidates]) -> None:
    machine = next(iter(all_judged))
    again = judge_all(sample, job_values(sample, None, machine), guessed_number=False, progress=Quiet())
    assert again == all_judged[machine]


def test_the_sample_has_no_damaged_row(sample: Catalog) -> None:
    assert sample.damaged == NO_DAMAGE
