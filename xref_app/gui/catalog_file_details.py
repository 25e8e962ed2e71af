"""Beside the list of a catalog file: what the file does to the chosen line, in full, and the acts."""

from __future__ import annotations

from html import escape

from PySide6.QtWidgets import QHBoxLayout, QTextBrowser, QVBoxLayout, QWidget

from xref_app.gui.catalog_file_words import KINDS, detail_text, told
from xref_app.gui.folding_sheet import SideDetails
from xref_app.gui.messages import say
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.catalog_file_lines import FileLine

# House rule: looks only.
_WIDTH_PX = 420
# One line of the largest text.
_LEAST_VIEW_PX = 48


class LineView(QTextBrowser):
    """Plain reading text, reachable by keyboard, however long it is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "catalog_line_view", self.tr("The chosen line in full"))
        self.setOpenLinks(False)
        self.setTabChangesFocus(True)
        self.document().setDocumentMargin(6)
        self._line: FileLine | None = None
        self._more = ""

    def show_line(self, line: FileLine | None) -> None:
        """Show what the file does to this line; None shows that none is chosen."""
        self._line = line
        self._tell()

    def show_more(self, more: str) -> None:
        """Show these lines below it, or in its place where no line is chosen."""
        self._more = more
        self._tell()

    def _tell(self) -> None:
        line = self._line
        title = "" if line is None else f"{told(KINDS[line.kind])}: {say(line.called)}"
        parts = [f"<p style='margin:0 0 4px 0; font-weight:600'>{escape(title)}</p>"] if title else []
        texts = ("" if line is None else detail_text(line), self._more)
        parts += [_paragraph(text) for text in texts if text]
        self.setHtml("".join(parts))
        self.setAccessibleDescription(self.toPlainText())


def _paragraph(text: str) -> str:
    return "<p style='margin:0 0 8px 0'>" + "<br>".join(map(escape, text.splitlines())) + "</p>"


class CatalogFileDetails(SideDetails):
    """The chosen line, and the acts."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="catalog", width_px=_WIDTH_PX)
        named(self, "catalog_details_frame", self.tr("The chosen line"))
        self.view = LineView(self)
        self.job_button = self._button("job", self.tr("Open this job  Enter"))
        self.although_button = self._button("although", self.tr("Take it although it is older…"))
        self.trust_button = self._button("trust", self.tr("Trust a supplier…"))
        self.take_button = self._button("take", self.tr("Take it…  F12"))
        self.choose_button = self._button("choose", self.tr("Choose a file…"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self.back_button = self._button("back", self.tr("Back to the list  F6"))
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        whole = QVBoxLayout(self)
        whole.setContentsMargins(4, 4, 4, 8)
        whole.setSpacing(6)
        whole.addWidget(self.view, 1)
        buttons = QVBoxLayout()
        buttons.setContentsMargins(6, 0, 6, 0)
        buttons.setSpacing(6)
        for button in (self.back_button, self.job_button, self.although_button, self.trust_button):
            buttons.addWidget(button)
        buttons.addWidget(self.take_button)
        pair = QHBoxLayout()
        pair.setSpacing(6)
        pair.addWidget(self.choose_button, 1)
        pair.addWidget(self.leave_button, 1)
        buttons.addLayout(pair)
        whole.addLayout(buttons)
        self.view.setMinimumHeight(_LEAST_VIEW_PX)

    def set_folded(self, *, is_folded: bool) -> None:
        """Take the whole width alone, with a way back; or stand at the right."""
        self._is_folded = is_folded
        self.back_button.setVisible(is_folded)
        self._resize_to_text()

    def show_line(self, line: FileLine | None) -> None:
        """Show what the file does to this line; None shows that none is chosen."""
        self.view.show_line(line)
        self.job_button.setVisible(line is not None and line.job is not None)

    @property
    def acts(self) -> tuple[QWidget, ...]:
        """Return the buttons that can be pressed now, the likeliest first."""
        buttons = (
            self.although_button,
            self.trust_button,
            self.take_button,
            self.job_button,
            self.choose_button,
            self.leave_button,
        )
        return tuple(one for one in buttons if one.isEnabled() and one.isVisibleTo(self))
