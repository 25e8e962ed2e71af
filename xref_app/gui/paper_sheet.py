"""The print page: which sheet, on which paper, to which printer; below it the pages as they come out."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.paper_view import PaperView
from xref_app.gui.rows import QuietListView, named
from xref_app.gui.theme import Look
from xref_app.sheets.page import Paper
from xref_app.sheets.sheet_page import SheetPage


class SheetKind(StrEnum):
    """What can be printed."""

    FIT = "fit"
    GAUGE = "gauge"
    CARD = "card"
    LABEL = "label"


# So much of a printer's name is always seen; the list that drops has it whole. House rule.
_PRINTER_LETTERS = 12
PAPERS = (Paper.A4, Paper.LETTER)


class PaperSheet(QWidget):
    """Shows pages and says what was pressed; everything else is done by the part that owns it."""

    kind_chosen = Signal(object)
    paper_chosen = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "paper_sheet_page", self.tr("Print"))
        self._look = look
        self.view = PaperView(look, self)
        self.title = heading_label(self, "paper_title_label", "")
        self.printer_line = quiet_label(self, "paper_printer_label")
        self._kinds, self._kind_buttons = self._group(
            (
                (SheetKind.FIT, self.tr("Fit sheet")),
                (SheetKind.GAUGE, self.tr("Paper gauge")),
                (SheetKind.CARD, self.tr("Question card")),
                (SheetKind.LABEL, self.tr("Shelf label")),
            )
        )
        self._papers, self._paper_buttons = self._group(tuple((one, one.word) for one in PAPERS))
        self.printers = named(QComboBox(self), "paper_printer_choice", self.tr("Printer"))
        self.printers.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.printers.setMinimumContentsLength(_PRINTER_LETTERS)
        # In the list that drops a letter is no command: a scanner types letters.
        self.printers.setView(named(QuietListView(self), "paper_printer_list", self.tr("Printers")))
        self.print_button = self._button("print", self.tr("Print"))
        self.save_button = self._button("save", self.tr("Save a PDF…"))
        self.leave_button = self._button("leave", self.tr("Back  Esc"))
        self._lay_out()
        self._kinds.idClicked.connect(lambda place: self.kind_chosen.emit(tuple(SheetKind)[place]))
        self._papers.idClicked.connect(lambda place: self.paper_chosen.emit(PAPERS[place]))
        self.view.page_changed.connect(self._show_title)
        self._about = ""
        self.show_printers(None)

    def _group(self, choices: Sequence[tuple[SheetKind | Paper, str]]) -> tuple[QButtonGroup, tuple[QPushButton, ...]]:
        group, buttons = QButtonGroup(self), []
        for place, (choice, text) in enumerate(choices):
            name = choice.value if isinstance(choice, SheetKind) else choice.name.lower()
            button = self._button(name, text)
            button.setCheckable(True)
            group.addButton(button, place)
            buttons.append(button)
        return group, tuple(buttons)

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), f"paper_{name}_button", text)
        button.setProperty("small", "true")
        return button

    def _lay_out(self) -> None:
        first, second = QHBoxLayout(), QHBoxLayout()
        for button in self._kind_buttons:
            first.addWidget(button)
        first.addStretch(1)
        for button in self._paper_buttons:
            second.addWidget(button)
        second.addStretch(1)
        for widget in (self.printers, self.print_button, self.save_button, self.leave_button):
            second.addWidget(widget)
        top = QFrame(self)
        top.setObjectName("paper_top_frame")
        top.setProperty("pane", "true")
        lines = QVBoxLayout(top)
        lines.setContentsMargins(10, 6, 10, 6)
        lines.setSpacing(6)
        lines.addLayout(first)
        lines.addLayout(second)
        lines.addWidget(self.title)
        lines.addWidget(self.printer_line)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(6)
        whole.addWidget(top)
        whole.addWidget(self.view, 1)

    def show_choice(self, kind: SheetKind, paper: Paper, *, has_label: bool, has_pump: bool) -> None:
        """Mark what is chosen; a label is offered only where a place of the shelf was chosen, the others of a pump."""
        for button, one in zip(self._kind_buttons, SheetKind, strict=True):
            button.setVisible(has_label if one is SheetKind.LABEL else has_pump)
            button.setChecked(one is kind)
        for place, button in enumerate(self._paper_buttons):
            button.setChecked(PAPERS[place] is paper)
            button.setVisible(kind is not SheetKind.LABEL)

    def show_pages(self, pages: Sequence[SheetPage], about: str) -> None:
        """Show the pages of what ``about`` names; without pages nothing can be printed, and ``about`` says why."""
        self._about = about
        self.view.show_pages(pages)
        self.save_button.setEnabled(bool(pages))
        self._set_print()
        self._show_title()

    def show_printers(self, names: Sequence[str] | None) -> None:
        """Offer these printers; with none say what to do instead, with None that they are being looked for."""
        chosen = self.printers.currentText()
        self.printers.clear()
        self.printers.addItems(list(names or ()))
        self.printers.setVisible(bool(names))
        if names and chosen in names:
            self.printers.setCurrentText(chosen)
        if names is None:
            self.printer_line.setText(self.tr("Looking for printers…"))
        else:
            none = self.tr("No printer found: save a PDF, or show it on the screen.")
            self.printer_line.setText("" if names else none)
        self.printer_line.setVisible(not names)
        self._set_print()

    def focus_act(self) -> None:
        """Put the keys on what to press next: Print, or Save where there is no printer."""
        button = self.print_button if self.print_button.isEnabled() else self.save_button
        (button if button.isEnabled() else self.view).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def step_pane(self, _step: int = 1) -> None:
        """Go between the pages and the buttons."""
        if self.view.hasFocus():
            self.focus_act()
        else:
            self.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _set_print(self) -> None:
        self.print_button.setEnabled(bool(self.view.pages) and self.printers.count() > 0)

    def _show_title(self) -> None:
        count = len(self.view.pages)
        page = self.tr("page {page} of {pages}").format(page=self.view.current + 1, pages=count)
        self.title.setText(f"{self._about}  {page}" if count else self._about)
