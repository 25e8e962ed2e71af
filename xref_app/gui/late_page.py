"""A page of the bench that is built when it is first wanted: a sheet has many fields, and the window starts fast."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtWidgets import QStackedWidget, QWidget

P = TypeVar("P", bound=QWidget)


class LatePage(Generic[P]):
    """Holds one page of ``pages``."""

    def __init__(self, pages: QStackedWidget, build: Callable[[], P], connect: Callable[[P], None]) -> None:
        """Make it; ``build`` makes the page, and ``connect`` joins it to the rest, both once."""
        self._pages, self._build, self._connect = pages, build, connect
        self._page: P | None = None

    @property
    def page(self) -> P:
        """Return the page, built now if it is not there yet."""
        if self._page is None:
            self._page = self._build()
            self._pages.addWidget(self._page)
            self._connect(self._page)
        return self._page

    @property
    def is_built(self) -> bool:
        """Say whether the page is there."""
        return self._page is not None

    @property
    def is_shown(self) -> bool:
        """Say whether the page is in front."""
        return self._page is not None and self._pages.currentWidget() is self._page
