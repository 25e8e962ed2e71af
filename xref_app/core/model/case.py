"""One question for the judge."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Has, Pump
from xref_app.core.model.shelf import Shelf


@dataclass(frozen=True, slots=True)
class Case:
    """Does this pump go on this machine, with what is on this shelf?

    ``old_has`` is what the pump coming off had built in. ``guessed_number`` says that machine or pump was found
    through characters nobody could read, and that no measured value has agreed with it yet; ``set_aside`` that part of
    what is stored about them does not match its check sum and is left out: a contradiction may lie in it. ``in_doubt``
    are the fields that were blamed when a pump that was said to fit did not, and that nobody has looked at again.
    """

    machine: Machine = field(default_factory=Machine)
    pump: Pump = field(default_factory=Pump)
    old_has: Has = field(default_factory=Has)
    shelf: Shelf = ()
    guessed_number: bool = False
    set_aside: bool = False
    in_doubt: tuple[str, ...] = ()
