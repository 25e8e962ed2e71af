"""Writes down what somebody read, said or copied: long-format observations with who, when and how."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tests.sample.said import Dice, canonical, half_last_digit
from xref_app.core.fields.fields import Field, Kind, field_for
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.quantity.seal_forms import parse_end

PEOPLE = ("Ilvane", "Torbic", "Massel", "Quenna", "Odrin")
WRITES_DECIMAL_COMMA = "Massel"
ON_PLATES = ("rating_", "power_", "discharge_rating", "nozzle_", "working_")
SHEETS = ("maker's sheet, page 2", "maker's sheet, page 3", "maker's parts list")
SELLERS = ("seller's page, Hobbin Yard", "seller's page, Kettle Lane", "seller on the phone")


@dataclass(frozen=True, slots=True)
class Manner:
    """How an entry is known: the share of its sizes nobody knows, and whether the rest is only claimed."""

    unknown: float
    claimed: float


COMPLETE = Manner(unknown=0.0, claimed=0.0)
SCANT = Manner(unknown=0.72, claimed=0.12)
ONLY_CLAIMED = Manner(unknown=0.0, claimed=1.0)


@dataclass(slots=True)
class Notebook:
    """Every observation and port written so far."""

    dice: Dice
    observations: list[Observation] = field(default_factory=list)
    ports: list[PortRow] = field(default_factory=list)

    def write_all(self, entry_id: str, sizes: Mapping[str, str], manner: Manner) -> None:
        """Write down the sizes of one entry, leaving out what nobody knows."""
        for field_id, alternatives in sizes.items():
            said = self.dice.pick(alternatives.split("|"))
            if not self.dice.chance(manner.unknown):
                self.write(entry_id, field_id, said, self._how(field_id, manner))

    def write(self, entry_id: str, field_id: str, said: str, how: str, *, withdrawn_on: str = "") -> None:
        """Write down one size as ``said``, known ``how``."""
        wanted = field_for(field_id)
        person = self.dice.pick(PEOPLE)
        seen_on = self.dice.day(2023, 2025)
        row = Observation(
            observation_id=len(self.observations) + 1,
            entry_id=entry_id,
            field=field_id,
            as_typed=_as_typed(wanted, said, person),
            value=canonical(said) if wanted.kind is Kind.NUMBER else None,
            text="" if wanted.kind is Kind.NUMBER else said,
            doubt=half_last_digit(said) if wanted.kind is Kind.NUMBER and how in {"sheet", "claimed"} else None,
            how=how,
            seen_by=person,
            seen_on=seen_on,
            source=self._source(how),
            withdrawn_on=withdrawn_on,
        )
        self.observations.append(row)

    def write_port(self, entry_id: str, port: str, end: tuple[str, str, str], manner: Manner, toward: str = "") -> None:
        """Write down one water port, or only what is known of it."""
        thread, gender, seal = end
        if self.dice.chance(manner.unknown):
            return
        how = "claimed" if self.dice.chance(manner.claimed) else "measured"
        if how == "claimed":  # A seller's page gives the thread and seldom how its end seals.
            thread = parse_end(thread)[0].designation
        seal_known = bool(seal) and not self.dice.chance(manner.unknown / 2)
        self.ports.append(
            PortRow(
                entry_id=entry_id,
                port=port,
                thread=thread,
                gender=gender,
                seal_mm=float(seal) if seal_known else None,
                swivel=None if port in {"inlet", "outlet"} else gender == "female",
                direction_deg=float(toward) if toward else None,
                how=how,
                seen_by=self.dice.pick(PEOPLE),
                seen_on=self.dice.day(2023, 2025),
            )
        )

    def _how(self, field_id: str, manner: Manner) -> str:
        if self.dice.chance(manner.claimed):
            return "claimed"
        if field_id.startswith(ON_PLATES):
            return self.dice.pick(("plate", "plate", "plate", "sheet"))
        return self.dice.pick(("measured", "measured", "measured", "sheet"))

    def _source(self, how: str) -> str:
        if how == "sheet":
            return self.dice.pick(SHEETS)
        if how == "claimed":
            return self.dice.pick(SELLERS)
        return "habit of the trade" if how == "typical" else ""


def _as_typed(wanted: Field, said: str, person: str) -> str:
    if person == WRITES_DECIMAL_COMMA and wanted.unit == "mm" and wanted.kind is Kind.NUMBER and said.endswith(" mm"):
        return said.replace(".", ",")
    return said
