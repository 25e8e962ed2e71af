"""One good machine out of two dead ones: salvaged engines with salvaged pumps, judged, chosen and put by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from threading import Lock
from typing import TYPE_CHECKING

from xref_app.core.fit.finding import Judgement
from xref_app.core.model.catalog import SalvagedUnit
from xref_app.core.model.stock import spelled_job
from xref_app.core.plan.pair_value import ShelfTake
from xref_app.core.progress import Progress
from xref_app.services.answers import Candidate
from xref_app.services.catalog import Catalog
from xref_app.services.job_records import JobRecords
from xref_app.services.judge_candidates import candidate_of, judgement_of
from xref_app.services.pair_matrix import GOOD_CONDITIONS, PairMatrix, PairUnit
from xref_app.services.shelf import named_act, read_job
from xref_app.store.engine import Store
from xref_app.store.shelf_acts import Wanted
from xref_app.store.unit_acts import read_units, release_units, reserve_units

if TYPE_CHECKING:
    from xref_app.services.pair_judging import PairsJudged


class PairDesk:
    """Pairs up the salvaged units of one store; every method may be called in any thread."""

    def __init__(self, store: Store, restock: Callable[[], Catalog]) -> None:
        """Make it; ``restock`` reads the shelf anew and returns the catalog that has it."""
        self._store = store
        self._restock = restock
        self._judging = Lock()
        self._judged: PairsJudged | None = None

    def matrix(self, progress: Progress) -> PairMatrix:
        """Return every free unit in good condition, engines with pumps, judged; pairs judged before are remembered.

        Raises:
            DamagedStoreError: a reservation or a unit is damaged, so that nobody can say what is free.
            WorkCancelledError: ``progress`` says nobody waits any more.
        """
        from xref_app.services.pair_judging import PairsJudged  # noqa: PLC0415 - numpy only when somebody asks

        catalog, (units, held) = self._restock(), read_units(self._store)
        named = {one.unit_id: _named(catalog, one) for one in units}
        taken = {row.unit_id for row in held}
        there = [one for one in named.values() if one.kind and one.unit_id not in taken]
        good = sorted((one for one in there if one.unit.condition in GOOD_CONDITIONS), key=_order)
        engines, pumps = [[one for one in good if (one.kind == "pump") is is_pump] for is_pump in (False, True)]
        with self._judging:
            judged = self._judged = self._judged or PairsJudged()
            ids = [[one.entry_id for one in side] for side in (engines, pumps)]
            verdicts = judged.verdicts(catalog, ids[0], ids[1], progress) if engines and pumps else {}
        return PairMatrix(
            engines,
            pumps,
            verdicts,
            left_out=Counter(one.unit.condition for one in there if one.unit.condition not in GOOD_CONDITIONS),
            unknown_entries=sum(not one.kind for one in named.values()),
            put_by=[(row, named[row.unit_id]) for row in held if row.unit_id in named],
        )

    def look_at(self, engine: PairUnit, pump: PairUnit) -> Candidate:
        """Return the judgement of one pair in full, with what the records tell of it."""
        from xref_app.services.pair_judging import engine_values  # noqa: PLC0415 - numpy only when somebody asks

        catalog = self._restock()
        job = engine_values(catalog, engine.entry_id)
        judgement: Judgement = judgement_of(catalog, job, pump.entry_id)
        return JobRecords.about(catalog, job).told_of(candidate_of(catalog, job, pump.entry_id, judgement))

    def reserve(
        self, engine: PairUnit, pump: PairUnit, who: str, *, job: str = "", takes: Sequence[ShelfTake] = ()
    ) -> str:
        """Put both units by and the pieces that join them, all in one act or nothing; return the act's name.

        Without a ``job`` the pair itself is the job.

        Raises:
            StoreError: one of them is put by already, or pieces are not free any more; nothing was changed.
        """
        both = f"{engine.unit_id} with {pump.unit_id}"
        job = read_job(job or both)
        act = named_act(f"reserve {both}" + ("" if job == both else f" for {spelled_job(job)}"), who)
        parts = [Wanted(one.pieces, one.part_id, what=one.name) for one in takes]
        reserve_units(self._store, (engine.unit, pump.unit), act, job=job, parts=parts)
        return act.name

    def release(self, unit_ids: Sequence[str], who: str) -> str:
        """Give units free again and return the act's name."""
        act = named_act(f"release {' and '.join(unit_ids)}", who)
        release_units(self._store, unit_ids, act)
        return act.name


def _named(catalog: Catalog, unit: SalvagedUnit) -> PairUnit:
    entry = catalog.entries.get(unit.entry_id)
    if entry is None:
        return PairUnit(unit, "", unit.entry_id, "")
    row = catalog.machines.get(unit.entry_id)
    number = row.model if row is not None else catalog.number_of(unit.entry_id)
    return PairUnit(unit, entry.kind, number, f"{entry.maker} {entry.name}".strip())


def _order(unit: PairUnit) -> tuple[str, int, str]:
    """Return what sorts whole machines before engines, then by the unit's own number, ``U-9`` before ``U-10``."""
    return ("" if unit.kind == "machine" else unit.kind, len(unit.unit_id), unit.unit_id)
