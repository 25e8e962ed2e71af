"""What the services answer, as plain values that the window and the command line both show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import IntEnum, StrEnum

from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.core.sentence import Sentence


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry that a typed number or model could mean.

    ``matched`` and ``guessed`` are the positions in ``number`` (counted from 0) that agree with what was typed and
    that had to be guessed (an unreadable character, or a look-alike); ``score`` runs from 0 to 100. ``route`` names
    the entries passed through when a replaced-by chain led here, oldest first, and ``claim`` says so in words.
    ``builds`` are the builds of a machine's model that are left by what was typed with it; empty where all are.
    """

    entry_id: str
    kind: str
    number: str
    maker: str
    name: str
    matched: tuple[int, ...]
    guessed: tuple[int, ...]
    score: float
    route: tuple[str, ...] = ()
    claim: Sentence | None = None
    builds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """The hits, best first, how the typed text was understood, and how many there are beyond the limit."""

    read_as: Sentence
    hits: tuple[Hit, ...]
    total: int
    advice: Sentence | None = None


class FactState(StrEnum):
    """What is the matter with one fact of the sheet."""

    KNOWN = "known"
    UNKNOWN = "not known"
    CONFLICT = "two versions"
    HINT = "hint only"
    IN_DOUBT = "in doubt"


@dataclass(frozen=True, slots=True)
class FactRow:
    """One size of the pump coming off or of the machine side, ready to show.

    ``shown`` has both units for a length; of a size in doubt it is what that was thought to be. ``known_by`` reads like
    "measured, Ana, 3 Nov" or "claimed, seller's page".
    """

    field: str
    title: str
    shown: str
    known_by: str
    state: FactState


@dataclass(frozen=True, slots=True)
class MachineChoice:
    """One build of a machine that could be on the bench, with the visible fact that tells it from the others.

    ``pump`` is the number of the pump it left the maker with; ``sisters`` are further builds that carried the same pump
    on the same engine. ``is_told_apart`` says whether what is seen tells it from every other choice.
    """

    entry_id: str
    model: str
    maker: str
    driver: str
    pump_id: str
    built: str
    tell_apart: str
    pump: str = ""
    sisters: tuple[str, ...] = ()
    is_told_apart: bool = True


@dataclass(frozen=True, slots=True)
class Job:
    """One job at the counter: what is coming off, from which machine, and what is known of both.

    ``choices`` are the builds still possible (empty once one is chosen or none is known); none is preselected.
    ``sisters`` are builds that carried the same pump on the same engine as ``machine_id``: only what is known of all of
    them counts.
    ``facts`` are the rows under 'Pump coming off', the machine side first. ``reference`` is what the shop calls the
    job, once something is put by for it: those pieces are its own.
    """

    pump_id: str | None
    machine_id: str | None
    title: str
    facts: tuple[FactRow, ...]
    choices: tuple[MachineChoice, ...] = ()
    guessed_number: bool = False
    note: Sentence | None = None
    reference: str = ""
    sisters: tuple[str, ...] = ()


class Standing(IntEnum):
    """What the past does to a pump's place among those of one verdict; a lower number stands first. House rule."""

    FINE_HERE = 0
    FINE_ON_ENGINE = 1
    UNTRIED = 2
    WRONG_ON_ENGINE = 3
    WRONG_HERE = 4


class RemarkKind(StrEnum):
    """What the records tell of a pump beside the judgement."""

    WENT_WRONG = "went wrong before"
    CONFIRMED = "went well before"
    CLAIM = "claim"


@dataclass(frozen=True, slots=True)
class Remark:
    """One line of the records about a pump; ``further`` is what that means for the verdict beside it."""

    kind: RemarkKind
    line: Sentence
    further: Sentence | None = None


@dataclass(frozen=True, slots=True)
class Candidate:
    """A pump that could go on, judged.

    ``remarks`` are what the records tell of it, what went wrong first; ``standing`` is its place by them among pumps
    of one verdict.
    """

    entry_id: str
    number: str
    maker: str
    name: str
    headline: Sentence
    judgement: Judgement
    remarks: tuple[Remark, ...] = ()
    standing: Standing = Standing.UNTRIED


@dataclass(frozen=True, slots=True)
class MeasureNext:
    """The one measurement that would settle most of the list, and how to take it.

    ``settles`` of the ``open`` pumps ask for it; ``last_open`` of those ask for nothing else. ``entry_id`` is the pump
    that it is taken on; empty where it is taken on the machine.
    """

    field: str
    title: str
    settles: int
    open: int
    minutes: float
    how_to: str
    comes_off_first: str
    entry_id: str = ""
    last_open: int = 0


@dataclass(frozen=True, slots=True)
class Candidates:
    """The pumps judged against the job, ranked: fits first, then by how little stands in the way.

    ``rows`` are the best of them, ``counted`` says how many of all have each verdict; without it the rows are all.
    """

    rows: tuple[Candidate, ...]
    measure_next: MeasureNext | None = None
    counted: Mapping[Verdict, int] = field(default_factory=dict)

    @property
    def total(self) -> int:
        """Return how many pumps were judged."""
        return sum(self._counts().values())

    @property
    def not_ruled_out(self) -> int:
        """Return how many of them could go on, as far as is known."""
        return self.total - self._counts().get(Verdict.DOES_NOT_FIT, 0)

    def _counts(self) -> Mapping[Verdict, int]:
        return self.counted or Counter(row.judgement.verdict for row in self.rows)
