"""What has changed since a job was left: two tellings of it held against each other, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from xref_app.core.fit.finding import Outcome
from xref_app.core.sentence import Sentence, marked
from xref_app.services.job_told import Told, ToldNeed, ToldSize
from xref_app.services.kept_job import KeptJob

# House rule: more of one kind are counted, not named.
MOST_NAMED: Final = 4

CATALOG_THEN_NOW = marked("findings", "Catalog number {then} then, {now} now.")
GONE = marked("findings", "{label} is not in the catalog any more.")
VERDICT_THEN_NOW = marked("findings", "{pump}: “{then}” then, “{now}” now.")
NOT_SHOWN_NOW = marked("findings", "{pump}: “{then}” then, not among the pumps shown now.")
CHECK_THEN_NOW = marked("findings", "Check {check}: {then} then, {now} now.")
CHECKS_MORE = marked("findings", "And {count} more checks come out otherwise.")
CHECK_MORE = marked("findings", "And 1 more check comes out otherwise.")
SIZE_THEN_NOW = marked("findings", "{title}: {then} then, {now} now.")
SIZE_KNOWN = marked("findings", "{title} has become known: {now}.")
SIZE_LOST = marked("findings", "{title} is not known any more; it was {then}.")
SIZES_MORE = marked("findings", "And {count} more sizes are not as they were.")
SIZE_MORE = marked("findings", "And 1 more size is not as it was.")
NEEDS_THEN_NOW = marked("findings", "Needs {then} then, {now} now.")
NOTHING = marked("findings", "nothing")
NOTHING_CHANGED = marked("findings", "Nothing that it rests on has changed since.")

_NO_CHECK: Final = -1
_BADNESS: Final = {one.word: one.value for one in Outcome}


def changes_since(kept: KeptJob, now: Told, gone: Sequence[str]) -> tuple[Sentence, ...]:
    """Return what has changed since ``kept`` was left, gravest first; one sentence where nothing has.

    Args:
        kept: The job as it was left.
        now: What is told of the same job and the same pump now.
        gone: Labels of what the job rested on, or of the pump chosen, that is in the catalog no more.
    """
    then = kept.told
    changed = (
        *(Sentence(GONE, {"label": label}) for label in gone),
        *(() if kept.chosen_number in gone else _verdict(kept, now)),
        *_checks(then, now),
        *_sizes(then, now),
        *_needs(then, now),
    )
    return (*_catalog(then, now), *(changed or (Sentence(NOTHING_CHANGED),)))


def _catalog(then: Told, now: Told) -> Iterator[Sentence]:
    numbers = (then.catalog_number, now.catalog_number)
    if None not in numbers and numbers[0] != numbers[1]:
        yield Sentence(CATALOG_THEN_NOW, {"then": numbers[0], "now": numbers[1]})


def _verdict(kept: KeptJob, now: Told) -> Iterator[Sentence]:
    then, pump = kept.told.verdict, kept.chosen_number
    if then is None or then is now.verdict:
        return
    if now.verdict is None:
        yield Sentence(NOT_SHOWN_NOW, {"pump": pump, "then": then})
    else:
        yield Sentence(VERDICT_THEN_NOW, {"pump": pump, "then": then, "now": now.verdict})


def _checks(then: Told, now: Told) -> Iterator[Sentence]:
    """Yield the checks that come out otherwise, worst now first; none where the pump is not judged both times."""
    if then.verdict is None or now.verdict is None:
        return
    before, after = dict(then.checks), dict(now.checks)
    changed = [one for one in after if one in before and before[one] != after[one]]
    changed.sort(key=lambda one: _BADNESS.get(after[one], _NO_CHECK), reverse=True)
    for check in changed[:MOST_NAMED]:
        yield Sentence(CHECK_THEN_NOW, {"check": check, "then": before[check], "now": after[check]})
    yield from _more(len(changed) - MOST_NAMED, CHECK_MORE, CHECKS_MORE)


def _sizes(then: Told, now: Told) -> Iterator[Sentence]:
    before = {one.field: one for one in then.sizes}
    after = {one.field: one for one in now.sizes}
    said = [one for field in {**before, **after} if (one := _size(before, after, field)) is not None]
    yield from said[:MOST_NAMED]
    yield from _more(len(said) - MOST_NAMED, SIZE_MORE, SIZES_MORE)


def _size(before: Mapping[str, ToldSize], after: Mapping[str, ToldSize], field: str) -> Sentence | None:
    then, now = before.get(field), after.get(field)
    if then is None and now is not None:
        return Sentence(SIZE_KNOWN, {"title": now.title, "now": now.shown})
    if then is not None and now is None:
        return Sentence(SIZE_LOST, {"title": then.title, "then": then.shown})
    if then is None or now is None or then.shown == now.shown:
        return None
    return Sentence(SIZE_THEN_NOW, {"title": now.title, "then": then.shown, "now": now.shown})


def _needs(then: Told, now: Told) -> Iterator[Sentence]:
    if then.verdict is None or now.verdict is None or sorted(_lines(then.needs)) == sorted(_lines(now.needs)):
        return
    yield Sentence(NEEDS_THEN_NOW, {"then": _listed(then.needs), "now": _listed(now.needs)})


def _lines(needs: Sequence[ToldNeed]) -> list[str]:
    return [f"{need.pieces} × {need.words}" for need in needs]


def _listed(needs: Sequence[ToldNeed]) -> str | Sentence:
    return ", ".join(_lines(needs)) if needs else Sentence(NOTHING)


def _more(count: int, one: str, several: str) -> Iterator[Sentence]:
    if count > 0:
        yield Sentence(one) if count == 1 else Sentence(several, {"count": count})
