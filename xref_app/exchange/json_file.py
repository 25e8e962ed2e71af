"""One JSON object out of a file somebody wrote by hand, every fault in one sentence."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from xref_app.core.errors import XrefError

# What people write by hand is a page of numbers; anything larger is not one (house rule).
MOST_BYTES = 1_000_000


class JsonFileError(XrefError):
    """A file, or a place inside it, that cannot be taken as it stands.

    Attributes:
        where: The file, or the path inside it.
        found: What stood there.
        advice: What to do.
    """

    def __init__(self, where: str, found: str, advice: str) -> None:
        self.where = where
        self.found = found
        self.advice = advice
        super().__init__(f"{where}: {found} – {advice}.")


def load_object(path: Path) -> Mapping[str, object]:
    """Return the JSON object in the file at ``path``; a name that stands there twice is refused, not overwritten.

    Raises:
        JsonFileError: the file is missing, too large, or holds no JSON object.
    """
    try:
        size = path.stat().st_size
        raw = path.read_bytes() if size <= MOST_BYTES else b""
    except OSError as error:
        raise JsonFileError(str(path), f"cannot be read ({error.strerror})", "check its name and try again") from error
    if size > MOST_BYTES:
        raise JsonFileError(str(path), f"{size} bytes", "that is too much; it should be a page of numbers")
    try:
        data = json.loads(raw.decode("utf-8-sig"), object_pairs_hook=_each_name_once, parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as error:  # ValueError: no UTF-8, no JSON, a number of thousands of digits
        raise JsonFileError(str(path), f"is not JSON ({error})", "write it anew, in UTF-8") from error
    if not isinstance(data, dict):
        raise JsonFileError(str(path), "holds no JSON object", "it must start with { and name what was read")
    return data


def _each_name_once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    named: dict[str, object] = {}
    for name, value in pairs:
        if name in named:
            raise JsonFileError(name, "stands there twice", "keep one")
        named[name] = value
    return named


def _refuse_constant(name: str) -> float:
    raise JsonFileError("file", f"the number {name}", "leave out what is not known, or write null")
