"""What the open job rests on, one fact at a time."""

from __future__ import annotations

from dataclasses import dataclass

_PUMP = "pump"


@dataclass(frozen=True, slots=True)
class UsedFact:
    """What the job rests on: the entry of the pump coming off, or of its machine.

    ``is_guessed``: found through characters nobody could read; ``is_build``: picked among several builds of a model,
    with its ``sisters``, which carried the same pump on the same engine. ``builds``: those of a model that are left by
    what was typed with it, empty where all are.
    """

    kind: str
    entry_id: str
    label: str
    is_guessed: bool = False
    is_build: bool = False
    sisters: tuple[str, ...] = ()
    builds: tuple[str, ...] = ()

    @property
    def is_pump(self) -> bool:
        """Say whether it names the pump; anything else names the machine."""
        return self.kind == _PUMP
