"""One pump on one machine, both named by entry, number or model: to be judged, or drawn."""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.errors import XrefError
from xref_app.core.fit.finding import Judgement
from xref_app.core.plan.judge import judge_each
from xref_app.services.called import entries_called
from xref_app.services.catalog import Catalog
from xref_app.services.judge_candidates import Question, question
from xref_app.services.machine_side import job_values
from xref_app.services.past_fits import past_fits


class NotNamedError(XrefError):
    """A name that fits no entry of the catalog, or several.

    Attributes:
        name: What was given.
        entries: The entries it could mean.
    """

    def __init__(self, kind: str, name: str, entries: tuple[str, ...]) -> None:
        self.name = name
        self.entries = entries
        if entries:
            found = f"means {len(entries)} entries: {', '.join(entries)} – name one of them."
        else:
            found = "is in no entry of the catalog – look it up with find."
        super().__init__(f"{kind} “{name}” {found}")


def judge_named(catalog: Catalog, *, machine: str, pump: str) -> Judgement:
    """Return the judgement of ``pump`` on ``machine``.

    Raises:
        NotNamedError: a name fits no entry, or several.
    """
    asked = question_named(catalog, machine=machine, pump=pump)
    return judge_each(asked.cases, asked.contradicted)


def question_named(catalog: Catalog, *, machine: str, pump: str) -> Question:
    """Return the cases of ``pump`` on ``machine``, and what happened with the two before.

    Raises:
        NotNamedError: a name fits no entry, or several.
    """
    machine_id = _entry_id(catalog, "machine", machine)
    pump_id = _entry_id(catalog, "pump", pump)
    past = past_fits(catalog, [machine_id]).get(pump_id, ())
    return replace(question(catalog, job_values(catalog, None, machine_id), pump_id), past=past)


def _entry_id(catalog: Catalog, kind: str, name: str) -> str:
    """Return the entry of that id, else the one with exactly that number or model (case apart)."""
    entry = catalog.entries.get(name)
    if entry is not None and entry.kind == kind:
        return name
    found = tuple(one for one in entries_called(catalog, name) if catalog.entries[one].kind == kind)
    if len(found) != 1:
        raise NotNamedError(kind, name, found)
    return found[0]
