"""What is wrong with a supplier's file."""

from __future__ import annotations

from xref_app.core.errors import XrefError


class SupplierFileError(XrefError):
    """A file that cannot be read as a supplier's list; nothing of it was taken.

    Attributes:
        name: The file's name.
        found: What was found, so that "“name” found – advice." is a sentence.
        advice: What to do.
    """

    def __init__(self, name: str, found: str, advice: str) -> None:
        super().__init__(f"“{name}” {found} – {advice}.")
        self.name = name
        self.found = found
        self.advice = advice

    def __reduce__(self) -> tuple[type[SupplierFileError], tuple[str, str, str]]:
        return type(self), (self.name, self.found, self.advice)


class UnreadableError(Exception):
    """What the child found wrong, before anybody has named the file: what was ``found`` and what to do."""

    def __init__(self, found: str, advice: str) -> None:
        super().__init__(found, advice)
        self.found = found
        self.advice = advice


SPLIT = "ask for a shorter list, or split it"
SAVE_AS_CSV = "open it in a spreadsheet program and save the sheet you want as CSV"
ANOTHER_FILE = "pick another file"
