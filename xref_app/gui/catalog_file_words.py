"""How a supplier's file is told: what it is, what it would do, and what became of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import islice

from PySide6.QtCore import QCoreApplication

from xref_app.core.sentence import marked
from xref_app.gui.messages import say
from xref_app.services.catalog_file_lines import FileLine, LineKind, counts
from xref_app.services.catalog_files import InUse, LookedAt, Refused, TakenFile

KINDS = {
    LineKind.JOB: marked("catalog file", "Our job"),
    LineKind.OUTCOME: marked("catalog file", "Our outcome"),
    LineKind.WITHDRAWN: marked("catalog file", "Withdrawn"),
    LineKind.CHANGED: marked("catalog file", "Changed"),
    LineKind.ADDED: marked("catalog file", "Added"),
}
# One silhouette each: the kinds stay apart without colour.
SIGNS = {
    LineKind.JOB: "»",
    LineKind.OUTCOME: "!",
    LineKind.WITHDRAWN: "−",
    LineKind.CHANGED: "≠",
    LineKind.ADDED: "+",
}
MEANS = {
    LineKind.JOB: marked(
        "catalog file", "A kept job that names what the file changes. Opened again it is judged by what holds then."
    ),
    LineKind.OUTCOME: marked("catalog file", "It stays in the record as it was written down."),
    LineKind.WITHDRAWN: marked(
        "catalog file", "The supplier does not stand by it any more: it is found and offered no more."
    ),
    LineKind.CHANGED: "",
    LineKind.ADDED: "",
}
EMPTY_TITLE = marked("catalog file", "Catalog file")
EMPTY = marked(
    "catalog file", "No file is chosen: Ctrl+Shift+G chooses one. Nothing is changed before you take it with F12."
)
READING = marked("catalog file", "Reading the file and holding it against the catalog… Esc stops.")
STOPPED = marked("catalog file", "Stopped; nothing was changed. Ctrl+Shift+G chooses a file.")
TAKING = marked("catalog file", "Being taken, all of it or nothing… Esc stops.")
TAKING_SO_FAR = marked("catalog file", "Being taken, all of it or nothing… {percent} %, Esc stops.")
TITLE = marked("catalog file", "{title}, number {number} of {supplier}")
SIGNED = marked("catalog file", "Signed by {supplier}; the signature is right. {which}")
FINGERPRINT = marked("catalog file", "Fingerprint {fingerprint}")
FIRST = marked("catalog file", "Number {number}; no file of this supplier was taken before.")
LATER = marked("catalog file", "Number {number}; the last one taken was {last}.")
ROWS = marked("catalog file", "Rows: {added} new, {changed} changed, {same} stand here already.")
LEFT_OUT = marked(
    "catalog file",
    "Rows: {added} new, {changed} changed, {same} stand here already; {left} left out, not the supplier's to say.",
)
TAKEN_STATE = marked("catalog file", "Taken. Below is what it did.")
KNOWN = marked("catalog file", "This very file was taken before: there is nothing left to change.")
SAME = marked("catalog file", "All of it stands here already; taking it only notes the number.")
OURS = marked("catalog file", "It touches what you wrote down yourselves: {what}. Look at these first.")
JOBS = marked("catalog file", "kept jobs: {count}")
OUTCOMES = marked("catalog file", "outcomes: {count}")
STRANGE = marked(
    "catalog file",
    "Files are taken of {known}. If it is from one of them, it was changed or damaged on the way: ask for it again.",
)
NOBODY_KNOWN = marked("catalog file", "No supplier is trusted yet: “Trust a supplier…” adds the first.")
QUESTION = marked("catalog file", "Take catalog file {number} of {supplier}? {what}. {after}")
OLDER_QUESTION = marked(
    "catalog file", "Take catalog file {number} of {supplier} although number {last} was taken? {what}. {after}"
)
COPIED_UNDONE = marked("catalog file", "A copy is made first; Ctrl+Z takes it back.")
COPIED = marked("catalog file", "A copy is made first: it is the way back, for so many rows are too many for Ctrl+Z.")
UNDONE = marked("catalog file", "Ctrl+Z takes it back.")
NO_WAY_BACK = marked("catalog file", "So many rows are too many for Ctrl+Z.")
COUNTED = {
    LineKind.ADDED: marked("catalog file", "{count} added"),
    LineKind.CHANGED: marked("catalog file", "{count} changed"),
    LineKind.WITHDRAWN: marked("catalog file", "{count} withdrawn"),
}
NO_CHANGE = marked("catalog file", "nothing changes")
TAKEN = marked("catalog file", "Catalog file {number} of {supplier} is taken: {what}. {after}")
TAKEN_ANEW_STATE = marked(
    "catalog file", "Taken. The catalog was changed meanwhile: below is what it would have done before that."
)
NOT_AS_SHOWN = marked(
    "catalog file", "the catalog was changed meanwhile, so it was compared anew; rows changed: {rows}"
)
COPY_IS = marked("catalog file", "Copy made before: {name}.")
MORE = marked("catalog file", "and {count} more")
IN_USE = marked("catalog file", "{supplier} no. {number}")
# House rules: so much of a line is read in a list, and beside it.
_FIRST_WORDS, _MOST_WORDS, _MOST_IN_USE = 3, 200, 2


def told(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("catalog file", template)).format(**values)


def title_text(looked: LookedAt) -> str:
    """Return what the file is, as a heading."""
    return told(TITLE, title=looked.title, number=looked.number, supplier=looked.supplier)


def about_text(looked: LookedAt) -> str:
    """Return who signed the file, which one it is, how many of its rows do what, and the fingerprint of the keys."""
    plan = looked.update.plan
    which = told(FIRST if looked.last_number is None else LATER, number=looked.number, last=looked.last_number)
    rows = {"added": len(plan.added), "changed": len(plan.changed), "same": looked.same, "left": looked.left_out}
    parts = (
        told(SIGNED, supplier=looked.supplier, which=which),
        told(LEFT_OUT if looked.left_out else ROWS, **{name: f"{count:,}" for name, count in rows.items()}),
        told(FINGERPRINT, fingerprint=looked.fingerprint),
    )
    return "\n".join(parts)


def state_text(looked: LookedAt) -> str:
    """Return in one or two sentences what must be known before the file is taken; empty where nothing must."""
    if looked.too_old:
        return looked.too_old
    if looked.changes_nothing:
        return told(KNOWN if looked.is_known else SAME)
    ours = ours_text(counts(looked.lines))
    return told(OURS, what=ours) if ours else ""


def ours_text(found: Counter[LineKind]) -> str:
    """Return how much of the shop's own is touched; empty where nothing is."""
    parts = ((JOBS, found[LineKind.JOB]), (OUTCOMES, found[LineKind.OUTCOME]))
    return ", ".join(told(template, count=f"{count:,}") for template, count in parts if count)


def refused_text(refused: Refused) -> str:
    """Return what may be behind a file that is not taken; empty where the reason says it all."""
    if not refused.is_strange:
        return ""
    return told(STRANGE, known=", ".join(refused.known)) if refused.known else told(NOBODY_KNOWN)


def counted_text(looked: LookedAt) -> str:
    """Return how much is added, changed and withdrawn, in one line."""
    found = counts(looked.lines)
    parts = [told(template, count=f"{found[kind]:,}") for kind, template in COUNTED.items() if found[kind]]
    return ", ".join(parts) or told(NO_CHANGE)


def question_text(looked: LookedAt) -> str:
    """Return what is asked before the file is taken."""
    after = {
        (True, True): COPIED_UNDONE,
        (True, False): COPIED,
        (False, True): UNDONE,
        (False, False): NO_WAY_BACK,
    }[looked.is_copied_first, looked.can_be_undone]
    values = {"number": looked.number, "supplier": looked.supplier, "last": looked.last_number}
    template = OLDER_QUESTION if looked.too_old else QUESTION
    return told(template, **values, what=counted_text(looked), after="" if looked.changes_nothing else told(after))


def taken_text(taken: TakenFile) -> str:
    """Return what was done, and the way back."""
    looked = taken.looked
    after = [told(COPY_IS, name=taken.copy_name)] if taken.copy_name else []
    if taken.can_be_undone:
        after.append(told(UNDONE))
    what = counted_text(looked) if taken.is_as_shown else told(NOT_AS_SHOWN, rows=f"{taken.plan.rows:,}")
    values = {"number": looked.number, "supplier": looked.supplier, "what": what}
    return told(TAKEN, **values, after=" ".join(after)).strip()


def in_use_text(files: Sequence[InUse]) -> str:
    """Return which files the catalog rests on, short enough for the status line; empty without any."""
    parts = [told(IN_USE, supplier=one.supplier, number=one.number) for one in files[:_MOST_IN_USE]]
    if len(files) > _MOST_IN_USE:
        parts.append(told(MORE, count=len(files) - _MOST_IN_USE))
    return ", ".join(parts)


def summary_text(line: FileLine) -> str:
    """Return the first few things there are to say of a line."""
    first = [say(one) for one in islice(line.words(), _FIRST_WORDS)]
    if not first:
        return told(MEANS[line.kind]) if MEANS[line.kind] else ""
    left = len(line.told) + len(line.changes) - len(first)
    if left > 0:
        first.append(told(MORE, count=left))
    return "; ".join(first)


def detail_text(line: FileLine) -> str:
    """Return all there is to say of a line, one thing below the other."""
    words = [say(one) for one in line.words()]
    shown = words[:_MOST_WORDS]
    if len(words) > len(shown):
        shown.append(told(MORE, count=len(words) - len(shown)))
    return "\n".join(part for part in (told(MEANS[line.kind]) if MEANS[line.kind] else "", *shown) if part)


def line_text(line: FileLine) -> str:
    """Return the whole row as one line."""
    return f"{told(KINDS[line.kind])}: {say(line.called)}. {summary_text(line)}".strip()
