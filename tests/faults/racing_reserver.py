"""One of two who want the last pieces: for each line ``place instant`` it waits for the instant and reserves all four.

Says ``won``, or the sentence it is told.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from xref_app.store.engine import open_engine
from xref_app.store.shelf_acts import Act, Wanted, reserve
from xref_app.store.shelf_errors import NotFreeError


def main(store: Path, who: str) -> None:
    """Race until there are no more lines."""
    engine = open_engine(store, create=False)
    _say("ready")
    for line in sys.stdin:
        place, instant = line.split()
        while time.time() < float(instant):
            pass
        try:
            act = Act(f"reserve {place}", who, f"{who} {place}")
            reserve(engine, [Wanted(4, shelf_id=place)], act, job=f"of {who}")
        except NotFreeError as error:
            _say(str(error))
        else:
            _say("won")
    engine.dispose()


def _say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
