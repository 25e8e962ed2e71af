"""The verdict on every pump of a catalog at once: each distinct part judged once, then put together by number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fit.finding import Finding, Judgement, Outcome, Verdict
from xref_app.core.fit.shortage import with_shelf_counted
from xref_app.core.plan.families import ALONE, FAMILIES
from xref_app.core.plan.judge import VERDICT_OF, count_in_the_way, fields_asked, fields_claimed, worst_outcome
from xref_app.core.plan.judge_parts import JudgeOfParts
from xref_app.core.progress import Progress
from xref_app.services.pump_table import PumpTable, distinct

Item = TypeVar("Item")

_FACES, _ROOM = 0, len(FAMILIES) - 1


class Steps:
    """Tells how much of work is done whose whole is known only at most."""

    def __init__(self, progress: Progress, most: int) -> None:
        self._progress, self._most, self._done = progress, most, 0

    def through(self, items: Iterable[Item]) -> Iterator[Item]:
        """Yield every item, telling of each.

        Raises:
            WorkCancelledError: the work is no longer wanted.
        """
        for item in items:
            self._progress.step(min(self._done, self._most), self._most)
            yield item
            self._done += 1


@dataclass(frozen=True, slots=True)
class Verdicts:
    """What is known of n pumps without looking at each: arrays of n, in the order of the table.

    ``worst`` is the number of the worst outcome that blocks, ``in_the_way`` how many checks do not pass,
    ``rests_on_claims`` whether one rests on a mere claim. ``asked`` are the fields that open checks ask for, each with
    the pumps whose checks do.
    """

    worst: NDArray[np.uint8]
    in_the_way: NDArray[np.uint8]
    rests_on_claims: NDArray[np.bool_]
    asked: dict[str, NDArray[np.bool_]]

    @classmethod
    def none_yet(cls, pumps: int) -> Verdicts:
        """Return what is known before anything is judged: nothing stands in the way."""
        return cls(np.zeros(pumps, np.uint8), np.zeros(pumps, np.uint8), np.zeros(pumps, np.bool_), {})

    def add(
        self, found: Sequence[_Summary], which: NDArray[Any], pumps: NDArray[np.intp] | slice = slice(None)
    ) -> None:
        """Put in what m distinct parts come to.

        Args:
            found: What each of them comes to.
            which: For each pump the place of its part in ``found``.
            pumps: The places of those pumps; without it all of them.
        """
        if not found:
            return
        worst = np.array([one.worst for one in found], np.uint8)[which]
        self.worst[pumps] = np.maximum(self.worst[pumps], worst)
        self.in_the_way[pumps] += np.array([one.in_the_way for one in found], np.uint8)[which]
        self.rests_on_claims[pumps] |= np.array([one.rests_on_claims for one in found], np.bool_)[which]
        for field in dict.fromkeys(field for one in found for field in one.asked):
            asking = self.asked.setdefault(field, np.zeros(len(self.worst), np.bool_))
            asking[pumps] |= np.array([field in one.asked for one in found], np.bool_)[which]

    def settle(self, place: int, judgement: Judgement) -> None:
        """Put in what one pump judged by itself comes to."""
        found = _Summary.of(judgement.findings)
        self.worst[place], self.in_the_way[place] = found.worst, found.in_the_way
        self.rests_on_claims[place] = found.rests_on_claims
        for field in {*self.asked, *found.asked}:
            self.asked.setdefault(field, np.zeros(len(self.worst), np.bool_))[place] = field in found.asked

    def counted(self) -> dict[Verdict, int]:
        """Return how many pumps have each verdict."""
        counts = np.bincount(self.worst, minlength=len(VERDICT_OF))
        return {verdict: int(counts[outcome]) for outcome, verdict in VERDICT_OF.items()}


@dataclass(frozen=True, slots=True)
class _Summary:
    """What the findings about one part come to."""

    worst: int
    in_the_way: int
    rests_on_claims: bool
    asked: tuple[str, ...]

    @classmethod
    def of(cls, findings: Iterable[Finding]) -> _Summary:
        counted = with_shelf_counted(tuple(findings))
        return cls(
            worst=worst_outcome(counted, default=Outcome.PASS),
            in_the_way=count_in_the_way(counted),
            rests_on_claims=bool(fields_claimed(counted)),
            asked=fields_asked(counted),
        )


def judge_table(  # noqa: PLR0913 - what keeps a verdict open has three causes
    table: PumpTable,
    judge: JudgeOfParts,
    *,
    work: Steps,
    guessed_number: bool = False,
    set_aside: bool = False,
    in_doubt: tuple[str, ...] = (),
) -> Verdicts:
    """Return the verdict on every pump of ``table``; what those come to that are ``apart`` is not meant.

    What lies between the faces is planned only for pumps that nothing else rules out; of those ruled out only the other
    checks count.

    Args:
        table: n pumps by the numbers of their parts.
        judge: The machine side they are judged against.
        work: Told of each distinct part; may raise to stop.
        guessed_number: Whether pump or machine was found through characters nobody could read.
        set_aside: Whether part of what is stored about the machine is set aside.
        in_doubt: The fields of the machine that are in doubt; pumps with such fields are judged by themselves.
    """
    found = Verdicts.none_yet(len(table.ids))
    for at, family in enumerate(ALONE, start=1):
        summaries = [_Summary.of(judge.alone(family, part)) for part in work.through(table.parts[at])]
        found.add(summaries, table.numbers[:, at])
    left = np.flatnonzero(found.worst < Outcome.FAIL)
    used, which = np.unique(table.numbers[left, _FACES], return_inverse=True)
    parts = [table.parts[_FACES][number] for number in used]
    found.add([_Summary.of(judge.faces(part).findings) for part in work.through(parts)], which, left)
    left = np.flatnonzero(found.worst < Outcome.FAIL)
    first, which = distinct([table.numbers[left, _FACES], table.numbers[left, _ROOM]], len(left))
    rooms = []
    for place in work.through(left[first]):
        face, room = table.numbers[place, _FACES], table.numbers[place, _ROOM]
        faces = judge.faces(table.parts[_FACES][face])
        length = table.parts[_ROOM][room]
        room = judge.room(faces, length, guessed_number=guessed_number, set_aside=set_aside, in_doubt=in_doubt)
        rooms.append(_Summary.of(room))
    found.add(rooms, which, left)
    return found
