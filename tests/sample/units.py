"""Pumps, drivers and machines of every family, with all that is known of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.sample.families import Family, Port
from tests.sample.names import ENGINE_MAKERS, MACHINE_MAKERS, MOTOR_MAKERS, PUMP_MAKERS, SHAPES, NumberBook
from tests.sample.readings import COMPLETE, ONLY_CLAIMED, PEOPLE, SCANT, Manner, Notebook
from tests.sample.said import Dice
from tests.sample.troubles import CONTRADICTIONS
from xref_app.core.model.catalog import DriverRow, Entry, MachineRow

# The first pumps of every family are made for showing one verdict each on the family's first machine.
FITS, NEEDS_SPACER, LACKS_ONE_SIZE, CANNOT_FIT, CAME_WITH_IT = range(5)
WHOLE_FAMILIES = ("V78", "H34", "H1", "C56", "I90")
LACKED = "bore_depth_mm"
EVERY_SO_MANY_ONLY_CLAIMED = 9
EVERY_SO_MANY_WELL_KNOWN = 3
WELL_KNOWN_DRIVERS = 3
# What is seen on the first and on the second build of a model.
TELL_APART = (
    ("round air cleaner on top", "square air cleaner at the side"),
    ("base plate open under the pump", "base plate closed under the pump"),
    ("yellow oil cap", "black oil cap"),
    ("plate riveted to the frame", "plate glued to the frame"),
)
BUILDS_IN_TURN = 3


@dataclass(slots=True)
class Units:
    """Everything with an entry, as it is made."""

    dice: Dice
    notebook: Notebook
    numbers: NumberBook
    entries: list[Entry] = field(default_factory=list)
    drivers: list[DriverRow] = field(default_factory=list)
    machines: list[MachineRow] = field(default_factory=list)
    pumps_of: dict[str, list[str]] = field(default_factory=dict)
    drivers_of: dict[str, list[str]] = field(default_factory=dict)
    machines_of: dict[str, list[str]] = field(default_factory=dict)

    def make(self, families: Sequence[Family]) -> None:
        """Make the units of all families: pumps first, then drivers, then machines."""
        for family in families:
            self.pumps_of[family.key] = [self._pump(family, place) for place in range(family.pumps)]
        for family in families:
            places = range(len(family.driver_variants))
            self.drivers_of[family.key] = [self._driver(family, place) for place in places]
        for family in families:
            self.machines_of[family.key] = [self._machine(family, place) for place in range(family.machines)]

    def _entry(self, letter: str, kind: str, makers: Sequence[str], title: str) -> Entry:
        running = sum(entry.kind == kind for entry in self.entries) + 1
        digits = 2 if letter == "D" else 3
        entry = Entry(
            entry_id=f"{letter}-{running:0{digits}d}",
            kind=kind,
            maker=self.dice.pick(makers),
            name=title,
            added_by=self.dice.pick(PEOPLE),
            added_on=self.dice.day(2022, 2022),
        )
        self.entries.append(entry)
        return entry

    def _pump(self, family: Family, place: int) -> str:
        entry = self._entry("P", "pump", PUMP_MAKERS, f"Pump {family.title}")
        self.numbers.give(entry.entry_id, entry.maker)
        sizes = _pump_sizes(family, place)
        for field_id in CONTRADICTIONS.get(entry.entry_id, {}):
            sizes.pop(field_id, None)
        manner = _pump_manner(family, place, entry.entry_id)
        self.notebook.write_all(entry.entry_id, sizes, manner)
        demo = place <= CAME_WITH_IT
        inlet = family.inlets[0 if demo else place % len(family.inlets)]
        outlet = family.outlets[0 if demo else place % len(family.outlets)]
        self.notebook.write_port(entry.entry_id, "inlet", inlet, manner)
        toward = self.dice.pick(("0", "90", "180", "270"))
        self.notebook.write_port(entry.entry_id, "outlet", outlet, manner, "90" if demo else toward)
        return entry.entry_id

    def _driver(self, family: Family, place: int) -> str:
        makers = ENGINE_MAKERS if family.driver_variants[0]["power_kind"] == "petrol" else MOTOR_MAKERS
        kind = "Engine" if makers is ENGINE_MAKERS else "Motor"
        entry = self._entry("D", "driver", makers, f"{kind} {family.title}")
        self.numbers.give(entry.entry_id, entry.maker)
        sizes = {**family.driver, **family.driver_variants[place]}
        self.drivers.append(DriverRow(entry.entry_id, sizes["power_kind"], family.frame))
        self.notebook.write_all(entry.entry_id, sizes, COMPLETE if place < WELL_KNOWN_DRIVERS else SCANT)
        return entry.entry_id

    def _machine(self, family: Family, place: int) -> str:
        entry = self._entry("M", "machine", MACHINE_MAKERS, f"Pressure washer, {family.title}")
        sister = place % BUILDS_IN_TURN == 1
        model = self.machines[-1].model if sister else self.numbers.new(SHAPES[entry.maker])
        if sister:
            self.entries[-1] = entry = _of_maker(entry, self.entries[-2].maker)
        self.numbers.add(entry.entry_id, model, "model", "plate")
        drivers = self.drivers_of[family.key]
        self.machines.append(self._build(family, place, entry.entry_id, model, drivers[place % len(drivers)]))
        manner = COMPLETE if place < 2 or place % 2 == 0 else SCANT
        variants = family.machine_variants
        sizes = {**family.machine, **variants[place % len(drivers) % len(variants)]}
        self.notebook.write_all(entry.entry_id, sizes, manner)
        self._machine_ports(entry.entry_id, family.supply, family.discharge, manner)
        return entry.entry_id

    def _machine_ports(self, entry_id: str, supply: Port, discharge: Port, manner: Manner) -> None:
        self.notebook.write_port(entry_id, "supply", supply, manner)
        self.notebook.write_port(entry_id, "discharge", discharge, manner)

    def _build(self, family: Family, place: int, entry_id: str, model: str, driver_id: str) -> MachineRow:
        pumps = self.pumps_of[family.key]
        came_with_it = min(CAME_WITH_IT, len(pumps) - 1) if place == 0 else (place * 3 + 5) % len(pumps)
        known = place == 0 or not self.dice.chance(0.12)
        year = 2012 + place % 3 * 3
        return MachineRow(
            entry_id=entry_id,
            model=model,
            driver_id=driver_id,
            pump_id=pumps[came_with_it] if known else "",
            built_from=f"{year}-03-01",
            built_to=f"{year + 2}-11-30" if self.dice.chance(0.8) else "",
            tell_apart=_tell_apart(place),
        )


def _tell_apart(place: int) -> str:
    """Return what is seen on this build and not on its sister; the third in turn has no sister."""
    pair = TELL_APART[place // BUILDS_IN_TURN % len(TELL_APART)]
    return (*pair, "")[place % BUILDS_IN_TURN]


def _of_maker(entry: Entry, maker: str) -> Entry:
    return Entry(entry.entry_id, entry.kind, maker, entry.name, entry.note, entry.added_by, entry.added_on)


def _pump_sizes(family: Family, place: int) -> dict[str, str]:
    sizes = {**family.pump, **family.ratings[0 if place <= CAME_WITH_IT else place % len(family.ratings)]}
    if place == NEEDS_SPACER:
        sizes["bore_depth_mm"] = family.short_bore
    elif place == LACKS_ONE_SIZE:
        del sizes[LACKED]
    elif place == CANNOT_FIT:
        sizes |= family.misfit
    elif place > CAME_WITH_IT:
        sizes |= family.pump_variants[place % len(family.pump_variants)]
    return sizes


def _pump_manner(family: Family, place: int, entry_id: str) -> Manner:
    demo = place <= (CAME_WITH_IT if family.key in WHOLE_FAMILIES else NEEDS_SPACER)
    if demo or entry_id in CONTRADICTIONS:
        return COMPLETE
    running = int(entry_id.removeprefix("P-"))
    if running % EVERY_SO_MANY_ONLY_CLAIMED == 0:
        return ONLY_CLAIMED
    return COMPLETE if place % EVERY_SO_MANY_WELL_KNOWN == 0 else SCANT
