"""Reads one supplier's file in a process of its own, with little memory, little time, and nothing it may open.

``python -m xref_app.exchange.supplier_child [encoding] [separator]``; the file is the standard input. Each line of the
standard output is one JSON text: ``{"at": rows}`` how far it is, ``{"sheet": name}`` a sheet begins, a list of texts is
one of its rows, ``{"done": true, "encoding": .., "separator": ..}`` all of it, ``{"found": .., "advice": ..}`` why not.
"""

from __future__ import annotations

import codecs
import os
import sys
import warnings
from types import ModuleType
from typing import Final, cast

# openpyxl would load them, and none is needed to read cells; they take more memory than the cells do.
_NOT_NEEDED: Final = ("numpy", "PIL", "lxml", "pandas")
# Text files come in these, and names in zip files in cp437; Python loads each when it is first used.
_SPELLED_IN: Final = (
    *("cp1252", "cp1250", "cp1251", "mac_roman", "cp850", "cp437", "latin-1", "ascii", "utf-8"),
    *("utf-16-le", "utf-16-be", "utf-32-le", "utf-32-be"),
)


def _without_what_is_not_needed() -> None:
    for name in _NOT_NEEDED:
        sys.modules[name] = cast("ModuleType", None)  # how Python is told that there is no such module


def limit_this_process(memory_bytes: int, cpu_s: int, *, most_open: int = 0) -> None:
    """Limit this process, where the system can: memory, time, no file written, and nothing opened: file or socket."""
    if os.name != "posix":
        return
    import resource  # noqa: PLC0415 - only POSIX has it

    limits = [
        (resource.RLIMIT_AS, memory_bytes),
        (resource.RLIMIT_CPU, cpu_s),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_NOFILE, most_open),
    ]
    for what, most in limits:
        _soft, hard = resource.getrlimit(what)
        least = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(what, (least, least))


def main() -> int:
    """Read the file at the standard input; return 0 if all of it was handed on, 1 where a sentence says why not."""
    _without_what_is_not_needed()
    warnings.simplefilter("ignore")  # openpyxl warns of what it leaves out; nobody reads that here
    # Loaded before the limits: afterwards nothing can be opened, Python's own modules included.
    import json  # noqa: PLC0415

    from xref_app.exchange.supplier_errors import SPLIT, UnreadableError  # noqa: PLC0415
    from xref_app.exchange.supplier_limits import CHILD_CPU_S, CHILD_MEMORY_BYTES, MOST_BYTES  # noqa: PLC0415
    from xref_app.exchange.supplier_lines import lines_of  # noqa: PLC0415

    for name in _SPELLED_IN:
        codecs.lookup(name)
    limit_this_process(CHILD_MEMORY_BYTES, CHILD_CPU_S)
    arguments = [*sys.argv[1:], "", ""]
    try:
        data = sys.stdin.buffer.read(MOST_BYTES + 1)
        for line in lines_of(data, arguments[0], arguments[1]):
            sys.stdout.write(json.dumps(line, ensure_ascii=True) + "\n")
    except UnreadableError as error:
        sys.stdout.write(json.dumps({"found": error.found, "advice": error.advice}) + "\n")
        return 1
    except MemoryError:
        sys.stdout.write(json.dumps({"found": "takes more memory than a list does", "advice": SPLIT}) + "\n")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
