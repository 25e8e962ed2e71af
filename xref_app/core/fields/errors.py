"""Asking for a field or table that data_schema does not define."""

from __future__ import annotations

from difflib import get_close_matches

from xref_app.core.errors import XrefError


class UnknownFieldError(XrefError):
    """Somebody named a field that does not exist.

    Attributes:
        name: The name that was asked for.
        nearest: The known name most like it, or an empty text.
    """

    def __init__(self, name: str, known: tuple[str, ...]) -> None:
        self.name = name
        self.nearest = next(iter(get_close_matches(name, known, n=1)), "")
        advice = (
            f"did you mean “{self.nearest}”?" if self.nearest else "take a name from data_schema/sizes.schema.json."
        )
        super().__init__(f"“{name}” is not a field this program knows: {advice}")


class UnknownTableError(XrefError):
    """Somebody named a table that does not exist.

    Attributes:
        name: The name that was asked for.
        known: Every table there is.
    """

    def __init__(self, name: str, known: tuple[str, ...]) -> None:
        self.name = name
        self.known = known
        super().__init__(f"“{name}” is not a table of the catalog: take one of {', '.join(known)}.")
