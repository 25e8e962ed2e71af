"""What is wrong with a command line."""

from __future__ import annotations

from xref_app.core.errors import XrefError


class UsageError(XrefError):
    """A command line that says too little or too much."""
