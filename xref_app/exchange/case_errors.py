"""What can be wrong with a case file, one sentence each."""

from __future__ import annotations

from xref_app.exchange.json_file import JsonFileError


class CaseError(JsonFileError):
    """A case that cannot be read."""
