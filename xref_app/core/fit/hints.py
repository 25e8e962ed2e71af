"""Hints taken out of a case: what habit suggests may be shown and never decides."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from xref_app.core.model.known import Dimension, Fact, Pattern, Seats

Value = TypeVar("Value")


def without_hints(value: Value) -> Value:
    """Return ``value`` with every reading that is only typical, however deep it lies, turned into 'not known'."""
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {}
    for field in fields(value):
        inner = getattr(value, field.name)
        kept = None if _is_hint(inner) else without_hints(inner)
        if kept is not inner:
            changed[field.name] = kept
    return replace(value, **changed) if changed else value


def _is_hint(value: object) -> bool:
    return isinstance(value, Dimension | Fact | Pattern | Seats) and not value.how.decides
