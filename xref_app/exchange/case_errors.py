"""What can be wrong with a case file, one sentence each."""

from __future__ import annotations

from xref_app.core.errors import XrefError


class CaseError(XrefError):
    """A case that cannot be read.

    Attributes:
        where: The file, or the path inside the case.
        found: What stood there.
        advice: What to do.
    """

    def __init__(self, where: str, found: str, advice: str) -> None:
        self.where = where
        self.found = found
        self.advice = advice
        super().__init__(f"{where}: {found} – {advice}.")
