"""Facts as rows ready to show, and the desk that the window asks."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.services.tiny import Quiet, entry, reading, tiny, tiny_rows, without
from xref_app.core.fields.fields import Side, all_fields, field_for
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import MachineRow, Observation, PortRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.model.known import Fact, Seats
from xref_app.exchange.data_package import write_data_package
from xref_app.services.answers import FactRow, FactState
from xref_app.services.catalog import Catalog
from xref_app.services.desk import CatalogDesk
from xref_app.services.facts import fact_rows, shown_value
from xref_app.services.machine_side import job_values
from xref_app.services.open_catalog import import_folder, open_own, open_sample
from xref_app.services.sample_name import SAMPLE_NAME

ROWS = tiny_rows()


def rows_of(catalog: Catalog, *, pump: str | None = None, machine: str | None = "M1") -> dict[str, FactRow]:
    sources = ("M1", "D1") if machine else ()
    return {row.field: row for row in fact_rows(catalog, job_values(catalog, pump, machine).machine, sources)}


def put(*readings: Observation) -> Catalog:
    rows = ROWS.observations
    for one in readings:
        rows = without(rows, one.entry_id, one.field)
    return tiny(observations=(*rows, *readings))


def test_a_fact_shows_both_units_how_by_whom_and_when() -> None:
    catalog = put(reading("M1", "shaft_projection_mm", 61.9, seen_by="Ana", seen_on="2025-11-03"))
    row = rows_of(catalog)["shaft_projection_mm"]
    assert row.title == "Shaft projection"
    assert row.shown.startswith("61.9 mm")
    assert " in" in row.shown
    assert (row.known_by, row.state) == ("measured, Ana, 2025-11-03", FactState.KNOWN)


def test_inches_come_first_where_asked_for() -> None:
    values = job_values(tiny(), None, "M1").machine
    rows = {row.field: row.shown for row in fact_rows(tiny(), values, ("M1",), inch_first=True)}
    assert rows["face_bolt_length_mm"].endswith("mm)")
    assert rows["power_kw"] == rows_of(tiny())["power_kw"].shown


def test_two_versions_are_both_shown_with_who_saw_them() -> None:
    catalog = tiny(
        observations=(
            *without(ROWS.observations, "M1", "shaft_projection_mm"),
            reading("M1", "shaft_projection_mm", 61.9, seen_by="Ana"),
            reading("M1", "shaft_projection_mm", 55.0, seen_by="Odrin"),
            reading("M1", "shaft_projection_mm", 20.0, "claimed", seen_by="somebody"),
        )
    )
    row = rows_of(catalog)["shaft_projection_mm"]
    assert row.state is FactState.CONFLICT
    assert " / " in row.shown
    assert row.known_by == "measured, Ana / measured, Odrin"


def test_a_hint_is_called_a_hint() -> None:
    row = rows_of(put(reading("M1", "face_material", "iron", "typical")))["face_material"]
    assert (row.shown, row.known_by, row.state) == ("iron", "typical", FactState.HINT)


def test_what_is_not_known_comes_last() -> None:
    catalog = tiny(observations=without(ROWS.observations, "M1", "shaft_form", "room_length_mm"))
    rows = fact_rows(catalog, job_values(catalog, "P2", "M1").machine, ("M1", "D1"))
    unknown = [row.field for row in rows if row.state is FactState.UNKNOWN]
    assert [row.state is FactState.UNKNOWN for row in rows] == sorted(row.state is FactState.UNKNOWN for row in rows)
    assert "room_length_mm" in unknown
    row = next(one for one in rows if one.field == "room_length_mm")
    assert (row.shown, row.known_by) == ("? not known", "")


def test_every_row_is_of_the_machine_side_and_none_comes_twice() -> None:
    fields = [row.field for row in fact_rows(tiny(), job_values(tiny(), None, "M1").machine, ("M1",))]
    assert len(fields) == len(set(fields))
    machine = {field.field_id for field in all_fields().values() if field.side is Side.MACHINE}
    assert set(fields) <= machine


def test_what_the_old_pump_tells_says_so() -> None:
    row = rows_of(tiny(), pump="P1", machine=None)["shaft_axis"]
    assert (row.shown, row.known_by) == ("horizontal", "claimed, told by the old pump")


def test_no_digit_is_shown_that_the_old_pump_cannot_tell() -> None:
    rows = rows_of(tiny(), pump="P1", machine=None)
    # by hand: bolts on 92 mm, ± 0.1 of the reading and ± 0.4 of the bolts in their holes; 92 / 25.4 = 3.622
    assert rows["face_holes_xy_mm"].shown == "4 on 92 mm (3.62 in)"
    # bore 19.05 ± 0.1: at most 19.15, at least 18.95 less twice IT9 of 0.052 (ISO 286-1), 18.846; over 25.4 in inches
    assert rows["shaft_diameter_mm"].shown == "18.84 to 19.15 mm (0.7419 to 0.7540 in)"


def test_the_turning_direction_is_spelled_out() -> None:
    assert rows_of(tiny())["shaft_turn"].shown == "counter-clockwise"
    assert shown_value(field_for("bore_turn"), Fact("cw")) == "clockwise"


def test_a_port_row_is_told_by_whoever_saw_it() -> None:
    port = PortRow("M1", "supply", "3/4-11.5 NH", "male", how="measured", seen_by="Ana", seen_on="2025-01-02")
    catalog = tiny(observations=without(ROWS.observations, "M1", "supply_thread", "supply_gender"), ports=(port,))
    row = rows_of(catalog)["supply_thread"]
    assert (row.shown, row.known_by) == ("3/4-11.5 NH", "measured, Ana, 2025-01-02")


def test_sizes_of_what_is_not_there_are_not_asked_for() -> None:
    plain = rows_of(tiny())
    moot = {"face_hole_mm", "face_thickness_mm", "face_pilot_mm", "face_pilot_depth_mm", "supply_seal_mm"}
    assert not moot & plain.keys()
    assert "discharge_seal_mm" in plain
    through = rows_of(put(reading("M1", "face_hole_kind", "through"), reading("M1", "face_pilot_kind", "boss")))
    assert {"face_hole_mm", "face_thickness_mm", "face_pilot_mm", "face_pilot_depth_mm"} <= through.keys()


def test_patterns_heights_sectors_and_yes_or_no_are_worded() -> None:
    rows = rows_of(tiny())
    assert rows["face_holes_xy_mm"].shown.startswith("4 on 92 mm")
    assert rows["face_seat_heights_mm"].shown == "0, 0, 0, 0 mm"
    assert rows["room_outlet_free_deg"].shown == "0° to 360°"
    assert shown_value(field_for("has_unloader"), Fact(value=True)) == "yes"
    assert shown_value(field_for("has_unloader"), Fact(value=False)) == "no"
    assert shown_value(field_for("flange_seat_heights_mm"), Seats((0.0, -2.5), 0.05)) == "0, -2.5 mm"


# --- the desk

TWO_BUILDS = (
    MachineRow("M1", "Heron 27", "D1", "P1", "2009-01-01", "2013-12-31", "round cover"),
    MachineRow("M2", "Heron 27", "D9", "P2", "2014-01-01", "", "square cover"),
)


def two_builds() -> CatalogDesk:
    return CatalogDesk(tiny(machines=TWO_BUILDS, entries=(*ROWS.entries, entry("M2", "machine"))), "Tiny")


def test_a_model_with_two_builds_is_asked_about_and_none_is_preselected() -> None:
    job = two_builds().open_job(None, "M1", Quiet())
    assert job.machine_id is None
    assert [choice.entry_id for choice in job.choices] == ["M1", "M2"]
    assert [(choice.driver, choice.tell_apart) for choice in job.choices] == [
        ("Lowmarsh Model D1", "round cover"),
        ("", "square cover"),
    ]
    assert job.choices[0].built == "2009-01-01 to 2013-12-31"
    assert job.choices[1].built == "from 2014-01-01 on"
    assert str(job.note) == "This model was built in 2 ways: look for round cover or square cover."


def test_the_build_that_is_picked_settles_machine_and_old_pump() -> None:
    desk = two_builds()
    job = desk.pick_build(desk.open_job(None, "M1", Quiet(), guessed_number=True), "M1", Quiet())
    assert (job.machine_id, job.pump_id, job.choices, job.guessed_number) == ("M1", "P1", (), True)
    assert job.title == "Lowmarsh Model M1 · LM100-A"
    assert any(row.state is FactState.KNOWN for row in job.facts)


def test_a_pump_alone_tells_of_its_machine_as_a_claim() -> None:
    desk = CatalogDesk(tiny(machines=()), "Tiny")
    job = desk.open_job("P1", None, Quiet())
    assert (job.pump_id, job.machine_id, job.choices) == ("P1", None, ())
    assert str(job.note) == "Only the old pump is known: what it tells of its machine counts as claimed."
    assert {row.known_by for row in job.facts if row.state is FactState.KNOWN} == {"claimed, told by the old pump"}


def test_a_pump_known_from_machines_names_them_and_picks_none() -> None:
    job = CatalogDesk(tiny(), "Tiny").open_job("P1", None, Quiet())
    assert job.machine_id is None
    assert [choice.entry_id for choice in job.choices] == ["M1"]
    assert str(job.note) == "This pump was fitted to one machine we know; pick it if it is yours."
    both = (*TWO_BUILDS, MachineRow("M3", "Tern 40", "D1", "P1"))
    desk = CatalogDesk(
        tiny(machines=both, entries=(*ROWS.entries, entry("M2", "machine"), entry("M3", "machine"))), "T"
    )
    assert str(desk.open_job("P1", None, Quiet()).note) == (
        "This pump was fitted to 2 machines; pick yours if it is among them."
    )


def test_the_pump_on_the_bench_settles_which_of_two_builds_it_came_off() -> None:
    job = two_builds().open_job("P1", "M1", Quiet())
    assert (job.machine_id, job.choices, job.note) == ("M1", (), None)


def test_nothing_named_opens_an_empty_job() -> None:
    job = CatalogDesk(tiny(), "Tiny").open_job(None, None, Quiet())
    assert (job.pump_id, job.machine_id, job.title, job.choices, job.note) == (None, None, "", (), None)
    assert [row for row in job.facts if row.state is not FactState.UNKNOWN] == []


def test_a_job_on_one_machine_judges_and_draws() -> None:
    desk = CatalogDesk(tiny(), "Tiny")
    job = desk.open_job(None, "M1", Quiet())
    assert (job.machine_id, job.pump_id, job.note) == ("M1", "P1", None)
    rows = desk.judge_all(job, Quiet()).rows
    assert [row.judgement.verdict for row in rows] == [Verdict.FITS, Verdict.FITS]
    assert desk.face(job, "P2", Quiet()) is not None


# --- the shop's own catalog


def test_the_shops_own_catalog_begins_empty_and_takes_in_a_folder(tmp_path: Path) -> None:
    store = tmp_path / "own.sqlite"
    desk = open_own(store)
    assert (desk.title(), dict(desk.catalog.entries)) == ("", {})
    package = CatalogRows(entries=(entry("PMP-1", "pump"), entry("ENG-1", "driver")))
    write_data_package(package, tmp_path / "package")
    import_folder(tmp_path / "package", who="Ana", store=store)
    assert set(open_own(store).catalog.entries) == {"PMP-1", "ENG-1"}


def test_the_sample_opens_in_a_store_of_its_own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("xref_app.store.place.user_cache_path", lambda *_, **__: tmp_path)
    desk = open_sample()
    assert desk.title() == SAMPLE_NAME
    assert len(desk.catalog.pumps()) > 50
