"""What a person says of a supplier's list, one thing after another: each change is a new value, and writes nothing.

Whatever changes how a row reads takes the acceptance of it away: accepted was what stood there.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from types import MappingProxyType

from xref_app.services.supplier_columns import ColumnMap
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_preview import SaidOfFile
from xref_app.services.supplier_rows import Answers


def with_answers(said: SaidOfFile, answers: Answers) -> SaidOfFile:
    """Return ``said`` with these texts read instead of cells, by row and column from 0; an empty one: not known."""
    rows = {row for row, _column in answers}
    return replace(said, answers=_kept({**said.answers, **answers}), accepted=said.accepted - rows)


def without_answers(said: SaidOfFile, row: int) -> SaidOfFile:
    """Return ``said`` with everything taken back that was answered or accepted of one row."""
    left = {place: text for place, text in said.answers.items() if place[0] != row}
    return replace(said, answers=_kept(left), accepted=said.accepted - {row})


def with_accepted(said: SaidOfFile, rows: Collection[int]) -> SaidOfFile:
    """Return ``said`` with these rows to be taken as they are."""
    return replace(said, accepted=said.accepted | frozenset(rows))


def with_columns(said: SaidOfFile, columns: ColumnMap) -> SaidOfFile:
    """Return ``said`` with the columns as they are in ``columns``; answers in columns that tell something else go."""
    if columns == said.columns:
        return said
    before = {one.place: one.target for one in said.columns.columns}
    same = {one.place for one in columns.columns if before.get(one.place) == one.target}
    is_same_list = columns.kind is said.columns.kind and columns.rows_from == said.columns.rows_from
    answers = {place: text for place, text in said.answers.items() if is_same_list and place[1] in same}
    return replace(said, columns=columns, answers=_kept(answers), accepted=frozenset())


def with_decimals(said: SaidOfFile, decimals: Decimals) -> SaidOfFile:
    """Return ``said`` with this mark before the decimals of the whole list; untold: as it seems."""
    return with_columns(said, replace(said.columns, decimals=decimals))


def with_how(said: SaidOfFile, how: str) -> SaidOfFile:
    """Return ``said`` with its values known in another way."""
    return said if how == said.how else replace(said, how=how, accepted=frozenset())


def _kept(answers: Mapping[tuple[int, int], str]) -> Answers:
    return MappingProxyType(dict(answers))
