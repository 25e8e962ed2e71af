"""Once a week one of the copies, picked at random, is opened as a restore would open it, and every row of it is read.

A check sum only says that a file is what was written; this says that the program of today can still work from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from random import SystemRandom

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.services.kept_copies import KeptCopy, Kind
from xref_app.store.engine import open_engine
from xref_app.store.errors import StoreError
from xref_app.store.health import check_store


def is_trial_due(copies: Sequence[KeptCopy], today: str) -> bool:
    """Say whether no daily copy was made yet in the week of ``today`` (ISO 8601 weeks): the first one tries another."""
    this_week = date.fromisoformat(today).isocalendar()[:2]
    return all(date.fromisoformat(one.day).isocalendar()[:2] != this_week for one in copies if one.kind is Kind.DAILY)


def tried_copy(copies: Sequence[KeptCopy], progress: Progress = NO_PROGRESS) -> str:
    """Return in one sentence what is wrong with one of ``copies``; empty where it is whole, or there is none.

    Raises:
        WorkCancelledError: nobody waits any more.
    """
    if not copies:
        return ""
    copy = SystemRandom().choice(list(copies))
    try:
        store = open_engine(copy.path, look_only=True)
        try:
            is_whole = check_store(store, progress).is_whole
        finally:
            store.dispose()
    except StoreError:
        is_whole = False
    if is_whole:
        return ""
    return f"The copy “{copy.path.name}” was tried and is damaged – it is not used; see whether the disk is failing."
