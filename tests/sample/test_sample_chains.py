"""The sample's shelf holds fittings enough for every kind of chain that the program can plan."""

from __future__ import annotations

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.model.shelf import PartEnd
from xref_app.core.model.words import Gender
from xref_app.core.parts.chains import Chain, best_chains
from xref_app.core.parts.fitting_index import fitting_index
from xref_app.core.parts.joints import read_part_end_or_none
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.machine_side import job_values

CATALOG = catalog_of(sample_rows())
MALE, FEMALE = Gender.MALE, Gender.FEMALE
M22 = "M22x1.5"


def best(ours: PartEnd, theirs: PartEnd, least_bar: float | None = 200.0) -> Chain:
    hose, port = read_part_end_or_none(ours), read_part_end_or_none(theirs)
    assert hose is not None
    assert port is not None
    return best_chains(fitting_index(CATALOG.shelf, least_bar=least_bar, hottest_c=40.0), hose, port)[0]


@pytest.mark.parametrize(
    "word",
    [
        "Elbow",
        "Swivel elbow",
        "Reducing nipple",
        "Bushing",
        "Coupler plug",
        "Coupler socket",
        "Hose piece",
        "Tee",
        "Gauge tee",
        "Plug",
    ],
)
def test_every_kind_of_fitting_is_listed(word: str) -> None:
    assert any(part.name.startswith(f"{word} ") for part in CATALOG.shelf)


@pytest.mark.parametrize(
    ("ours", "theirs", "words"),
    [
        (
            PartEnd(M22, FEMALE, 14.0),
            PartEnd("G1/4 flat shoulder", FEMALE),
            ["Hose nipple"],
        ),
        (
            PartEnd(M22, FEMALE, 14.0),
            PartEnd("M18x1.5 cone 24 L", MALE),
            ["Gauge tee", "Plug"],
        ),
        (
            PartEnd("quick coupler 3/8 profile A", MALE),
            PartEnd("G3/8 flat shoulder", FEMALE),
            ["Coupler socket", "Adapter"],
        ),
        (
            PartEnd("3/8-18 NPT", MALE),
            PartEnd("G1/2 flat shoulder", FEMALE),
            ["Coupling", "Adapter", "Bushing"],
        ),
        (
            PartEnd("quick coupler 3/8 profile A", FEMALE),
            PartEnd("M18x1.5 cone 24 L", MALE),
            ["Coupler plug", "Gauge tee", "Plug"],
        ),
    ],
)
def test_chains_of_one_two_and_three_pieces_occur(ours: PartEnd, theirs: PartEnd, words: list[str]) -> None:
    names = [piece.name for piece in best(ours, theirs).pieces]
    assert len(names) == len(words), names
    for name, word in zip(names, words, strict=True):
        assert name.startswith(word), names


def test_a_pump_of_the_sample_goes_on_by_a_chain_of_two() -> None:
    outlet = next(
        one
        for one in judgement_of(CATALOG, job_values(CATALOG, None, "M-001"), "P-013").findings
        if one.check == "outlet"
    )
    assert outlet.outcome.word == "by parts"
    assert len(outlet.needs) == 2
