"""JSON read strictly: what is of another kind than it should be is refused, never bent into shape."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

Item = TypeVar("Item")


class OfOtherKindError(ValueError):
    """A value of another kind than it should be, or none at all."""


class JsonObject:
    """One object of a JSON text; every method raises OfOtherKindError where ``name`` is not what is asked for."""

    def __init__(self, values: object, where: str) -> None:
        """Make it; ``where`` says in a sentence which object it is."""
        if not isinstance(values, dict):
            raise OfOtherKindError(f"{where} is not an object")
        self._values: dict[str, object] = values
        self._where = where

    def text(self, name: str) -> str:
        """Return a text."""
        return as_text(self._value(name), self._named(name))

    def flag(self, name: str) -> bool:
        """Return yes or no."""
        value = self._value(name)
        if not isinstance(value, bool):
            raise OfOtherKindError(f"{self._named(name)} is neither true nor false")
        return value

    def count(self, name: str) -> int:
        """Return a whole number, 0 or more."""
        value = self._value(name)
        if not isinstance(value, int) or isinstance(value, bool) or value < 0:
            raise OfOtherKindError(f"{self._named(name)} is no number of things")
        return value

    def has(self, name: str) -> bool:
        """Say whether something stands there, and not null."""
        return self._value(name) is not None

    def inner(self, name: str) -> JsonObject:
        """Return an object within."""
        return JsonObject(self._value(name), self._named(name))

    def list_of(self, name: str, read: Callable[[object, str], Item]) -> tuple[Item, ...]:
        """Return a list, each value of it read by ``read``, which is told where it stands."""
        value = self._value(name)
        if not isinstance(value, list):
            raise OfOtherKindError(f"{self._named(name)} is not a list")
        return tuple(read(one, f"{self._named(name)}[{place}]") for place, one in enumerate(value))

    def map_of(self, name: str, read: Callable[[object, str], Item]) -> Mapping[str, Item]:
        """Return an object whose values are all alike, each read by ``read``."""
        value, where = self._value(name), self._named(name)
        if not isinstance(value, dict):
            raise OfOtherKindError(f"{where} is not an object")
        return {key: read(one, f"{where}.{key}") for key, one in value.items()}

    def _value(self, name: str) -> object:
        if name not in self._values:
            raise OfOtherKindError(f"{self._named(name)} is missing")
        return self._values[name]

    def _named(self, name: str) -> str:
        return f"{self._where}.{name}" if self._where else name


def as_text(value: object, where: str) -> str:
    """Return ``value`` if it is a text.

    Raises:
        OfOtherKindError: it is none.
    """
    if not isinstance(value, str):
        raise OfOtherKindError(f"{where} is not a text")
    return value
