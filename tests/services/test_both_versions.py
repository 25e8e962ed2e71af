"""Both versions of what contradicts, judged one at a time: never averaged, never newest-wins."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.sample.troubles import CONTRADICTIONS
from tests.services.tiny import Cancelled, Quiet, reading, tiny, tiny_rows, without
from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.progress import WorkCancelledError
from xref_app.services.answers import Job
from xref_app.services.both_versions import Versions, both_versions, conflicts
from xref_app.services.catalog import Catalog
from xref_app.services.judge_all import judge_all
from xref_app.services.judge_candidates import judge_one
from xref_app.services.machine_side import job_values

ROWS = tiny_rows()
SAMPLE = catalog_of(sample_rows())
JOB = Job(None, "M1", "Heron 27", ())


def said_of(field: str, *values: float | str, entry: str = "P2", how: str = "measured") -> tuple[Observation, ...]:
    """Return the example's rows with these readings in place of one field of one entry, by one person after another."""
    rows = without(ROWS.observations, entry, field)
    ours = [
        replace(reading(entry, field, value, how, seen_by=who, seen_on=when, source=by), observation_id=900 + n)
        for n, (value, (who, when, by)) in enumerate(zip(values, _WHO, strict=False))
    ]
    return (*rows, *ours)


_WHO = (("Ana", "2025-03-01", "caliper 2"), ("Bo", "2026-04-02", ""), ("Cy", "2026-05-03", "rule"))


def square(across_mm: float) -> str:
    """Return four holes on a circle, the way a person writes them down."""
    turns = [math.radians(degrees) for degrees in (45, 135, 225, 315)]
    return "; ".join(f"{across_mm / 2 * math.cos(turn):.5f} {across_mm / 2 * math.sin(turn):.5f}" for turn in turns)


def asked(
    catalog: Catalog, field: str, *, entry: str = "P2", job: Job | None = JOB, pump: str | None = "P2"
) -> Versions:
    return both_versions(catalog, job, entry, field, pump, Quiet())


def verdicts(versions: Versions) -> list[Verdict | None]:
    return [row.verdict for row in versions.rows]


def test_each_version_is_told_with_how_who_and_when() -> None:
    catalog = tiny(observations=said_of("bore_depth_mm", 65.0, 12.0))
    found = asked(catalog, "bore_depth_mm")
    assert (found.entry_id, found.field, found.title) == ("P2", "bore_depth_mm", "Bore depth")
    assert [row.observation_ids for row in found.rows] == [(901,), (900,)]
    assert [row.known_by for row in found.rows] == ["measured, Bo, 2026-04-02", "measured, Ana, 2025-03-01, caliper 2"]
    assert found.rows[1].shown.startswith("65")


def test_the_verdict_is_that_of_a_catalog_where_the_other_was_never_written_down() -> None:
    catalog = tiny(observations=said_of("bore_depth_mm", 65.0, 12.0))
    found = asked(catalog, "bore_depth_mm")
    for row, depth in zip(found.rows, (12.0, 65.0), strict=True):
        alone = tiny(observations=said_of("bore_depth_mm", depth))
        judged = judge_all(alone, job_values(alone, None, "M1"), guessed_number=False, progress=Quiet()).rows
        mine = [one.judgement.verdict for one in judged]
        assert row.verdict is judge_one(alone, job_values(alone, None, "M1"), "P2").judgement.verdict
        assert (row.fits, row.open, row.fails) == (
            mine.count(Verdict.FITS) + mine.count(Verdict.FITS_WITH_PARTS),
            mine.count(Verdict.NOT_KNOWN_YET),
            mine.count(Verdict.DOES_NOT_FIT),
        )


def test_where_the_versions_decide_it_says_to_measure_again() -> None:
    found = asked(tiny(observations=said_of("bore_depth_mm", 65.0, 12.0)), "bore_depth_mm")
    assert verdicts(found) == [Verdict.DOES_NOT_FIT, Verdict.FITS]
    assert [(row.fits, row.open, row.fails) for row in found.rows] == [(1, 0, 1), (2, 0, 0)]
    assert not found.agree
    assert str(found.note) == "The verdict hangs on which reading of bore depth is right: measure it again."


def test_where_they_do_not_the_contradiction_is_only_noted() -> None:
    found = asked(tiny(observations=said_of("bore_depth_mm", 65.0, 66.0)), "bore_depth_mm")
    assert verdicts(found) == [Verdict.FITS, Verdict.FITS]
    assert found.agree
    assert str(found.note) == "The readings contradict on bore depth; under each of them this pump is: Fits as is."


def test_bolt_circles_of_88_9_and_92_1_are_judged_under_each() -> None:
    # the pair of circles of ux.md A7, on a face drilled for the wider one
    rows = without(said_of("flange_holes_xy_mm", square(88.9), square(92.1)), "M1", "face_holes_xy_mm")
    catalog = tiny(observations=(*rows, reading("M1", "face_holes_xy_mm", square(92.1))))
    found = asked(catalog, "flange_holes_xy_mm")
    by_circle = {row.shown.split(" mm")[0]: row.verdict for row in found.rows}
    # Bolts that pass at no turn take an adapter plate.
    assert by_circle == {"4 on 88.9": Verdict.FITS_WITH_PARTS, "4 on 92.1": Verdict.FITS}
    assert not found.agree


def test_neither_the_mean_nor_the_newest_nor_the_order_of_arrival_counts() -> None:
    one = asked(tiny(observations=said_of("bore_depth_mm", 65.0, 12.0)), "bore_depth_mm")
    other = asked(tiny(observations=said_of("bore_depth_mm", 12.0, 65.0)), "bore_depth_mm")
    assert verdicts(one) == verdicts(other)
    assert [row.shown for row in one.rows] == [row.shown for row in other.rows]


def test_a_weaker_reading_is_no_version() -> None:
    claimed = reading("P2", "bore_depth_mm", 12.0, "claimed")
    found = asked(tiny(observations=(*said_of("bore_depth_mm", 65.0), claimed)), "bore_depth_mm")
    assert (len(found.rows), found.agree) == (1, True)
    assert str(found.note) == "All readings that count agree on bore depth."


def test_three_readings_of_which_two_are_alike_are_two_versions() -> None:
    found = asked(tiny(observations=said_of("bore_depth_mm", 65.0, 12.0, 65.0)), "bore_depth_mm")
    assert [row.observation_ids for row in found.rows] == [(901,), (900, 902)]
    assert found.rows[1].known_by == "measured, Ana, 2025-03-01, caliper 2 / measured, Cy, 2026-05-03, rule"
    assert verdicts(found) == [Verdict.DOES_NOT_FIT, Verdict.FITS]


def test_words_contradict_too() -> None:
    found = asked(tiny(observations=said_of("bore_form", "hollow keyed", "hollow splined")), "bore_form")
    assert {row.shown: row.verdict for row in found.rows} == {
        "hollow keyed": Verdict.FITS,
        "hollow splined": Verdict.DOES_NOT_FIT,
    }


def test_a_size_of_the_machine_side_is_judged_with_its_engine() -> None:
    # one measured at the machine, the other at its engine: one thing on the bench
    rows = (*said_of("shaft_diameter_mm", 19.03, entry="M1"), reading("D1", "shaft_diameter_mm", 22.2))
    catalog = tiny(observations=rows)
    found = asked(catalog, "shaft_diameter_mm", entry="M1")
    assert verdicts(found) == [Verdict.FITS, Verdict.DOES_NOT_FIT]
    assert conflicts(catalog, ("M1", "D1")) == (("M1", "shaft_diameter_mm"),)


def test_an_engine_that_contradicts_itself_is_told_once() -> None:
    rows = without(ROWS.observations, "M1", "shaft_diameter_mm")
    engine = (reading("D1", "shaft_diameter_mm", 22.2), reading("D1", "shaft_diameter_mm", 19.03))
    catalog = tiny(observations=(*rows, *engine))
    assert conflicts(catalog, ("M1", "D1")) == (("D1", "shaft_diameter_mm"),)
    assert conflicts(catalog, ("M1",)) == (("M1", "shaft_diameter_mm"),)
    assert verdicts(asked(catalog, "shaft_diameter_mm", entry="D1")) == [Verdict.FITS, Verdict.DOES_NOT_FIT]


def test_what_a_port_says_is_a_version_without_an_observation() -> None:
    said = said_of("inlet_thread", "3/4-11.5 NH")
    port = PortRow("P2", "inlet", "3/8-18 NPT", "female", how="measured", seen_by="Dov", seen_on="2026-01-05")
    found = asked(tiny(observations=said, ports=(port,)), "inlet_thread")
    by_thread = {row.shown: row for row in found.rows}
    assert by_thread["3/8-18 NPT"].observation_ids == ()
    assert by_thread["3/8-18 NPT"].known_by == "measured, Dov, 2026-01-05"
    assert by_thread["3/4-11.5 NH"].observation_ids == (900,)
    assert by_thread["3/4-11.5 NH"].verdict is Verdict.FITS
    assert by_thread["3/8-18 NPT"].verdict is not Verdict.FITS


def test_a_gender_that_a_port_contradicts_is_judged_under_each() -> None:
    port = PortRow("P2", "inlet", "", "male", how="measured")
    rows = without(ROWS.observations, "P2", "inlet_gender")
    found = asked(tiny(observations=(*rows, reading("P2", "inlet_gender", "female")), ports=(port,)), "inlet_gender")
    by_gender = {row.shown: row.verdict for row in found.rows}
    assert set(by_gender) == {"male", "female"}
    assert by_gender["female"] is Verdict.FITS
    assert by_gender["male"] is not Verdict.FITS


def test_without_a_job_or_a_pump_nothing_is_said_to_agree() -> None:
    catalog = tiny(observations=said_of("bore_depth_mm", 65.0, 66.0))
    no_job = asked(catalog, "bore_depth_mm", job=None)
    assert (verdicts(no_job), no_job.agree) == ([None, None], False)
    assert "open a job" in str(no_job.note)
    no_pump = asked(catalog, "bore_depth_mm", pump=None)
    assert (verdicts(no_pump), no_pump.agree, no_pump.rows[0].fits) == ([None, None], False, 2)
    assert "choose a pump" in str(no_pump.note)


def test_what_nobody_knows_has_no_versions() -> None:
    found = asked(tiny(observations=said_of("bore_depth_mm")), "bore_depth_mm")
    assert (found.rows, found.agree) == ((), False)
    assert str(found.note) == "Nobody has said how large this is: measure bore depth."


def test_a_field_that_does_not_exist_is_named() -> None:
    with pytest.raises(UnknownFieldError, match="bore_dept_mm"):
        asked(tiny(), "bore_dept_mm")


def test_progress_runs_once_through_all_versions() -> None:
    progress = Quiet()
    catalog = tiny(observations=said_of("bore_depth_mm", 65.0, 12.0))
    both_versions(catalog, JOB, "P2", "bore_depth_mm", "P2", progress)
    done, totals = zip(*progress.told, strict=True)
    assert (done[0], len(set(totals))) == (0, 1)
    assert list(done) == sorted(set(done))
    assert totals[0] / 2 <= done[-1] < totals[0]
    with pytest.raises(WorkCancelledError):
        both_versions(catalog, JOB, "P2", "bore_depth_mm", "P2", Cancelled(3))


def test_the_catalog_asked_about_stays_as_it_was() -> None:
    catalog = tiny(observations=said_of("bore_depth_mm", 65.0, 12.0))
    before = dict(catalog.observations)
    asked(catalog, "bore_depth_mm")
    assert catalog.observations == before


def test_the_contradictions_put_into_the_sample_are_all_found() -> None:
    planted = {(pump, field) for pump, fields in CONTRADICTIONS.items() for field in fields}
    assert set(conflicts(SAMPLE, [one.entry_id for one in SAMPLE.pumps()])) == planted


@pytest.mark.parametrize(
    ("machine", "pump", "agree"), [("M-019", "P-036", False), ("M-031", "P-058", False), ("M-001", "P-008", True)]
)
def test_the_sample_says_which_contradictions_matter(machine: str, pump: str, agree: bool) -> None:
    (field,) = CONTRADICTIONS[pump]
    found = both_versions(SAMPLE, Job(None, machine, "", ()), pump, field, pump, Quiet())
    assert len(found.rows) == 2
    assert found.agree is agree
    assert {row.fits + row.open + row.fails for row in found.rows} == {len(SAMPLE.pumps())}


def test_a_pump_that_fits_under_each_but_with_other_parts_does_not_agree() -> None:
    # P-058 is 84 or 92 mm deep: with the first it needs spacers and longer bolts, and the desk says "Not known yet"
    found = both_versions(SAMPLE, Job(None, "M-031", "", ()), "P-058", "bore_depth_mm", "P-058", Quiet())
    assert verdicts(found) == [Verdict.FITS_WITH_PARTS, Verdict.FITS_WITH_PARTS]
    assert not found.agree
    assert str(found.note) == (
        "Under each reading of bore depth this pump is: Fits with parts, but with other parts or for other reasons: "
        "measure it again."
    )


@pytest.mark.parametrize("pump", CONTRADICTIONS)
def test_what_agrees_is_what_the_desk_says(pump: str) -> None:
    (field,) = CONTRADICTIONS[pump]
    for machine in sorted(SAMPLE.machines)[::27]:
        found = both_versions(SAMPLE, Job(None, machine, "", ()), pump, field, pump, Quiet())
        if found.agree:
            whole = judge_one(SAMPLE, job_values(SAMPLE, None, machine), pump).judgement
            assert whole.verdict is found.rows[0].verdict


def test_another_contradiction_stays_on_the_table() -> None:
    rows = without(said_of("bore_depth_mm", 65.0, 66.0), "P2", "bore_form")
    forms = (reading("P2", "bore_form", "hollow keyed"), reading("P2", "bore_form", "hollow splined"))
    catalog = tiny(observations=(*rows, *forms))
    assert conflicts(catalog, ("P2",)) == (("P2", "bore_depth_mm"), ("P2", "bore_form"))
    assert verdicts(asked(catalog, "bore_depth_mm")) == [Verdict.NOT_KNOWN_YET, Verdict.NOT_KNOWN_YET]
