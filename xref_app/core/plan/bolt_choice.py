"""Which bolts go in: the old ones where they hold, else the best lengths listed, else standard ones to order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from xref_app.core.fit.bolt_joint import BoltJoint
from xref_app.core.fit.bolt_size import Bolt
from xref_app.core.fit.face_parts import NewBolt
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.parts.burden import NO_BURDEN, Burden, burden_of
from xref_app.core.quantity.range import Range
from xref_app.core.standards.bolts import standard_lengths_mm


@dataclass(frozen=True, slots=True)
class BoltPlaces:
    """Bolts that all go through the same joint, and how many they are."""

    joint: BoltJoint
    count: int


@dataclass(frozen=True, slots=True)
class BoltsChosen:
    """One bolt per group of places (None: the old one stays, or none is known to hold), and what they take."""

    bolts: tuple[NewBolt | None, ...]
    burden: Burden


def choose_bolts(groups: Sequence[BoltPlaces], old: Range | None, shelf: Shelf) -> BoltsChosen:
    """Return the bolts that surely hold in every group for the least burden; of equals the shorter ones.

    Args:
        groups: n ≥ 1 groups of bolts.
        old: Length of the old bolts, mm; None while not known.
        shelf: What is listed; a length that nobody lists is offered only where no listed one holds.
    """
    listed = [_options(group, old, shelf, with_unlisted=False) for group in groups]
    every = [_options(group, old, shelf, with_unlisted=True) for group in groups]
    options = [some or more or [None] for some, more in zip(listed, every, strict=True)]
    best = _best_or_none(options, groups)
    if best is None:
        best = _best_or_none([more or [None] for more in every], groups)
    return best or BoltsChosen((None,) * len(groups), NO_BURDEN)


def _options(group: BoltPlaces, old: Range | None, shelf: Shelf, *, with_unlisted: bool) -> list[NewBolt | None]:
    """Return what holds in a group: the old bolts first, then listed lengths, then standard ones."""
    joint = group.joint
    found: list[NewBolt | None] = [None] if old is not None and joint.holds(old) is True else []
    found += [
        NewBolt(part.length_mm, part)
        for part in _listed(shelf, joint.bolt)
        if part.count >= group.count and part.length_mm and joint.new_holds(part.length_mm)
    ]
    if with_unlisted:
        lengths = standard_lengths_mm(joint.bolt.system)
        found += [NewBolt(length) for length in lengths if joint.new_holds(length)][:1]
    return found


def _listed(shelf: Shelf, bolt: Bolt) -> list[Part]:
    return [part for part in shelf if part.kind is PartKind.BOLT and _same_thread(part, bolt)]


def _same_thread(part: Part, bolt: Bolt) -> bool:
    return part.thread.casefold().replace(" ", "") in {
        bolt.designation.casefold().replace(" ", ""),
        bolt.designation.split(" ")[0].casefold(),
    }


def _best_or_none(options: Sequence[Sequence[NewBolt | None]], groups: Sequence[BoltPlaces]) -> BoltsChosen | None:
    best: tuple[Burden, float, BoltsChosen] | None = None
    for bolts in product(*options):
        burden = _burden_or_none(bolts, groups)
        if burden is None:
            continue
        length = sum(bolt.length_mm for bolt in bolts if bolt is not None)
        if best is None or (burden, length) < best[:2]:
            best = (burden, length, BoltsChosen(bolts, burden))
    return best[2] if best else None


def _burden_or_none(bolts: Sequence[NewBolt | None], groups: Sequence[BoltPlaces]) -> Burden | None:
    counted, total = Counter[Part](), NO_BURDEN
    for bolt, group in zip(bolts, groups, strict=True):
        if bolt is None:
            continue
        if bolt.listed is None:
            total = total + Burden(ordered=group.count, pieces=group.count)
        else:
            counted[bolt.listed] += group.count
            total = total + burden_of(bolt.listed, group.count)
    return None if any(many > part.count for part, many in counted.items()) else total
