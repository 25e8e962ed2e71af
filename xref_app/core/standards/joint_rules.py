"""Which thread families may join, outside into inside, how the joint is made tight, and which only look as if."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref_app.core.quantity.couplers import COUPLER
from xref_app.core.quantity.thread_table import Family
from xref_app.core.standards.table_files import decides, table_rows


@dataclass(frozen=True, slots=True)
class JointRule:
    """One pair of families: the outside thread ``male`` in the inside thread ``female``, or a plug in a socket.

    ``joins`` says whether two of one size make a joint; ``sealed_by`` how, ``differs`` what parts them where not.
    """

    male: str
    female: str
    joins: bool
    sealed_by: str
    differs: str
    source: str
    checked_against: str
    confidence: str


@cache
def joint_rules() -> tuple[JointRule, ...]:
    """Return every pair the table knows; one that rests on memory joins nothing.

    Source: the thread standards named on each row.
    """
    return tuple(_rule(row) for row in table_rows("joints"))


def joint_rule_or_none(male: str, female: str) -> JointRule | None:
    """Return the rule for an outside thread in an inside one; None where the table has no such pair: never joined."""
    return _by_pair().get((male, female))


@cache
def _by_pair() -> Mapping[tuple[str, str], JointRule]:
    return {(rule.male, rule.female): rule for rule in joint_rules()}


def _rule(row: Mapping[str, str]) -> JointRule:
    return JointRule(
        male=_family(row["male"]),
        female=_family(row["female"]),
        joins=row["joins"] == "yes" and decides(row["confidence"]),
        sealed_by=row["sealed_by"],
        differs=row["differs"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )


def _family(named: str) -> str:
    return COUPLER if named == COUPLER else Family(named)
