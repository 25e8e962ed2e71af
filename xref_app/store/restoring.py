"""A copy put back as one act of the history: what differs is written, and nothing that stood there is forgotten.

So the history stays append-only, an undo takes the whole restore back, and one transaction makes a kill harmless.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from uuid import uuid4

from sqlalchemy import Connection, Engine, insert

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.store.connect import reading, writing
from xref_app.store.history import Change, Head, append, read_head_or_refuse
from xref_app.store.restore_plan import TablePlan, Way, plan_restore
from xref_app.store.row_changes import told
from xref_app.store.row_writing import write_rows
from xref_app.store.tables import SAVES
from xref_app.store.tally import Tally, count_table


def look_at_copy(engine: Engine, copy: Engine, way: Way, progress: Progress = NO_PROGRESS) -> tuple[TablePlan, ...]:
    """Return what putting ``copy`` back in this ``way`` would do; nothing is changed.

    Raises:
        StoreError: one of the two cannot be read.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    with reading(engine) as now, reading(copy) as then:
        return plan_restore(now, then, read_head_or_refuse(now), way, progress)


def put_back(  # noqa: PLR0913 - the act has a name, a person and a reason
    engine: Engine, copy: Engine, way: Way, *, name: str, who: str, why: str, progress: Progress = NO_PROGRESS
) -> tuple[TablePlan, ...]:
    """Put ``copy`` back in this ``way``: all of it as one act called ``name``, or nothing.

    Raises:
        StoreError: one of its kinds; nothing was changed.
        WorkCancelledError: ``progress`` says nobody waits any more; nothing was changed.
    """
    with _both(engine, copy) as (now, then):
        head = read_head_or_refuse(now)
        plans = plan_restore(now, then, head, way, progress)
        changes = [one for plan in plans for one in plan.changes]
        if changes:
            tallies = {**head.tallies, **{plan.table.name: _carry_out(now, head, plan, way) for plan in plans}}
            save_id = f"restore-{way}:{uuid4().hex}"
            change = told(Change(who=who, action="save", why=why, key=(save_id, name)), changes)
            serial = append(now, head, change, tallies)
            now.execute(insert(SAVES).values(save_id=save_id, serial=serial))
    return plans


@contextmanager
def _both(engine: Engine, copy: Engine) -> Iterator[tuple[Connection, Connection]]:
    with writing(engine) as now, reading(copy) as then:
        yield now, then


def _carry_out(now: Connection, head: Head, plan: TablePlan, way: Way) -> Tally:
    """Write the rows of one table and return what it should hold from now on."""
    over = [one for one in plan.lost if one.key in plan.over_damaged]
    anew = [one for one in plan.lost if one.key not in plan.over_damaged]
    altered = [*plan.changed, *plan.withdrawn]
    write_rows(
        now,
        plan.table,
        added=tuple(one.after for one in anew),
        changed=tuple(one.after for one in (*altered, *over)),
    )
    if plan.whole or way is Way.ALL:
        return _standing(now, plan)
    # A row that was lost counts already: what should be there is as before, but for rows that were sound and change.
    tally = head.tallies.get(plan.table.name, Tally())
    tally = tally.minus(str(one.before["row_hash"]) for one in altered if one.before)
    return tally.plus(str(one.after["row_hash"]) for one in altered)


def _standing(now: Connection, plan: TablePlan) -> Tally:
    try:
        return count_table(now, plan.table)
    except ValueError:  # a damaged row is left whose very hash is torn; no count equals this one, so it stays told
        return Tally(-2, 0)
