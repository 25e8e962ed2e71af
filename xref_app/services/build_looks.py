"""Where to look to tell the builds of a machine apart: one visible fact if there is one, two if there must be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from xref_app.core.fields.fields import field_for
from xref_app.core.model.catalog import MachineRow
from xref_app.core.model.known import Fact, How
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog
from xref_app.services.facts import shown_value

LOOK_FOR = marked("job", "look for {texts}")
LOOK_FOR_MARKS = marked("job", "look for the mark that stands with each")
LOOK_AT_MODEL = marked("job", "look at the model on its plate")
LOOK_AT_DATE = marked("job", "look for the day it was built")
LOOK_AT_ENGINE = marked("job", "look at the plate of its engine or motor")
LOOK_AT_NUMBER = marked("job", "look at the number of its engine or motor")
LOOK_AT_FIELD = marked("job", "look at this: {title}")
BUILT = marked("job", "built {dates}")

MOST_COMPARED: Final = 40
"""Of more builds than this no fact is looked for: nobody reads such a list to the end. House rule."""

_MOST_TEXTS = 3
_WEAKEST: Final = How.SHEET

# What anybody can see without a tool: of the machine and its engine, then of the pump it left the maker with.
_SEEN_ON_MACHINE = ("shaft_axis", "power_kind", "supply_thread", "discharge_thread")
_SEEN_ON_PUMP = (
    "has_unloader",
    "has_thermal_relief",
    "has_chemical_inlet",
    "has_inlet_screen",
    "inlet_thread",
    "outlet_thread",
)

Group = tuple[MachineRow, ...]
"""Builds that carried one pump on one engine."""

Pairs = frozenset[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Look:
    """One visible fact of n groups of builds.

    ``what`` says where to look; ``labels`` what is seen there on each group, empty where nobody knows; ``apart`` are
    the pairs of places, the lower one first, that it surely tells apart.
    """

    what: Sentence
    labels: tuple[str, ...]
    apart: Pairs


def fewest_looks(catalog: Catalog, groups: Sequence[Group]) -> tuple[Look, ...]:
    """Return the fact that tells all ``groups`` apart, else the two that do, else those that tell most of them apart.

    Facts of one kind of worth come in this order: what the catalog says to look for, the day of building, the engine,
    then what was recorded of machine and pump and anybody can see.
    """
    if not 1 < len(groups) <= MOST_COMPARED:
        return ()
    looks = [look for look in _looks(catalog, groups) if look.apart]
    tries = [(look,) for look in looks], list(combinations(looks, 2))
    best: tuple[Look, ...] = ()
    for chosen in (*tries[0], *tries[1]):
        # Later ones must tell more: two looks never stand where one does as well.
        if len(told_apart(chosen)) > len(told_apart(best)):
            best = chosen
    return best


def told_apart(looks: Sequence[Look]) -> Pairs:
    """Return the pairs of groups that ``looks`` tell apart together."""
    return frozenset[tuple[int, int]]().union(*(look.apart for look in looks))


def built_words(row: MachineRow) -> str:
    """Return when a build was made, in words; empty where nobody knows."""
    if row.built_from and row.built_to:
        return f"{row.built_from} to {row.built_to}"
    if row.built_from:
        return f"from {row.built_from} on"
    return f"until {row.built_to}" if row.built_to else ""


def _looks(catalog: Catalog, groups: Sequence[Group]) -> Iterator[Look]:
    yield _by_words(groups, lambda row: row.model, Sentence(LOOK_AT_MODEL))
    yield _by_text(groups)
    yield _by_date(groups)
    yield _by_words(groups, lambda row: _engine_name(catalog, row), Sentence(LOOK_AT_ENGINE))
    yield _by_words(groups, lambda row: _engine_number(catalog, row), Sentence(LOOK_AT_NUMBER))
    for field in _SEEN_ON_MACHINE:
        yield _by_field(groups, field, lambda row: (row.driver_id, row.entry_id), catalog)
    for field in _SEEN_ON_PUMP:
        yield _by_field(groups, field, lambda row: (row.pump_id,), catalog)


def _by_words(groups: Sequence[Group], word_of: Callable[[MachineRow], str], what: Sentence) -> Look:
    """Return the look at a word; groups are told apart where each build has one and none is on both sides."""
    words = [[word_of(row).strip() for row in group] for group in groups]
    folded = [{word.casefold() for word in of_group} for of_group in words]
    apart = (
        (one, other)
        for one, other in combinations(range(len(groups)), 2)
        if "" not in folded[one] | folded[other] and folded[one].isdisjoint(folded[other])
    )
    labels = tuple(" or ".join(dict.fromkeys(of_group)) if all(of_group) else "" for of_group in words)
    return Look(what, labels, frozenset(apart))


def _by_text(groups: Sequence[Group]) -> Look:
    look = _by_words(groups, lambda row: row.tell_apart, Sentence(LOOK_FOR_MARKS))
    if len(groups) > _MOST_TEXTS or not all(look.labels):
        return look
    return Look(Sentence(LOOK_FOR, {"texts": " or ".join(dict.fromkeys(look.labels))}), look.labels, look.apart)


def _by_date(groups: Sequence[Group]) -> Look:
    apart = (
        (one, other)
        for one, other in combinations(range(len(groups)), 2)
        if all(_is_before(a, b) or _is_before(b, a) for a in groups[one] for b in groups[other])
    )
    dates = [[built_words(row) for row in group] for group in groups]
    labels = tuple(f"built {' or '.join(dict.fromkeys(words))}" if all(words) else "" for words in dates)
    return Look(Sentence(LOOK_AT_DATE), labels, frozenset(apart))


def _is_before(one: MachineRow, other: MachineRow) -> bool:
    """Say whether ``one`` was surely built before ``other``.

    An end nobody wrote down may be one nobody knows, so an open range tells nothing (house rule).
    """
    is_whole = all("" < row.built_from <= row.built_to for row in (one, other))
    return is_whole and one.built_to < other.built_from


def _engine_name(catalog: Catalog, row: MachineRow) -> str:
    entry = catalog.entries.get(row.driver_id)
    return "" if entry is None else f"{entry.maker} {entry.name}".strip()


def _engine_number(catalog: Catalog, row: MachineRow) -> str:
    return catalog.number_of(row.driver_id) if catalog.numbers.get(row.driver_id) else ""


def _by_field(
    groups: Sequence[Group], field_id: str, entries_of: Callable[[MachineRow], tuple[str, ...]], catalog: Catalog
) -> Look:
    field = field_for(field_id)

    def seen(row: MachineRow) -> str:
        known = catalog.known(*entries_of(row)).get(field_id, ())
        # Two versions, a claim or a habit would send the person to the wrong build.
        if len(known) != 1 or not isinstance(known[0], Fact) or known[0].how > _WEAKEST:
            return ""
        return f"{field.title}: {shown_value(field, known[0])}"

    return _by_words(groups, seen, Sentence(LOOK_AT_FIELD, {"title": field.title.lower()}))
