"""Invented makers and the numbers they stamp, print and list. No maker, shop or number here exists."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.sample.said import Dice
from xref_app.core.model.catalog import Number

PUMP_MAKERS = ("Brundelo", "Quorvane", "Tisselbeck", "Omberlin", "Varrowick", "Pellawin")
ENGINE_MAKERS = ("Haldrune", "Zefrun", "Corvandel")
MOTOR_MAKERS = ("Noktavel", "Sirrumel")
MACHINE_MAKERS = ("Gullhamper", "Frostlindel", "Wibbelow", "Maskerdale")

# How each maker's numbers look: 9 stands for a digit, A for a letter of the maker's alphabet.
SHAPES = {
    "Brundelo": "BR9-9999",
    "Quorvane": "QV 99.99",
    "Tisselbeck": "TK9999A",
    "Omberlin": "99.999.9",
    "Varrowick": "VW-999-99A",
    "Pellawin": "PL99A99",
    "Haldrune": "HD 999A",
    "Zefrun": "ZF99-A99",
    "Corvandel": "CV9999",
    "Noktavel": "NK.99.999",
    "Sirrumel": "S99A-99",
    "Gullhamper": "GH 9999",
    "Frostlindel": "FL-99A9",
    "Wibbelow": "W9999-A",
    "Maskerdale": "MD99.99",
}
SELLER_SHAPES = ("HY-99999", "KL9999-9", "99-9999-A")
LETTERS = "CEFHKMNPRTVX"


@dataclass(slots=True)
class NumberBook:
    """Every number given so far; none is given twice."""

    dice: Dice
    numbers: list[Number] = field(default_factory=list)
    _given: set[str] = field(default_factory=set)

    def give(self, entry_id: str, maker: str) -> None:
        """Give an entry its maker's number, a seller's number, and now and then the one on the plate."""
        number = self.new(SHAPES[maker])
        self.add(entry_id, number, "maker", "sheet")
        if self.dice.chance(0.8):
            self.add(entry_id, self.new(self.dice.pick(SELLER_SHAPES)), "seller", "claimed")
        if self.dice.chance(0.45):
            self.add(entry_id, f"{number}-{self.dice.whole(2, 9)}", "plate", "plate")

    def add(self, entry_id: str, number: str, role: str, how: str) -> None:
        """Add one number to an entry."""
        source = {"seller": "seller's page", "maker": "maker's sheet", "old": "maker's change list"}.get(role, "")
        self._given.add(number)
        self.numbers.append(Number(entry_id, number, role, how, source))

    def new(self, shape: str) -> str:
        """Return a number of this shape that nobody has yet."""
        while True:
            number = "".join(self._character(one, at) for at, one in enumerate(shape))
            if number not in self._given:
                self._given.add(number)
                return number

    def _character(self, shape: str, at: int) -> str:
        if shape == "9":
            return str(self.dice.whole(1 if at == 0 else 0, 9))
        return self.dice.pick(LETTERS) if shape == "A" else shape
