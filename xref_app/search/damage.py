"""What is raised when the file of numbers does not hold what was written into it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from xref_app.core.errors import XrefError

_SIGNS: Final = (IndexError, ValueError, OverflowError)


class DamagedIndexError(XrefError):
    """The file of numbers is damaged inside; the index is to be built anew from the catalog."""

    def __init__(self) -> None:
        super().__init__()

    def __str__(self) -> str:
        return "The file of numbers is damaged and cannot be searched. Build it anew from the catalog."


@contextmanager
def read_from_file(*, is_from_file: bool) -> Iterator[None]:
    """Turn what damaged arrays lead to into the one error that says so.

    Raises:
        DamagedIndexError: numbers that came from a file point outside of it or cannot be read.
    """
    try:
        yield
    except _SIGNS as error:
        if is_from_file:
            raise DamagedIndexError from error
        raise
