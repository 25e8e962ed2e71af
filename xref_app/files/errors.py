"""What can be wrong with a file of our own beside the store."""

from __future__ import annotations


class DamagedArrayError(Exception):
    """Bytes of an array are not those that were written: what was made of the file must be made anew."""
