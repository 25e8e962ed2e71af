"""Makes the sample catalog: the stock and notes of an invented shop in an invented place.

Quillhaven is a harbour town that is on no map; the shop, its people, the makers and every number are made up. The same
seed gives the same bytes. Run ``python -m tests.sample.make_sample_catalog sample_catalog`` after a change here.
"""

from __future__ import annotations

import sys
from itertools import pairwise
from pathlib import Path

from tests.sample.chain_fittings import chain_fittings
from tests.sample.engine_families import ENGINE_FAMILIES
from tests.sample.motor_families import MOTOR_FAMILIES
from tests.sample.names import NumberBook
from tests.sample.parts import all_parts
from tests.sample.readings import Notebook
from tests.sample.said import Dice
from tests.sample.stock import added_to_shelf, outcomes, reservations, salvaged, shelf, to_pair_up, unit_reservations
from tests.sample.troubles import CHAINS, CONTRADICTIONS, FOUR_NUMBERS, HABITS, LOOK_ALIKES, WITHDRAWN
from tests.sample.units import Units
from xref_app.core.model.catalog import Number, ReplacedBy
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.data_package import write_data_package

SEED = 20_261_125
NAME = "quillhaven-sample"
TITLE = "Sample catalog of a wash-and-pump shop in Quillhaven (all of it invented)"
FAMILIES = (*ENGINE_FAMILIES, *MOTOR_FAMILIES)


def sample_rows() -> CatalogRows:
    """Return every row of the sample catalog."""
    dice = Dice(SEED)
    units = Units(dice, Notebook(dice), NumberBook(dice))
    units.make(FAMILIES)
    _write_troubles(units.notebook)
    parts, later = all_parts(), len(tuple(chain_fittings()))
    pumps = [units.pumps_of[family.key][0] for family in FAMILIES]
    # Dice of its own, so that all that was drawn before the later parts came stays as it was.
    places = added_to_shelf(Dice(SEED + 1), parts[-later:], shelf(dice, parts[:-later], pumps))
    return CatalogRows(
        entries=tuple(units.entries),
        numbers=_numbers(units.numbers),
        observations=tuple(units.notebook.observations),
        drivers=tuple(units.drivers),
        machines=tuple(units.machines),
        ports=tuple(units.notebook.ports),
        parts=parts,
        shelf=places,
        reservations=reservations(places),
        salvaged_units=to_pair_up(salvaged(dice, units.entries)),
        unit_reservations=unit_reservations(),
        replaced_by=_chains(dice),
        outcomes=outcomes(dice, units),
    )


def make_sample_catalog(folder: Path) -> None:
    """Write the sample catalog into ``folder``."""
    write_data_package(sample_rows(), folder, name=NAME, title=TITLE)


def _write_troubles(notebook: Notebook) -> None:
    for entry_id, fields in CONTRADICTIONS.items():
        for field_id, sizes in fields.items():
            for said in sizes:
                notebook.write(entry_id, field_id, said, "measured")
    for entry_id, field_id, said in HABITS:
        notebook.write(entry_id, field_id, said, "typical")
    for entry_id, field_id, said in WITHDRAWN:
        notebook.write(entry_id, field_id, said, "measured", withdrawn_on="2025-06-02")


def _numbers(book: NumberBook) -> tuple[Number, ...]:
    book.numbers = [number for number in book.numbers if number.entry_id not in FOUR_NUMBERS]
    for entry_id, numbers in FOUR_NUMBERS.items():
        for number, role, how in numbers:
            book.add(entry_id, number, role, how)
    for first, first_number, second, second_number in LOOK_ALIKES:
        book.add(first, first_number, "maker", "sheet")
        book.add(second, second_number, "maker", "sheet")
    return tuple(book.numbers)


def _chains(dice: Dice) -> tuple[ReplacedBy, ...]:
    return tuple(
        ReplacedBy(
            entry_id=old,
            new_entry_id=new,
            # Each step of a chain is younger than the one before.
            since=dice.day(2015 + 3 * place, 2017 + 3 * place),
            how=dice.pick(("sheet", "claimed")),
            source=dice.pick(("change list", "seller's page")),
        )
        for chain in CHAINS
        for place, (old, new) in enumerate(pairwise(chain))
    )


if __name__ == "__main__":
    make_sample_catalog(Path(sys.argv[1]))
