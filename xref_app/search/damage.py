"""Damage inside a mapped file of numbers, told by the one error that says so."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from xref_app.files.errors import DamagedArrayError

_SIGNS: Final = (IndexError, ValueError, OverflowError)


@contextmanager
def read_from_file(*, is_from_file: bool) -> Iterator[None]:
    """Turn what damaged arrays lead to into the one error that says so.

    Raises:
        DamagedArrayError: numbers that came from a file point outside of it or cannot be read.
    """
    try:
        yield
    except _SIGNS as error:
        if is_from_file:
            raise DamagedArrayError("numbers") from error
        raise
