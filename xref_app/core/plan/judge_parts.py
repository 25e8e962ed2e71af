"""Many pumps judged against the machine of one job, each distinct part of a pump once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref_app.core.fit.checks import Check
from xref_app.core.fit.face_parts import NOTHING_BETWEEN, FaceParts
from xref_app.core.fit.finding import Finding, Judgement
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.versions import agreed
from xref_app.core.model.case import Case
from xref_app.core.model.pump import Pump
from xref_app.core.plan.face_plan import FacePlan, face_plan
from xref_app.core.plan.families import ALONE, FACES, ROOM, Family, PartVersions, parts_of
from xref_app.core.plan.judge import summed_up
from xref_app.core.plan.runner_up import with_runner_up


@dataclass(frozen=True, slots=True)
class JudgedFaces:
    """What goes between the faces, one plan per combination of versions, and what the checks say with it."""

    plans: tuple[FacePlan, ...]
    findings: tuple[Finding, ...]
    contradicted: tuple[str, ...]


class JudgeOfParts:
    """Gives the judgements that ``judge_each`` gives, and remembers what it found of every part.

    Args:
        sides: n ≥ 1 cases without a pump, one per combination of versions of the machine side.
        contradicted: The fields of the machine side that come in several versions.
    """

    def __init__(self, sides: Sequence[Case], contradicted: Sequence[str] = ()) -> None:
        self._sides = tuple(without_hints(side) for side in sides)
        self._contradicted = tuple(contradicted)
        self._alone: dict[tuple[str, PartVersions], tuple[Finding, ...]] = {}
        self._faces: dict[PartVersions, JudgedFaces] = {}

    def judge(self, pump: Pump, *, guessed_number: bool = False, set_aside: bool = False) -> Judgement:
        """Return the judgement of one pump whose sizes come in one version."""
        parts = parts_of(without_hints(pump))
        return self.put_together(parts, guessed_number=guessed_number, set_aside=set_aside)

    def put_together(
        self,
        parts: Sequence[PartVersions],
        *,
        guessed_number: bool = False,
        set_aside: bool = False,
        in_doubt: tuple[str, ...] = (),
    ) -> Judgement:
        """Return the judgement of the pump that has these parts, one per family in the order of ``FAMILIES``."""
        faces_part, *alone, length = parts
        faces = self.faces(faces_part)
        findings = list(faces.findings)
        for family, part in zip(ALONE, alone, strict=True):
            findings.extend(self.alone(family, part))
        room = self.room(faces, length, guessed_number=guessed_number, set_aside=set_aside, in_doubt=in_doubt)
        findings.extend(room)
        if len(self._sides) == 1 and all(len(part.versions) == 1 for part in parts):
            return summed_up(faces.plans, with_runner_up(findings, faces.plans[0]))
        return summed_up(faces.plans, findings)

    def alone(self, family: Family, part: PartVersions) -> tuple[Finding, ...]:
        """Return what the checks of a family that nothing between the faces changes say of a stripped pump."""
        found = self._alone.get((family.name, part))
        if found is None:
            runs = [
                _run(family.checks, replace(side, pump=pump), NOTHING_BETWEEN)
                for side in self._sides
                for pump in part.versions
            ]
            found = self._alone[family.name, part] = self._agreed(runs, part.contradicted)
        return found

    def faces(self, part: PartVersions) -> JudgedFaces:
        """Return the plan for a pump stripped to bore and flange, and what the checks between the faces say with it."""
        found = self._faces.get(part)
        if found is None:
            plans = tuple(face_plan(replace(side, pump=pump)) for side in self._sides for pump in part.versions)
            runs = [_run(FACES.checks, plan.case, plan.parts) for plan in plans]
            findings = self._agreed(runs, part.contradicted)
            found = self._faces[part] = JudgedFaces(plans, findings, part.contradicted)
        return found

    def room(
        self,
        faces: JudgedFaces,
        part: PartVersions,
        *,
        guessed_number: bool = False,
        set_aside: bool = False,
        in_doubt: tuple[str, ...] = (),
    ) -> tuple[Finding, ...]:
        """Return what is left: whether the number was read whole, and the room once a plate is on."""
        runs = []
        for plan in faces.plans:
            for pump in part.versions:
                case = replace(
                    plan.case, pump=pump, guessed_number=guessed_number, set_aside=set_aside, in_doubt=in_doubt
                )
                runs.append(_run(ROOM.checks, case, plan.parts))
        return self._agreed(runs, (*faces.contradicted, *part.contradicted))

    def _agreed(self, runs: Sequence[tuple[Finding, ...]], contradicted: Sequence[str]) -> tuple[Finding, ...]:
        if len(runs) == 1:
            return runs[0]
        fields = (*self._contradicted, *contradicted)
        return tuple(agreed(findings, fields) for findings in zip(*runs, strict=True))


def _run(checks: Sequence[Check], case: Case, parts: FaceParts) -> tuple[Finding, ...]:
    return tuple(check.run(case, parts) for check in checks)
