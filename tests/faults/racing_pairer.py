"""One of two who pair up: for each line ``engine pump instant`` it waits for the instant and reserves both units.

Says ``won``, or the sentence it is told.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from xref_app.core.model.catalog import SalvagedUnit
from xref_app.store.engine import open_engine
from xref_app.store.shelf_acts import Act
from xref_app.store.unit_acts import reserve_units
from xref_app.store.unit_errors import UnitNotFreeError


def main(store: Path, who: str) -> None:
    """Race until there are no more lines."""
    opened = open_engine(store, create=False)
    _say("ready")
    for line in sys.stdin:
        engine, pump, instant = line.split()
        pair = (SalvagedUnit(engine, "D001"), SalvagedUnit(pump, "P003"))
        while time.time() < float(instant):
            pass
        try:
            act = Act(f"reserve {engine} with {pump}", who, f"{who} {engine} {pump}")
            reserve_units(opened, pair, act, job=f"of {who}")
        except UnitNotFreeError as error:
            _say(str(error))
        else:
            _say("won")
    opened.dispose()


def _say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
