"""A damaged row is left out, and what it may have said keeps the units it belongs to from fitting."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, text

from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.load_catalog import load_catalog
from xref_app.services.machine_side import job_values
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository

MACHINE, FITTING, OTHER = "M-019", "P-030", "P-034"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Engine]:
    engine = open_engine(tmp_path / "shop.sqlite")
    import_catalog(engine, sample_rows(), who="Ana", why="first stock")
    yield engine
    engine.dispose()


def verdict_after(store: Engine, words: str, pump: str = FITTING) -> Verdict:
    with store.begin() as connection:
        connection.execute(text(words))
    catalog = load_catalog(CatalogRepository(store))
    return judgement_of(catalog, job_values(catalog, None, MACHINE), pump).verdict


def test_the_pump_fits_while_nothing_is_damaged(store: Engine) -> None:
    assert verdict_after(store, "SELECT 1") is Verdict.FITS


def test_a_damaged_reading_that_no_check_needs_still_keeps_its_pump_from_fitting(store: Engine) -> None:
    words = f"UPDATE observations SET value = value + 1 WHERE entry_id = '{FITTING}' AND field = 'pump_length_mm'"
    assert verdict_after(store, words) is Verdict.NOT_KNOWN_YET


def test_a_damaged_reading_of_one_pump_leaves_the_others_alone(store: Engine) -> None:
    words = f"UPDATE observations SET value = value + 1 WHERE entry_id = '{FITTING}' AND field = 'bore_depth_mm'"
    assert verdict_after(store, words, OTHER) is Verdict.FITS


def test_a_damaged_reading_of_the_engine_keeps_every_pump_from_fitting(store: Engine) -> None:
    words = (
        "UPDATE observations SET seen_by = 'Eve' WHERE field = 'power_kw' "
        f"AND entry_id = (SELECT driver_id FROM machines WHERE entry_id = '{MACHINE}')"
    )
    assert verdict_after(store, words, OTHER) is not Verdict.FITS


def test_a_row_that_vanished_keeps_everything_from_fitting(store: Engine) -> None:
    words = "DELETE FROM observations WHERE observation_id = (SELECT max(observation_id) FROM observations)"
    assert verdict_after(store, words, OTHER) is Verdict.NOT_KNOWN_YET


def test_the_finding_says_what_is_the_matter(store: Engine) -> None:
    with store.begin() as connection:
        connection.execute(text(f"UPDATE observations SET doubt = 9 WHERE entry_id = '{FITTING}' AND field = 'oil'"))
    catalog = load_catalog(CatalogRepository(store))
    judgement = judgement_of(catalog, job_values(catalog, None, MACHINE), FITTING)
    (identity,) = [one for one in judgement.findings if one.check == "identity"]
    assert identity.outcome is Outcome.UNKNOWN
    assert str(identity.reason) == (
        "Part of what is stored about this unit or machine does not match its check sum and is set aside; "
        "put back the last copy, or measure again."
    )
