"""What the records suggest for fix or replace, and what typed figures make of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.services.bench_store import sample_desk
from xref_app.core.economics.engine_state import COMPRESSION_UNKNOWN, MOTOR, Compression, EngineState, engine_remarks
from xref_app.core.economics.lines import Way
from xref_app.core.fit.finding import Judgement, Need, Verdict
from xref_app.core.model.catalog import PartRow, SalvagedUnit, ShelfRow
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.progress import NO_PROGRESS
from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Job
from xref_app.services.catalog import Catalog
from xref_app.services.fix_or_replace import Entries, ShopTexts, Typed, Worked, work_out
from xref_app.services.fix_plan import FixPlan, PlannedColumn, fix_plan

TODAY = date(2026, 11, 25)
OLD, NEW_PUMP = "P-OLD", "P-NEW"
EMPTY = Catalog({}, {}, {}, {}, {}, {}, (), (), (), ())
JOB = Job(OLD, None, "a job", ())
SPACER = Part(PartKind.SPACER, count=9, cost=0.0, part_id="T-1", name="Spacer")


def candidate(*needs: Need, verdict: Verdict = Verdict.FITS_WITH_PARTS, claims: tuple[str, ...] = ()) -> Candidate:
    return Candidate(NEW_PUMP, "N 1", "", "", Sentence(""), Judgement(verdict, (), needs=needs, claims=claims))


def need(part: Part | None = SPACER, *, quantity: int = 4, to_make: bool = False) -> Need:
    return Need(Sentence("spacer"), quantity, part, to_make)


def plan(
    *needs: Need,
    parts: tuple[PartRow, ...] = (),
    bins: tuple[ShelfRow, ...] = (),
    salvaged: tuple[SalvagedUnit, ...] = (),
    chosen: Candidate | None = None,
) -> FixPlan:
    catalog = replace(EMPTY, parts=parts, bins=bins)
    return fix_plan(catalog, salvaged, JOB, chosen or candidate(*needs))


def texts(column: PlannedColumn) -> dict[str, str]:
    return {one.figure: one.text for one in column.blanks}


def test_a_part_costs_what_the_dearest_bin_says_with_the_day_it_was_counted() -> None:
    bins = (
        ShelfRow("S-1", "T-1", "", "A1", 4, 1.2, "2026-03-01"),
        ShelfRow("S-2", "T-1", "", "B2", 4, 1.5, "2025-02-01"),
    )
    blank = plan(need(), bins=bins).put_on.blanks[1]
    assert (blank.text, blank.pieces, blank.origin.day) == ("1.50", 4, date(2025, 2, 1))
    assert str(blank.origin.source) == "price in bin B2, as counted"


def test_a_part_in_no_bin_costs_what_the_parts_list_says_of_no_known_day() -> None:
    blank = plan(need(), parts=(PartRow("T-1", "spacer", "Spacer", cost=1.2),)).put_on.blanks[1]
    assert (blank.text, blank.origin.day) == ("1.20", None)


@pytest.mark.parametrize("wanted", [need(), need(None), need(None, to_make=True)])
def test_a_price_that_nobody_wrote_down_is_not_zero(wanted: Need) -> None:
    # The planner sees such a part with a cost of 0.0.
    suggested = plan(wanted, parts=(PartRow("T-1", "spacer", "Spacer"),))
    assert suggested.put_on.blanks[1].text == ""
    total = worked(suggested).comparison.total(Way.PUT_ON)
    assert total is not None
    assert total.total is None


def test_a_whole_pump_costs_what_its_bin_says() -> None:
    bins = (ShelfRow("S-1", "", NEW_PUMP, "A1", 1, 149.0, "2026-03-01"),)
    blank = plan(bins=bins).put_on.blanks[0]
    assert (blank.text, blank.origin.day) == ("149.00", date(2026, 3, 1))


def test_a_pump_that_does_not_fit_is_ruled_out_and_one_not_known_is_in_doubt() -> None:
    assert plan(chosen=candidate(verdict=Verdict.DOES_NOT_FIT)).put_on.ruled_out is not None
    unknown = plan(chosen=candidate(verdict=Verdict.NOT_KNOWN_YET)).put_on
    assert [str(one) for one in unknown.doubts] == ["Not known yet whether it fits: measure before buying."]
    claimed = plan(chosen=candidate(claims=("bore_mm",))).put_on
    assert [str(one) for one in claimed.doubts] == ["That it fits rests on what is only claimed."]
    assert plan(chosen=candidate(verdict=Verdict.FITS)).put_on.doubts == ()


def test_no_chosen_pump_leaves_the_other_ways() -> None:
    found = fix_plan(EMPTY, (), None, None)
    assert found.put_on.ruled_out is not None
    assert [one.way for one in found.columns(0)] == list(Way)


def test_used_pumps_stand_best_first_and_those_for_parts_do_not() -> None:
    salvaged = (
        SalvagedUnit("U-1", OLD, condition="worn", price=10),
        SalvagedUnit("U-2", OLD, condition="tested good", hours=40, price=60),
        SalvagedUnit("U-3", OLD, condition="for parts", price=5),
        SalvagedUnit("U-4", NEW_PUMP, condition="runs", price=30),
        SalvagedUnit("U-5", "P-ELSE", condition="tested good", price=1),
    )
    found = plan(need(), salvaged=salvaged, parts=(PartRow("T-1", "spacer", "Spacer", cost=1.2),)).used
    assert [next(iter(texts(one))) for one in found] == ["used.U-2", "used.U-1", "used.U-4", "used.other"]
    # One like the old pump needs no parts; one like the substitute needs what the substitute needs.
    assert "need.T-1" not in texts(found[0])
    assert texts(found[2])["need.T-1"] == "1.20"
    # Only the tested one of known hours is in no doubt.
    assert [bool(one.open_state) for one in found] == [False, True, True, True]
    assert str(found[1].open_state[0]) == "Used unit: worn, hours not known."


def test_a_used_pump_of_a_substitute_that_does_not_fit_is_not_offered() -> None:
    salvaged = (SalvagedUnit("U-4", NEW_PUMP, condition="runs", price=30),)
    found = plan(chosen=candidate(verdict=Verdict.DOES_NOT_FIT), salvaged=salvaged).used
    assert [next(iter(texts(one))) for one in found] == ["used.other"]


SAID = {
    "keep.seal": "24-30",
    "keep.valve": "12",
    "keep.minutes": "1 h 10",
    f"put_on.{NEW_PUMP}": "149",
    "put_on.minutes": "25",
    "used.other": "60-70",
    "used.minutes": "25",
    "new.machine": "399",
    "new.minutes": "10",
    "new.trade_in": "30",
}


def worked(
    suggested: FixPlan,
    said: dict[str, str] | None = None,
    *,
    shop: ShopTexts | None = None,
    ticked: frozenset[str] = frozenset(),
    confirmed: dict[str, date] | None = None,
) -> Worked:
    typed = {figure: Typed(text, TODAY, Sentence("typed")) for figure, text in (SAID if said is None else said).items()}
    entries = Entries(typed=typed, confirmed=confirmed or {}, ticked=ticked, shop=shop or ShopTexts(rate="60", tax="8"))
    return work_out(suggested, entries, today=TODAY)


def totals(found: Worked) -> dict[Way, str]:
    return {
        one.way: "" if one.total is None else f"{one.total.low:.2f} {one.total.high:.2f}"
        for one in found.comparison.totals
    }


def test_typed_figures_come_to_the_totals_worked_by_hand() -> None:
    # As in tests/core/economics/test_table_by_hand.py; the substitute: 149 + 4 x 1.20 + 25 = 178.80; x 1.08 = 193.104.
    # The used one: 60 to 70 + 25 = 85 to 95; x 1.08 = 91.80 to 102.60.
    found = worked(plan(need(), parts=(PartRow("T-1", "spacer", "Spacer", cost=1.2),)))
    assert totals(found) == {
        Way.KEEP: "114.48 120.96",
        Way.PUT_ON: "193.10 193.10",
        Way.USED: "91.80 102.60",
        Way.NEW: "411.72 411.72",
    }
    assert not found.faults


def test_a_price_of_no_known_day_counts_only_once_confirmed_or_typed_anew() -> None:
    suggested = plan(need(), parts=(PartRow("T-1", "spacer", "Spacer", cost=1.2),))
    assert Way.PUT_ON not in worked(suggested).comparison.compared
    assert Way.PUT_ON in worked(suggested, confirmed={"need.T-1": TODAY}).comparison.compared
    assert Way.PUT_ON in worked(suggested, {**SAID, "need.T-1": "1.20"}).comparison.compared


def test_what_was_looked_at_is_in_doubt_no_more() -> None:
    found = worked(plan())
    assert not found.comparison.is_certain
    # 91.80 to 102.60 lies below 114.48 to 120.96.
    looked = worked(plan(), ticked=frozenset({Way.KEEP.name, Way.USED.name})).comparison
    assert (looked.cheapest, looked.is_certain) == ((Way.USED,), True)


def test_no_tick_settles_whether_it_fits() -> None:
    unknown = plan(chosen=candidate(verdict=Verdict.NOT_KNOWN_YET))
    cheap = {**SAID, f"put_on.{NEW_PUMP}": "1"}
    found = worked(unknown, cheap, ticked=frozenset(one.name for one in Way)).comparison
    assert Way.PUT_ON in found.cheapest
    assert not found.is_certain


def test_a_text_that_cannot_be_read_is_not_known_and_told() -> None:
    found = worked(plan(), {**SAID, "keep.seal": "1,000"})
    assert found.faults == {"keep.seal": "“1,000” can mean thousands or a part of one. Write it like 1000 or 1.00."}
    assert totals(found)[Way.KEEP] == ""


def test_a_tax_that_cannot_be_read_is_not_none() -> None:
    found = worked(plan(), shop=ShopTexts(rate="60", tax="x"))
    assert set(totals(found).values()) == {""}
    assert "shop.tax" in found.faults
    # 399 + 10 - 30 = 379
    assert totals(worked(plan(), shop=ShopTexts(rate="60", tax="")))[Way.NEW] == "379.00 379.00"


def test_cleared_figures_are_not_known() -> None:
    assert totals(worked(plan(), {**SAID, "keep.valve": " "}))[Way.KEEP] == ""
    assert totals(worked(plan(), {**SAID, "keep.valve": "none"}))[Way.KEEP] != ""


def test_the_engine_s_state_is_said_and_moves_no_figure() -> None:
    bad = EngineState(compression=Compression.LOW, age="12 years", hours="900")
    entries = Entries(shop=ShopTexts(rate="60"), engine=bad)
    assert (
        work_out(plan(), entries, today=TODAY).comparison
        == work_out(plan(), replace(entries, engine=EngineState()), today=TODAY).comparison
    )
    assert engine_remarks(EngineState())[0].template == COMPRESSION_UNKNOWN
    assert [str(one) for one in engine_remarks(bad)][1:] == [
        "Age of the engine: 12 years. Ask whether parts for it can still be had.",
        "Hours of the engine: 900, as said.",
    ]
    assert engine_remarks(EngineState(is_electric=True))[0].template == MOTOR


def test_a_store_suggests_its_bins_and_its_used_units(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    job = desk.open_job("P-021", None, NO_PROGRESS)
    chosen = replace(candidate(), entry_id="P-001", number="P 1")
    found = desk.fix.suggest(job, chosen)
    # sample_catalog/shelf.csv: S-168 holds P-001 at 216, counted 2025-03-15; salvaged_units.csv: U-005, U-046, U-001.
    price = found.put_on.blanks[0]
    assert (price.text, price.origin.day) == ("216.00", date(2025, 3, 15))
    assert [next(iter(texts(one).items())) for one in found.used] == [
        ("used.U-005", "17.00"),
        ("used.U-046", "45.00"),
        ("used.U-001", "109.00"),
        ("used.other", ""),
    ]
    assert found.columns(1)[2] is found.used[1]
