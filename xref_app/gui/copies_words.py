"""How copies are told, and what putting one back would do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from PySide6.QtCore import QCoreApplication, QLocale

from xref_app.core.sentence import marked
from xref_app.gui.job_words import when_text
from xref_app.services.copies_told import CopyLine
from xref_app.services.mending import Mending
from xref_app.services.restore import WouldChange
from xref_app.services.store_copies import CopiesTold

WHY: Mapping[str, str] = {
    "daily": marked("copies", "made by itself, once a day"),
    "asked": marked("copies", "made because somebody asked for it"),
    "import": marked("copies", "made before a list was taken"),
    "catalog": marked("copies", "made before a catalog file was taken"),
    "restore": marked("copies", "made before another copy was put back"),
    "upgrade": marked("copies", "made before the catalog got a newer format"),
    "elsewhere": marked("copies", "from where you chose it"),
    "set aside": marked("copies", "the catalog as it lay there, set aside before another took its place"),
}
TABLES: Mapping[str, str] = {
    "entries": marked("copies", "entries: {count}"),
    "numbers": marked("copies", "numbers: {count}"),
    "observations": marked("copies", "readings: {count}"),
    "shelf": marked("copies", "bins: {count}"),
    "reservations": marked("copies", "reservations of parts: {count}"),
    "salvaged_units": marked("copies", "salvaged units: {count}"),
    "unit_reservations": marked("copies", "units put by: {count}"),
    "outcomes": marked("copies", "outcomes: {count}"),
    "photos": marked("copies", "photos: {count}"),
}
OTHERS = marked("copies", "other rows: {count}")
VANISH = marked("copies", "Will vanish – {what}.")
ALTERED = marked("copies", "Get their former values – {what}.")
BACK = marked("copies", "Come back – {what}.")
MENDED = marked("copies", "Damaged rows put right – {what}.")
LEFT_DAMAGED = marked("copies", "Rows that stay damaged, for the copy has nothing sound for them: {count}.")
SAME = marked("copies", "Nothing would change: the catalog is as in the copy.")
NOTHING_MISSING = marked("copies", "Nothing is missing that the copy has.")

DAMAGED = marked("copies", "damaged: it is not used")
WHOLE = marked("copies", "whole, every row checked")
UNREADABLE = marked("copies", "cannot be read")
ENTRIES = marked("copies", "{entries} entries")
UP_TO_DATE = marked("copies", "nothing was done since")
BEHIND = marked("copies", "changes since then: {count}")
AHEAD = marked("copies", "holds {count} changes that the catalog has lost")

NOT_KEPT = marked("copies", "No copies are kept here: made-up data can be made anew, and a server has its own keeper.")
NO_COPY = marked("copies", "There is no copy yet. One is made by itself every day; Copy now makes one at once.")
COUNT = marked("copies", "{good} of {all} copies are whole, the newest is of {when}.")
NONE_GOOD = marked("copies", "{all} copies, none of them whole: make one now.")
FREE = marked("copies", "Free on this disk: {size}.")
CLOCK = marked("copies", "The clock of this machine looks wrong: the last act lies ahead of it.")
ONLY_AS_FILE = marked(
    "copies", "The catalog is too badly damaged to add anything to it. Put a whole copy in its place; it is set aside."
)

SAME_ROWS = marked("copies", "Damaged or lost rows that come back as they stood: {count}.")
OLDER_ROWS = marked("copies", "Rows of which the copy may hold an older state: {count}; look at them afterwards.")


def told(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("copies", template)).format(**values)


def when_of(line: CopyLine) -> str:
    """Return when the last act in a copy was done, on the clock of the shop; of an unreadable copy its file's name."""
    return line.path.name if line.holds is None or not line.holds.at else when_text(line.holds.at)


def holds_text(line: CopyLine) -> str:
    """Return what a copy holds and how far it lies behind."""
    if line.holds is None:
        return told(UNREADABLE)
    words = [told(ENTRIES, entries=f"{line.holds.entries:,}")]
    if line.behind is not None:
        words.append(_behind_text(line.behind))
    return ", ".join(words)


def _behind_text(behind: int) -> str:
    if behind == 0:
        return told(UP_TO_DATE)
    return told(BEHIND, count=f"{behind:,}") if behind > 0 else told(AHEAD, count=f"{-behind:,}")


def state_text(line: CopyLine) -> str:
    """Return why a copy was made, and whether it is whole."""
    why = told(WHY[line.why]) if line.why in WHY else line.why
    return f"{why}; {told(WHOLE if line.good else DAMAGED)}"


def line_text(line: CopyLine) -> str:
    """Return the whole line."""
    return f"{when_of(line)}: {holds_text(line)}; {state_text(line)}"


def count_text(copies: CopiesTold) -> str:
    """Return how many copies there are, and what else matters about them."""
    return " ".join(_counted(copies))


def _counted(copies: CopiesTold) -> Iterator[str]:
    if not copies.are_kept:
        yield told(NOT_KEPT)
        return
    good, newest = sum(one.good for one in copies.lines), copies.newest_good
    if not copies.lines:
        yield told(NO_COPY)
    elif newest is None:
        yield told(NONE_GOOD, all=len(copies.lines))
    else:
        yield told(COUNT, good=good, all=len(copies.lines), when=when_of(newest))
    if copies.free_bytes is not None:
        yield told(FREE, size=QLocale().formattedDataSize(copies.free_bytes, 0))
    if copies.clock_is_behind:
        yield told(CLOCK)
    if copies.only_as_file:
        yield told(ONLY_AS_FILE)


def change_lines(change: WouldChange, *, only_missing: bool) -> tuple[str, ...]:
    """Return what putting a copy back would do, one sentence each; what vanishes comes first."""
    parts = ((VANISH, change.vanish), (ALTERED, change.altered), (BACK, change.back), (MENDED, change.mended))
    lines = [told(template, what=_what(counts)) for template, counts in parts if counts]
    if not lines:
        lines.append(told(NOTHING_MISSING if only_missing else SAME))
    if change.left_damaged:
        lines.append(told(LEFT_DAMAGED, count=change.left_damaged))
    return tuple(lines)


def _what(counts: Mapping[str, int]) -> str:
    named = [told(TABLES[name], count=f"{counts[name]:,}") for name in TABLES if name in counts]
    others = sum(count for name, count in counts.items() if name not in TABLES)
    return ", ".join([*named, *([told(OTHERS, count=f"{others:,}")] if others else [])])


def mending_lines(mending: Mending) -> tuple[str, ...]:
    """Return what a copy has for rows that are damaged or lost, one sentence each."""
    counts = ((SAME_ROWS, len(mending.same)), (OLDER_ROWS, len(mending.older)), (LEFT_DAMAGED, mending.left))
    return tuple(told(template, count=count) for template, count in counts if count)
