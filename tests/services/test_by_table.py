"""Whatever is read, the table of values answers word for word as going through the entries one by one does."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import pytest

from tests.bench.big_catalog import all_different, with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.entry_by_entry import known_of_kind, meeting, next_field, possible, ruled_out, same_sizes
from tests.services.random_readings import random_readings
from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.fields import all_fields
from xref_app.core.model.known import Fact
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.duplicates import duplicates
from xref_app.services.kept_tables import table_of_kind
from xref_app.services.measure_order import next_question
from xref_app.services.size_search import best_meeting, entries_meeting
from xref_app.services.told_apart import StillPossible

SAMPLE = catalog_of(sample_rows())
IDS = {kind: [one.entry_id for one in SAMPLE.entries.values() if one.kind == kind] for kind in ("pump", "machine")}
ENGINES = [row.driver_id for row in SAMPLE.machines.values()]
DAMAGED = replace(SAMPLE, damaged=Damage(9, frozenset([*IDS["pump"][::7], *IDS["machine"][::5], *ENGINES[::6]])))
ANY_DAMAGED = replace(SAMPLE, damaged=Damage(1, anywhere=True))
MANY = with_many_pumps(SAMPLE, 300, seed=4, pumps_per_face=3)


CATALOGS = pytest.mark.parametrize(
    ("catalog", "kind"),
    [
        pytest.param(SAMPLE, "pump", id="pumps"),
        pytest.param(SAMPLE, "driver", id="engines"),
        pytest.param(SAMPLE, "machine", id="machines"),
        pytest.param(DAMAGED, "pump", id="damaged pumps"),
        pytest.param(DAMAGED, "machine", id="damaged machines"),
        pytest.param(ANY_DAMAGED, "pump", id="anything damaged"),
        pytest.param(MANY, "pump", id="many pumps"),
        pytest.param(all_different(MANY, 6), "pump", id="many pumps measured"),
    ],
)
SEARCHES, STEPS = 60, 12


@CATALOGS
def test_the_same_entries_are_found_with_the_same_words(catalog: Catalog, kind: str) -> None:
    rng, known = random.Random(f"search {kind}"), known_of_kind(catalog, kind)
    found = Counter[bool]()
    for _ in range(SEARCHES):
        readings = random_readings(known, rng, 8)
        expected = meeting(catalog, known, readings)
        assert entries_meeting(catalog, kind, readings) == expected, readings
        most = rng.randint(0, 12)
        assert best_meeting(catalog, kind, readings, most=most) == (expected[:most], len(expected)), readings
        found[0 < len(expected) < len(known)] += 1
    assert found[True] > SEARCHES / 4 or catalog.damaged.known().anywhere


@CATALOGS
def test_the_same_is_asked_next_and_rules_out_as_many(catalog: Catalog, kind: str) -> None:
    rng, known = random.Random(f"next {kind}"), known_of_kind(catalog, kind)
    for _ in range(STEPS):
        readings = random_readings(known, rng, 5)
        skipped = rng.sample(list(all_fields()), 10)
        left = possible(catalog, known, readings)
        question = next_question(catalog, kind, readings, skipped)
        assert question is not None
        assert (question.field, question.rules_out) == next_field(kind, left, readings, skipped), readings
        assert question.candidates == len(left)


@CATALOGS
def test_every_field_rules_out_as_many_as_counted_one_by_one(catalog: Catalog, kind: str) -> None:
    rng, known = random.Random(f"every {kind}"), known_of_kind(catalog, kind)
    for most in (0, 3):
        readings = random_readings(known, rng, most)
        left = possible(catalog, known, readings)
        still = StillPossible.of(catalog, table_of_kind(catalog, kind), readings)
        for field in all_fields().values():
            assert still.ruled_out(field) == ruled_out(field, left), field.field_id


@CATALOGS
def test_the_same_entries_may_be_doubles(catalog: Catalog, kind: str) -> None:
    rng, known = random.Random(f"doubles {kind}"), known_of_kind(catalog, kind)
    seen = 0
    for _ in range(SEARCHES):
        readings, leaving_out = random_readings(known, rng, 12), rng.choice(list(known))
        found = duplicates(catalog, kind, readings, [], leaving_out=leaving_out)
        assert found == same_sizes(catalog, known, readings, leaving_out), readings
        seen += len(found)
    assert seen


def test_a_reading_of_no_field_is_refused() -> None:
    with pytest.raises(UnknownFieldError):
        entries_meeting(SAMPLE, "pump", {"bore_colour": Fact("red")})
