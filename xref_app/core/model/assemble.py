"""Machine sides and pumps put together from single values named by their path in a case."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import islice, product
from typing import TypeVar, get_type_hints

from xref_app.core.model.case import Case
from xref_app.core.model.known import Known
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Has, Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.typed import is_group

Group = TypeVar("Group")

# Combinations of contradicting versions that are judged one by one; more are refused (house rule).
MOST_COMBINATIONS = 64


@dataclass(frozen=True, slots=True)
class Versions:
    """Values by path, in one or more versions each: equal-rank readings that contradict are all kept."""

    by_path: Mapping[str, Sequence[Known]]

    @property
    def contradicted(self) -> tuple[str, ...]:
        """Return the paths that come in several versions."""
        return tuple(path for path, versions in self.by_path.items() if len(versions) > 1)

    @property
    def combinations(self) -> int:
        """Return how many cases they make."""
        count = 1
        for versions in self.by_path.values():
            count *= len(versions)
        return count


def cases(
    versions: Versions, *, shelf: Shelf = (), guessed_number: bool = False, most: int = MOST_COMBINATIONS
) -> tuple[Case, ...]:
    """Return one case per combination of versions, no more than ``most`` of them."""
    paths = tuple(versions.by_path)
    found = []
    for choice in islice(product(*(versions.by_path[path] for path in paths)), most):
        values = dict(zip(paths, choice, strict=True))
        found.append(
            Case(
                machine=built(Machine, "machine", values),
                pump=built(Pump, "pump", values),
                old_has=built(Has, "old_pump.has", values),
                shelf=shelf,
                guessed_number=guessed_number,
            )
        )
    return tuple(found)


def built(group: type[Group], path: str, values: Mapping[str, Known]) -> Group:
    """Return a ``group`` whose slots hold the values at ``path`` and below; what is not given stays None."""
    slots: dict[str, object] = {}
    for name, kind in _slots(group):
        here = f"{path}.{name}"
        value = built(kind, here, values) if is_group(kind) else values.get(here)
        if value is not None:
            slots[name] = value
    return group(**slots)


def paths(group: type, path: str) -> tuple[str, ...]:
    """Return the path of every value ``group`` and the groups in it can hold, in order."""
    found: list[str] = []
    for name, kind in _slots(group):
        here = f"{path}.{name}"
        found += paths(kind, here) if is_group(kind) else (here,)
    return tuple(found)


def _slots(group: type) -> tuple[tuple[str, type], ...]:
    if group not in _SLOTS:
        hints = get_type_hints(group)
        _SLOTS[group] = tuple((field.name, hints[field.name]) for field in fields(group))
    return _SLOTS[group]


_SLOTS: dict[type, tuple[tuple[str, type], ...]] = {}
