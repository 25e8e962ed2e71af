"""A bin with a piece or two in it never makes the answer worse than an empty one: what is listed can be ordered."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.sample.in_memory import catalog_of
from tests.services.tiny import Quiet
from xref_app.core.fit.finding import Judgement
from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.desk import CatalogDesk

# On M-001 the pump P-002 of the sample needs three spacers T-025, one under each bolt.
MACHINE, PUMP, SPACER = "M-001", "P-002", "T-025"


@pytest.fixture(scope="module")
def sample() -> CatalogDesk:
    return CatalogDesk(catalog_of(read_data_package(Path(str(folder("sample_catalog"))))), "Sample")


def judged_with(sample: CatalogDesk, pieces: int) -> Judgement:
    bins = tuple(replace(one, count=pieces) for one in sample.catalog.bins)
    desk = CatalogDesk(replace(sample.catalog, bins=bins, reservations=()), "Sample")
    job = desk.open_job(None, MACHINE, Quiet())
    rows = desk.judge_all(desk.pick_build(job, MACHINE, Quiet()) if job.choices else job, Quiet()).rows
    found = next(one.judgement for one in rows if one.entry_id == PUMP)
    assert found is not None
    return found


@pytest.mark.parametrize(("pieces", "lying"), [(0, 0), (1, 1), (2, 2)])
def test_too_few_in_the_bin_are_ordered_as_those_of_an_empty_one_are(
    sample: CatalogDesk, pieces: int, lying: int
) -> None:
    (need,) = judged_with(sample, pieces).needs
    assert need.listed is not None
    assert (need.quantity, need.listed.part_id, need.listed.to_order, need.listed.lying) == (3, SPACER, True, lying)


def test_as_many_as_are_needed_are_taken_from_the_bin(sample: CatalogDesk) -> None:
    (need,) = judged_with(sample, 3).needs
    assert need.listed is not None
    assert (need.listed.part_id, need.listed.to_order) == (SPACER, False)
