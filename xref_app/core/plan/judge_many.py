"""Many pumps judged against the machines of one job, each distinct part of a pump once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref_app.core.fit.face_parts import NOTHING_BETWEEN
from xref_app.core.fit.finding import Finding, Judgement
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.versions import agreed
from xref_app.core.model.case import Case
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Has, Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.plan.face_plan import FacePlan, face_plan
from xref_app.core.plan.families import ALONE, EACH, FACES
from xref_app.core.plan.judge import CHECKS, summed_up
from xref_app.core.plan.runner_up import with_runner_up


class JudgeOfMany:
    """Gives the same judgements as ``judge_each``, and remembers what it found of every part of a pump.

    For one catalog and one job: what is remembered is kept as long as the judge.
    """

    def __init__(self) -> None:
        self._sides: dict[tuple[Machine, Has, int], _OneSide] = {}

    def judge_each(self, cases: Sequence[Case], contradicted: Sequence[str] = ()) -> Judgement:
        """Return the judgement of one pump under each version of what contradicts, as ``judge_each`` does.

        Args:
            cases: n ≥ 1, one per combination of versions.
            contradicted: The fields that come in several versions.
        """
        judged = [self._judged(without_hints(case)) for case in cases]
        plans = [one.plan for one in judged]
        if len(judged) == 1:
            return summed_up(plans, with_runner_up(judged[0].findings, plans[0]))
        by_check = [{finding.check: finding for finding in one.findings} for one in judged]
        names = [check.question.check for check in CHECKS]
        return summed_up(plans, [agreed([found[name] for found in by_check], contradicted) for name in names])

    def _judged(self, case: Case) -> _Judged:
        # The shelf is one object for a whole catalog; hashing its hundreds of parts for every pump would be slow.
        key = (case.machine, case.old_has, id(case.shelf))
        side = self._sides.get(key)
        if side is None:
            side = self._sides[key] = _OneSide(case.machine, case.old_has, case.shelf)
        return side.judged(case)


@dataclass(frozen=True, slots=True)
class _Judged:
    plan: FacePlan
    findings: tuple[Finding, ...]


class _OneSide:
    """What was found of parts of pumps against one machine, one old pump and one shelf."""

    def __init__(self, machine: Machine, old_has: Has, shelf: Shelf) -> None:
        self._bare = Case(machine=machine, old_has=old_has, shelf=shelf)
        self._faces: dict[Pump, _Judged] = {}
        self._alone: tuple[dict[Pump, tuple[Finding, ...]], ...] = tuple({} for _ in ALONE)

    def judged(self, case: Case) -> _Judged:
        """Return plan and findings of one case of this side."""
        faces = self._of_faces(case.pump)
        findings = list(faces.findings)
        for family, known in zip(ALONE, self._alone, strict=True):
            part = family.part_of(case.pump)
            found = known.get(part)
            if found is None:
                stripped = replace(self._bare, pump=part)
                found = known[part] = tuple(check.run(stripped, NOTHING_BETWEEN) for check in family.checks)
            findings.extend(found)
        whole = replace(case, machine=faces.plan.case.machine)
        findings.extend(check.run(whole, faces.plan.parts) for check in EACH)
        return _Judged(faces.plan, tuple(findings))

    def _of_faces(self, pump: Pump) -> _Judged:
        part = FACES.part_of(pump)
        found = self._faces.get(part)
        if found is None:
            plan = face_plan(replace(self._bare, pump=part))
            findings = tuple(check.run(plan.case, plan.parts) for check in FACES.checks)
            found = self._faces[part] = _Judged(plan, findings)
        return found
