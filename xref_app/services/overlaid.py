"""A mapping in which a few keys have other values than in the one below it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Generic, TypeVar

V = TypeVar("V")


class Overlaid(Mapping[str, V], Generic[V]):
    """``below`` with ``changes`` on top; nothing of it is copied."""

    def __init__(self, below: Mapping[str, V], changes: Mapping[str, V]) -> None:
        self.below, self.changes = below, changes

    def __getitem__(self, key: str) -> V:
        return self.changes[key] if key in self.changes else self.below[key]

    def __contains__(self, key: object) -> bool:
        return key in self.changes or key in self.below

    def __iter__(self) -> Iterator[str]:
        yield from self.below
        yield from (key for key in self.changes if key not in self.below)

    def __len__(self) -> int:
        return len(self.below) + sum(1 for key in self.changes if key not in self.below)
