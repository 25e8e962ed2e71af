"""What may be wrong with a catalog folder, and the one sentence that says so."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref_app.core.errors import XrefError

# House rule: whoever has so many faults in one folder looks at the first ones and reads again.
MAX_PROBLEMS = 1000
MAX_SHOWN_CHARACTERS = 60


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault in one file.

    ``row`` counts as a spreadsheet does (1 is the heading), None where the whole file is meant; ``column`` is empty
    where the whole row is meant; ``found`` is what stood there; ``advice`` says why not and what to do.
    """

    table: str
    row: int | None
    column: str
    found: str
    advice: str

    def __str__(self) -> str:
        place = [f"{self.table}.csv"]
        if self.row is not None:
            place.append(f"row {self.row}")
        if self.column:
            place.append(f"column {self.column}")
        return f"{', '.join(place)}: “{shortened(self.found)}” {self.advice}"


class CatalogFolderError(XrefError):
    """The folder as a whole cannot be read or written.

    Attributes:
        folder: The folder as it was given.
        found: What is the matter with it.
        advice: What to do.
    """

    def __init__(self, folder: str, found: str, advice: str) -> None:
        self.folder = folder
        self.found = found
        self.advice = advice
        super().__init__(f"The catalog folder “{folder}” {found}: {advice}.")


class DamagedCatalogError(XrefError):
    """Cells of the folder break the rules of data_schema; nothing of it was taken.

    Attributes:
        folder: The folder as it was given.
        problems: Every fault found, in the order of the files, at most MAX_PROBLEMS.
    """

    def __init__(self, folder: str, problems: tuple[Problem, ...]) -> None:
        self.folder = folder
        self.problems = problems
        count = "1 problem was" if len(problems) == 1 else f"{_count(len(problems))} problems were"
        first = "" if len(problems) == 1 else "the first "
        super().__init__(f"{count} found in the catalog folder “{folder}”, {first}in {problems[0]}.")


@dataclass(slots=True)
class Problems:
    """Collects the faults of one folder and gives up when there are too many."""

    folder: str
    found: list[Problem] = field(default_factory=list)

    def add(self, problem: Problem) -> None:
        """Keep ``problem``.

        Raises:
            DamagedCatalogError: that makes MAX_PROBLEMS.
        """
        self.found.append(problem)
        if len(self.found) >= MAX_PROBLEMS:
            self.raise_if_any()

    def raise_if_any(self) -> None:
        """Raise DamagedCatalogError if anything was found."""
        if self.found:
            raise DamagedCatalogError(self.folder, tuple(self.found))

    def in_table(self, table: str) -> bool:
        """Say whether ``table`` has any fault."""
        return any(problem.table == table for problem in self.found)


def shortened(text: str) -> str:
    """Return ``text`` on one line, cut to what fits into a sentence."""
    line = " ".join("".join(one if one.isprintable() else " " for one in text).split())
    return line if len(line) <= MAX_SHOWN_CHARACTERS else line[: MAX_SHOWN_CHARACTERS - 1] + "…"


def _count(number: int) -> str:
    return f"{number} or more" if number >= MAX_PROBLEMS else str(number)
