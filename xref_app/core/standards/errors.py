"""What goes wrong when a standard is asked for something it does not hold."""

from __future__ import annotations

from xref_app.core.errors import XrefError


class NotInStandardError(XrefError):
    """A size, grade or thread that a table does not hold.

    Attributes:
        asked: What was looked up, in words.
        table: The table that does not hold it.
        advice: What to do instead.
    """

    def __init__(self, asked: str, table: str, advice: str) -> None:
        super().__init__(f"{asked} is not in {table}; {advice}.")
        self.asked = asked
        self.table = table
        self.advice = advice

    def __reduce__(self) -> tuple[type[NotInStandardError], tuple[str, str, str]]:
        """Rebuild from the parts, so that the error can be copied and pass from one process to another."""
        return type(self), (self.asked, self.table, self.advice)
