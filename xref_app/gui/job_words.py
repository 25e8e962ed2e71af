"""The words in which kept jobs are told."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QCoreApplication

from xref_app.core.sentence import marked
from xref_app.gui.messages import verdict_word
from xref_app.services.job_lines import JobLine

NO_REFERENCE = marked("jobs", "no reference")
NO_PUMP = marked("jobs", "no pump chosen")


def said(template: str) -> str:
    """Return marked words in the person's language."""
    return str(QCoreApplication.translate("jobs", template))


def when_text(changed_at: str) -> str:
    """Return a moment (ISO 8601) on the clock of the shop, like 2026-11-25 14:05; what is none is told as it is."""
    try:
        moment = datetime.fromisoformat(changed_at)
    except ValueError:
        return changed_at
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"


def verdict_text(line: JobLine) -> str:
    """Return the verdict on the pump chosen as it was told, or an empty text."""
    return "" if line.verdict is None else verdict_word(line.verdict)


def line_text(line: JobLine) -> str:
    """Return the whole line for who cannot see the table."""
    job = line.job
    parts = (
        when_text(job.changed_at),
        job.reference or said(NO_REFERENCE),
        line.about,
        job.chosen_number or said(NO_PUMP),
        verdict_text(line),
        line.outcome,
    )
    return ", ".join(part for part in parts if part)
