"""Judge one pump of the catalog against a job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref_app.core.fields.fields import Side, all_fields, field_for, field_for_case
from xref_app.core.fit.finding import Finding, Judgement, Need, Outcome, Verdict
from xref_app.core.fit.question import FieldNames
from xref_app.core.model.assemble import MOST_COMBINATIONS, Versions, cases
from xref_app.core.model.case import Case
from xref_app.core.model.known import Known
from xref_app.core.plan.judge import judge_each
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import Candidate
from xref_app.services.catalog import Catalog
from xref_app.services.job_records import JobRecords
from xref_app.services.machine_side import JobValues, Values
from xref_app.services.past_fits import PastFit

ALL_PASS = marked("candidates", "all {count} checks pass")
ALL_PASS_IF = marked("candidates", "all {count} checks pass, if what is claimed holds")
NEEDS = marked("candidates", "needs {parts}")
NEEDS_IF = marked("candidates", "needs {parts}, if what is claimed holds")
MEASURE = marked("candidates", "measure {fields}")
MEASURE_MORE = marked("candidates", "measure {fields} and {more} more")
SAME_PUMP = marked("candidates", "same pump: {rest}")

# Versions are gone through in the order of the fields, whichever was written down first.
_PLACES = {field: place for place, field in enumerate(all_fields())}

# A headline names so many things and counts the rest (house rule).
_NAMED = 2


@dataclass(frozen=True, slots=True)
class Question:
    """The cases one candidate makes, and the fields that come in several versions.

    ``past`` is what happened with it on this machine before; None where the records were not looked at.
    """

    cases: tuple[Case, ...]
    contradicted: tuple[str, ...]
    past: tuple[PastFit, ...] | None = None


def judge_one(
    catalog: Catalog,
    job: JobValues,
    pump_id: str,
    *,
    guessed_number: bool = False,
    records: JobRecords | None = None,
) -> Candidate:
    """Return one pump of the catalog judged against the job, with what ``records`` of the job tell of it.

    Its headline says so where it is the pump coming off.
    """
    judgement = judgement_of(catalog, job, pump_id, guessed_number=guessed_number)
    return (records or JobRecords.about(catalog, job)).told_of(candidate_of(catalog, job, pump_id, judgement))


def candidate_of(catalog: Catalog, job: JobValues, pump_id: str, judgement: Judgement) -> Candidate:
    """Return a judged pump as the list shows it, before the records are looked at."""
    entry, told = catalog.entries[pump_id], headline(judgement)
    if pump_id in job.sources:
        told = Sentence(SAME_PUMP, {"rest": told})
    return Candidate(pump_id, catalog.number_of(pump_id), entry.maker, entry.name, told, judgement)


def judgement_of(catalog: Catalog, job: JobValues, pump_id: str, *, guessed_number: bool = False) -> Judgement:
    """Return the judgement of one pump against the job, under each version of what contradicts."""
    asked = question(catalog, job, pump_id, guessed_number=guessed_number)
    return judge_each(asked.cases, asked.contradicted)


def question(catalog: Catalog, job: JobValues, pump_id: str, *, guessed_number: bool = False) -> Question:
    """Return the cases of one pump against the job.

    Where contradictions make more combinations than can be judged, the contradicted sizes count as not known.
    """
    asked = _question(catalog, job, _pump_side(catalog.known(pump_id)), guessed_number=guessed_number)
    in_doubt = doubted_fields(catalog, job, pump_id)
    if in_doubt:
        asked = replace(asked, cases=tuple(replace(case, in_doubt=in_doubt) for case in asked.cases))
    if catalog.damaged.touches(pump_id, *job.sources):
        return replace(asked, cases=tuple(replace(case, set_aside=True) for case in asked.cases))
    return asked


def doubted_fields(catalog: Catalog, job: JobValues, pump_id: str = "") -> tuple[str, ...]:
    """Return the fields in doubt of the machine side, and of a pump, in the order of the schema.

    Of the pump coming off only what it had built in counts: its sizes are claims about the machine that are left out.
    """
    if not catalog.doubts:
        return ()
    pumps = [one for one in job.sources if one in catalog.entries and catalog.entries[one].kind == "pump"]
    machine = catalog.fields_in_doubt(*(one for one in job.sources if one not in pumps))
    built_in = {field for field in catalog.fields_in_doubt(*pumps) if field.startswith("has_")}
    fields = machine | built_in | catalog.fields_in_doubt(pump_id)
    return tuple(field for field in all_fields() if field in fields)


def machine_question(catalog: Catalog, job: JobValues) -> Question:
    """Return the cases of the machine side alone, without a pump."""
    return _question(catalog, job, {})


def _question(catalog: Catalog, job: JobValues, pump: Values, *, guessed_number: bool = False) -> Question:
    by_path: dict[str, Sequence[Known]] = {}
    for values, prefix in ((job.machine, ""), (pump, ""), (job.old_has, "old_")):
        for field, known in sorted(values.items(), key=lambda one: _PLACES[one[0]]):
            by_path[prefix + field_for(field).case_field] = known
    versions = Versions(by_path)
    contradicted = tuple(field_for_case(path).field_id for path in versions.contradicted)
    if versions.combinations > MOST_COMBINATIONS:
        versions = Versions({path: one for path, one in by_path.items() if len(one) == 1})
    return Question(cases(versions, shelf=catalog.shelf, guessed_number=guessed_number), contradicted)


def headline(judgement: Judgement) -> Sentence:
    """Return the one line that stands under a verdict in the list."""
    match judgement.verdict:
        case Verdict.FITS:
            passed = sum(1 for one in judgement.findings if one.outcome is Outcome.PASS)
            return Sentence(ALL_PASS_IF if judgement.claims else ALL_PASS, {"count": passed})
        case Verdict.FITS_WITH_PARTS:
            return Sentence(NEEDS_IF if judgement.claims else NEEDS, {"parts": _counted_parts(judgement)})
        case Verdict.NOT_KNOWN_YET:
            named, more = judgement.measure_next[:_NAMED], len(judgement.measure_next) - _NAMED
            values = {"fields": FieldNames(named), "more": more}
            return Sentence(MEASURE_MORE if more > 0 else MEASURE, values)
        case Verdict.DOES_NOT_FIT:
            return _first(judgement.findings, Outcome.FAIL).reason


def _counted_parts(judgement: Judgement) -> str:
    kinds = Counter[str]()
    for need in judgement.needs:
        kinds[_kind_word(need)] += need.quantity
    return ", ".join(f"{count} {_plural(kind) if count > 1 else kind}" for kind, count in kinds.items())


def _plural(kind: str) -> str:
    return "pieces to make" if kind == "piece to make" else f"{kind}s"


def _kind_word(need: Need) -> str:
    if need.listed is not None:
        return need.listed.kind.value
    return "piece to make" if need.to_make else "standard bolt"


def _first(findings: Sequence[Finding], outcome: Outcome) -> Finding:
    return next(one for one in findings if one.outcome is outcome)


def _pump_side(values: Values) -> Values:
    return {field: versions for field, versions in values.items() if field_for(field).side is Side.PUMP}
