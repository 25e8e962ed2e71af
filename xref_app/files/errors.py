"""What can be wrong with a file of our own beside the store."""

from __future__ import annotations

from xref_app.core.errors import XrefError


class DamagedArrayError(XrefError):
    """What was read of a file is not what was written: whatever was made of it is to be made anew."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(name)

    def __str__(self) -> str:
        return f"What is kept beside the catalog is damaged (“{self.name}”). It is made anew when it is opened."
