"""What the records tell of candidates beside the judgement: past fits, and who is said to replace the old pump."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Remark, RemarkKind, Standing
from xref_app.services.catalog import Catalog
from xref_app.services.machine_side import JobValues
from xref_app.services.past_fits import PastFits, past_fits, remarks_on, standing
from xref_app.services.replacements import Replacements


@dataclass(frozen=True, slots=True)
class JobRecords:
    """The records that concern one job, by pump."""

    past: PastFits
    claims: Mapping[str, Sentence]

    @classmethod
    def about(cls, catalog: Catalog, job: JobValues) -> JobRecords:
        """Return the records about the machine and the old pump that ``job`` was read from."""
        machines = [one for one in job.sources if one in catalog.machines]
        pumps = [one for one in job.sources if one in catalog.entries and catalog.entries[one].kind == "pump"]
        said = Replacements.of(catalog) if pumps else Replacements({}, {})
        claims = {newer: said.claim(catalog, route) for old in pumps for newer, route in said.newer(old).items()}
        return cls(past_fits(catalog, machines), claims)

    def standing(self, pump_id: str) -> Standing:
        """Return a pump's standing among those of its verdict."""
        return standing(self.past.get(pump_id, ()))

    def told_of(self, candidate: Candidate) -> Candidate:
        """Return ``candidate`` with what the records tell of it; its judgement is as it was."""
        past = self.past.get(candidate.entry_id, ())
        told = list(remarks_on(past, candidate.judgement.verdict))
        claim = self.claims.get(candidate.entry_id)
        if claim is not None:
            told.append(Remark(RemarkKind.CLAIM, claim))
        return replace(candidate, remarks=tuple(told), standing=standing(past))
