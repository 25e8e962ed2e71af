"""The sheet "Export": what leaves, in which form, and afterwards where it lies and what was left out."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QButtonGroup, QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label, plain_label
from xref_app.gui.rows import named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look

# House rule: nobody types more.
_LONGEST_IDS = 2_000


class What(StrEnum):
    """What leaves."""

    ALL = "all"
    JOB = "job"
    THESE = "these"


class Form(StrEnum):
    """In which form it leaves."""

    FOLDER = "folder"
    WORKBOOK = "workbook"


class ExportSheet(QWidget):
    """Holds what is chosen; it writes nothing itself."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "export_sheet_page", self.tr("Export the catalog"))
        self._look, self._is_sample = look, False
        self._whats, self._what_buttons = self._group(
            (
                (What.ALL, self.tr("Whole catalog")),
                (What.JOB, self.tr("Open job only")),
                (What.THESE, self.tr("These entries")),
            )
        )
        self._forms, self._form_buttons = self._group(
            ((Form.FOLDER, self.tr("Folder for another program")), (Form.WORKBOOK, self.tr("Workbook to look at")))
        )
        self.shelf_button = self._button("shelf", self.tr("With shelf and used units"))
        self.shelf_button.setCheckable(True)
        self.ids = named(QLineEdit(self), "export_ids_line", self.tr("Entries, such as P-001, M-004"))
        self.ids.setPlaceholderText(self.tr("ids of entries, such as P-001, M-004"))
        self.ids.setMaxLength(_LONGEST_IDS)
        self.means = plain_label(self, "export_means_label")
        self.state = heading_label(self, "export_state_label", "")
        self.write_button = self._button("write", self.tr("Choose where, and write…"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self._lay_out()
        self._whats.idClicked.connect(self._explain)
        self._forms.idClicked.connect(self._explain)
        self.shelf_button.toggled.connect(self._explain)
        self.ids.returnPressed.connect(self.write_button.setFocus)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.begin(has_job=False, is_sample=False)

    def _group(self, choices: Sequence[tuple[What | Form, str]]) -> tuple[QButtonGroup, tuple[QPushButton, ...]]:
        group, buttons = QButtonGroup(self), []
        for place, (choice, text) in enumerate(choices):
            button = self._button(choice.value, text)
            button.setCheckable(True)
            group.addButton(button, place)
            buttons.append(button)
        buttons[0].setChecked(True)
        return group, tuple(buttons)

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), f"export_{name}_button", text)
        button.setProperty("small", "true")
        return button

    def _lay_out(self) -> None:
        pane = QFrame(self)
        pane.setObjectName("export_pane_frame")
        pane.setProperty("pane", "true")
        above, below = column_above_column(pane, "export_pane_area")
        above.addWidget(heading_label(self, "export_title_label", self.tr("Export the catalog")))
        above.addLayout(_row((*self._what_buttons, self.shelf_button)))
        above.addWidget(self.ids)
        above.addLayout(_row(self._form_buttons))
        above.addWidget(self.means)
        above.addStretch(1)
        # Never scrolled out of sight.
        below.addWidget(self.state)
        below.addLayout(_row((self.write_button, self.leave_button)))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(pane)

    # -- what is chosen

    @property
    def what(self) -> What:
        """Return what leaves."""
        return tuple(What)[self._whats.checkedId()]

    @property
    def form(self) -> Form:
        """Return in which form."""
        return tuple(Form)[self._forms.checkedId()]

    @property
    def with_shelf(self) -> bool:
        """Say whether what lies in the shop leaves too."""
        return self.shelf_button.isChecked()

    def begin(self, *, has_job: bool, is_sample: bool) -> None:
        """Offer the open job only where there is one; what was chosen before stays where it can."""
        self._is_sample = is_sample
        job_button = self._what_buttons[tuple(What).index(What.JOB)]
        job_button.setEnabled(has_job)
        if job_button.isChecked() and not has_job:
            self._what_buttons[0].setChecked(True)
        self.say_state("")
        self._explain()

    def say_state(self, words: str) -> None:
        """Say what became of it; empty takes it away."""
        self.state.setText(words)
        self.state.setVisible(bool(words))

    @Slot()
    def _explain(self) -> None:
        what = {
            What.ALL: self.tr("All entries, listed parts and what happened."),
            What.JOB: self.tr("The pump and the machine of the open job and the pump chosen for it."),
            What.THESE: self.tr("The entries typed above; a machine brings its engine and the pump that was on it."),
        }
        form = {
            Form.FOLDER: self.tr("A folder of CSV files that this program, or any other, reads again."),
            Form.WORKBOOK: self.tr("One file for a spreadsheet; this program does not read it again as a catalog."),
        }
        shelf = (
            self.tr("Shelf, reservations and used units go with it.")
            if self.with_shelf
            else self.tr("What lies in the shop, and for whom, stays here.")
        )
        lines = (
            what[self.what],
            shelf,
            form[self.form],
            self.tr("Pictures stay here. All of this catalog is made up.")
            if self._is_sample
            else self.tr("Pictures stay here, and so does the made-up sample."),
        )
        self.means.setText("\n".join(lines))
        self.ids.setEnabled(self.what is What.THESE)

    # -- going about

    def step_pane(self, step: int) -> None:
        """Go between what leaves, in which form, and the writing."""
        places = (self._checked(self._whats), self._checked(self._forms), self.write_button)
        focus = self.window().focusWidget()
        groups: tuple[tuple[QWidget, ...], ...] = (
            (*self._what_buttons, self.shelf_button, self.ids),
            self._form_buttons,
            (self.write_button, self.leave_button),
        )
        here = next((place for place, group in enumerate(groups) if focus in group), -1)
        places[(here + step) % len(places)].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _checked(self, group: QButtonGroup) -> QWidget:
        return group.button(group.checkedId())

    def focus_first(self) -> None:
        """Put the keys on what leaves."""
        self._checked(self._whats).setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _resize_to_text(self) -> None:
        self.ids.setMinimumHeight(self._look.px(32))


def _row(widgets: Sequence[QWidget]) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(6)
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    return row
