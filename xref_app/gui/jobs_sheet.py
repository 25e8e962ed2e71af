"""The sheet of the jobs kept: a filter, the table, and one button that opens the chosen job as it was left."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.jobs_table import JobsModel, JobsTable
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.rows import DOMAIN_ROLE, named
from xref_app.gui.theme import Look
from xref_app.services.job_lines import JobLine, filtered, job_lines
from xref_app.services.jobs import LastJobs
from xref_app.services.kept_job import KeptJob

# House rule: nobody types more to narrow a list.
_LONGEST_FILTER = 60
_LEAST_WIDTH_PX, _LEAST_HEIGHT_PX = 300, 200


class JobsSheet(QFrame):
    """Shows the last jobs; ``reopen_asked`` carries the chosen one."""

    reopen_asked = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "jobs_sheet_page", self.tr("Jobs"))
        self.setProperty("pane", "true")
        self._look = look
        self._lines: tuple[JobLine, ...] = ()
        self._aside: tuple[str, ...] = ()
        self._model = JobsModel(self)
        self.filter = named(QLineEdit(self), "jobs_filter_line", self.tr("Find a job"))
        self.filter.setMaxLength(_LONGEST_FILTER)
        self.filter.setPlaceholderText(self.tr("reference, number, machine, verdict or day"))
        self.count = quiet_label(self, "jobs_count_label")
        self.table = named(JobsTable(look, self._model, self), "jobs_kept_table", self.tr("Jobs, newest first"))
        self.reopen_button = self._button("reopen", self.tr("Reopen  Enter"), self.tr("Reopen"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"), self.tr("Leave"))
        self._lay_out()
        self.filter.textChanged.connect(self._refilter)
        self.filter.returnPressed.connect(self._go_down)
        self.table.activated.connect(self._ask)
        self.reopen_button.clicked.connect(self._ask_current)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _button(self, name: str, text: str, accessible: str) -> QPushButton:
        button = named(QPushButton(text, self), f"jobs_{name}_button", accessible)
        button.setProperty("small", "true")
        return button

    def _lay_out(self) -> None:
        title = heading_label(self, "jobs_title_label", self.tr("Jobs"))
        title.setWordWrap(False)
        first = QHBoxLayout()
        first.setContentsMargins(10, 6, 8, 0)
        first.setSpacing(8)
        first.addWidget(title)
        first.addWidget(self.filter, 1)
        first.addWidget(self.reopen_button)
        first.addWidget(self.leave_button)
        self.count.setContentsMargins(10, 0, 8, 2)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 1, 1, 1)
        whole.setSpacing(4)
        whole.addLayout(first)
        whole.addWidget(self.count)
        whole.addWidget(self.table, 1)

    @property
    def shown(self) -> tuple[JobLine, ...]:
        """Return the jobs that the filter lets through."""
        return self._model.rows

    @property
    def chosen(self) -> KeptJob | None:
        """Return the chosen job, None where there is none."""
        line = self.table.currentIndex().data(DOMAIN_ROLE)
        return line.job if isinstance(line, JobLine) else None

    def show_jobs(self, last: LastJobs) -> None:
        """Show these jobs; the chosen one stays chosen."""
        self._lines = job_lines(last)
        self._aside = tuple(last.aside.values())
        self._refilter()

    def focus_first(self) -> None:
        """Put the keys where they are wanted first: into the list, or the filter where it is empty."""
        (self.table if self.shown else self.filter).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def step_pane(self, _step: int) -> None:
        """Go from the filter to the table and back."""
        target = self.table if self.filter.hasFocus() and self.shown else self.filter
        target.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot()
    def _refilter(self) -> None:
        before = self.chosen
        rows = filtered(self._lines, self.filter.text())
        self._model.show_rows(rows)
        self.count.setText(self._count_text(rows))
        ids = [one.job.job_id for one in rows]
        if rows:
            place = ids.index(before.job_id) if before is not None and before.job_id in ids else 0
            self.table.setCurrentIndex(self._model.index(place, 0))
        self.table.setEnabled(bool(rows))
        self.reopen_button.setEnabled(bool(rows))

    def _count_text(self, rows: tuple[JobLine, ...]) -> str:
        if not self._lines:
            text = self.tr("No job is kept yet: a job is kept by itself as soon as it has a number or a machine.")
        elif not rows:
            text = self.tr("No job holds all of that; shorten what is typed.")
        elif len(rows) == len(self._lines):
            text = self.tr("{count} kept, newest first. Enter opens one as it was left.").format(count=len(rows))
        else:
            text = self.tr("{shown} of {all} kept").format(shown=len(rows), all=len(self._lines))
        if len(self._aside) > 1:
            more = self.tr("{count} more cannot be read and are left aside as they are.")
            return f"{text} {more.format(count=len(self._aside))}"
        return " ".join((text, *self._aside))

    @Slot()
    def _go_down(self) -> None:
        if self.shown:
            self.table.setFocus(Qt.FocusReason.TabFocusReason)

    @Slot(QModelIndex)
    def _ask(self, _index: QModelIndex) -> None:
        self._ask_current()

    @Slot()
    def _ask_current(self) -> None:
        if self.chosen is not None:
            self.reopen_asked.emit(self.chosen)

    def minimumSizeHint(self) -> QSize:
        """Return the room in which the table can still be read, its lesser columns gone."""
        return QSize(self._look.px(_LEAST_WIDTH_PX), _LEAST_HEIGHT_PX)

    @Slot()
    def _resize_to_text(self) -> None:
        self.filter.setMinimumHeight(self._look.px(32))
