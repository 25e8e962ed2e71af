"""How it is told what is not right with the catalog, and what a check of every row found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication

from xref_app.core.sentence import marked
from xref_app.gui.messages import say
from xref_app.services.health_lines import HealthLine, LineKind, WholeCheck

KINDS = {
    LineKind.FAILED_FIT: marked("health", "A fit that failed"),
    LineKind.CONFLICT: marked("health", "Contradiction"),
    LineKind.DAMAGED: marked("health", "Damage"),
}
# One silhouette each: the kinds stay apart without colour.
SIGNS = {LineKind.FAILED_FIT: "✕", LineKind.CONFLICT: "≠", LineKind.DAMAGED: "!"}
COUNTS = {
    LineKind.FAILED_FIT: marked("health", "fits that failed: {count}"),
    LineKind.CONFLICT: marked("health", "contradictions: {count}"),
    LineKind.DAMAGED: marked("health", "damage: {count}"),
}
ADVICE = {
    LineKind.FAILED_FIT: marked(
        "health",
        "Open the job and measure the sizes in doubt again: what is measured anew counts. If something else was the "
        "matter, say that they were right, and why.",
    ),
    LineKind.CONFLICT: marked(
        "health",
        "Each version is judged, and it fits only where it fits under all. Measure again to learn which one holds.",
    ),
    LineKind.DAMAGED: marked(
        "health",
        "What is damaged counts as not known. If a copy has it whole, it can be put right from there. Check every "
        "row to see how far the damage goes.",
    ),
}
NOTHING = marked("health", "Nothing is wrong that the program knows of.")
READING = marked("health", "Reading what is known… Esc stops.")
WHOLE = marked("health", "All {rows} rows are what was written.")
NOT_WHOLE = marked("health", "{rows} sound rows were read, and this is wrong: {what}.")
DAMAGED_ROWS = marked("health", "damaged rows: {count}")
LOST = marked("health", "rows lost or added behind the program's back in {tables}")
BROKEN = marked("health", "the history is not whole")
COMPLAINTS = marked("health", "the file itself complains: {words}")


def told(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("health", template)).format(**values)


def kind_text(kind: LineKind) -> str:
    """Return what a line is about, as a heading."""
    return told(KINDS[kind])


def advice_text(line: HealthLine) -> str:
    """Return what to do about a line."""
    return told(ADVICE[line.kind])


def sizes_text(line: HealthLine) -> str:
    """Return the sizes a line is about, one below the other; empty where it is about none."""
    return "\n".join(say(one) for one in line.sizes)


def line_text(line: HealthLine) -> str:
    """Return the whole line as one."""
    words = (f"{kind_text(line.kind)}: {say(line.told)}", *(say(one) for one in line.sizes))
    return " ".join(words[:1]) + (f" {'; '.join(words[1:])}." if line.sizes else "")


def count_text(lines: Sequence[HealthLine]) -> str:
    """Return how many of each kind there are, in one line."""
    counts = Counter(line.kind for line in lines)
    said = "; ".join(told(COUNTS[kind], count=counts[kind]) for kind in LineKind if counts[kind])
    return said[:1].upper() + said[1:] if said else told(NOTHING)


def check_text(found: WholeCheck) -> str:
    """Return in one sentence what was read, and what is wrong with it."""
    rows = f"{found.rows:,}"
    if found.is_whole:
        return told(WHOLE, rows=rows)
    wrong = []
    if found.damaged_rows:
        wrong.append(told(DAMAGED_ROWS, count=found.damaged_rows))
    if found.lost_tables:
        wrong.append(told(LOST, tables=", ".join(found.lost_tables)))
    if not found.history_is_whole:
        wrong.append(told(BROKEN))
    if found.complaints:
        wrong.append(told(COMPLAINTS, words=", ".join(found.complaints)))
    return told(NOT_WHOLE, rows=rows, what="; ".join(wrong))
