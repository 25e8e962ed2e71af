"""How much of a supplier's file is read at most; all of it house rules. No list of pumps comes near them."""

from __future__ import annotations

from typing import Final

from xref_app.exchange.zip_limits import MOST_PACKED_BYTES

# House rule: of a list of any form, as it lies on the disk; workbooks are zip files, see zip_limits.
MOST_BYTES: Final = MOST_PACKED_BYTES

# House rule: of one sheet, empty rows and columns at its ends not counted.
MOST_ROWS: Final = 200_000
MOST_COLUMNS: Final = 512
# House rule: of the whole file, so that what is handed back fits into memory.
MOST_CELLS: Final = 4_000_000
MOST_CHARACTERS: Final = 60_000_000
MOST_SHEETS: Final = 100
MOST_MERGED: Final = 10_000
# House rule: a longer cell is cut; nothing that is kept of it is longer than 200 characters.
MOST_OF_A_CELL: Final = 1_000

# House rule: for the child that reads.
CHILD_MEMORY_BYTES: Final = 512 * 1024 * 1024
CHILD_CPU_S: Final = 10
# House rule: on the clock, where the system limits no time of the processor or the disk does not answer.
CHILD_CLOCK_S: Final = 60.0
# House rule: how soon the reading stops once nobody waits for it any more.
LOOK_UP_EVERY_S: Final = 0.05
# House rule: how often the child says how far it is.
ROWS_PER_TELLING: Final = 500
