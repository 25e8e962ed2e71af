"""What SQLite does in one go for seconds (a copy, its own check) can be stopped like work of our own."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from xref_app.core.progress import NO_PROGRESS, Progress, WorkCancelledError

# House rule: after so many steps of its machine SQLite asks whether to go on; some milliseconds.
_STEPS: Final = 100_000


@contextmanager
def stoppable(connection: Connection, progress: Progress) -> Iterator[None]:
    """Have statements of ``connection`` ask ``progress`` now and then whether they are still wanted.

    Raises:
        WorkCancelledError: they are not; the statement that ran was broken off.
    """
    driver = connection.connection.driver_connection
    if progress is NO_PROGRESS or connection.dialect.name != "sqlite" or driver is None:
        yield
        return
    cancelled: list[WorkCancelledError] = []

    def is_unwanted() -> bool:
        try:
            progress.step(0, 1)
        except WorkCancelledError as error:
            cancelled.append(error)
        return bool(cancelled)

    driver.set_progress_handler(is_unwanted, _STEPS)
    try:
        yield
    except OperationalError:
        if not cancelled:
            raise
    finally:
        driver.set_progress_handler(None, 0)
    if cancelled:
        connection.invalidate()  # a copy that was broken off may still be attached to it
        raise cancelled[0]
