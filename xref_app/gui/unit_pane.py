"""What the unit on the bench is, who measured it, what it could be, and the way to save it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QMimeData, QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.messages import field_title, say
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, RowsModel, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.bench import BenchView
from xref_app.services.duplicates import Duplicate
from xref_app.services.size_search import SizeHit
from xref_app.services.unit_draft import Heading, UnitDraft, UnitKind

_WIDTH_PX, _LONGEST_TEXT = 330, 400
_PICTURES = "*.jpg *.jpeg *.png *.webp *.bmp *.gif"


class HitsModel(RowsModel[SizeHit]):
    """Entries that the readings do not contradict."""

    def words(self, row: SizeHit) -> str:
        """Return number, maker and what agrees."""
        said = f"{row.number}  {row.maker}".strip()
        titles = ", ".join(field_title(one) for one in row.agreeing)
        return self.tr("{entry}: {titles} agree").format(entry=said, titles=titles) if row.agreeing else said


class UnitPane(QFrame):
    """Headings, photos, look-alikes and the save; every heading is written down when the field is left."""

    written = Signal(str, str)
    who_changed = Signal(str)
    kind_chosen = Signal(object)
    photos_added = Signal(list)
    save_pressed = Signal()
    leave_pressed = Signal()
    discard_pressed = Signal()
    hit_chosen = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "unit_pane_frame", self.tr("What it is"))
        self.setProperty("pane", "true")
        self.setAcceptDrops(True)
        self._look = look
        self._hits = HitsModel(self)
        self._build()
        self._lay_out()
        self._connect()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _build(self) -> None:
        self._title = heading_label(self, "unit_title_label", "")
        self.pump_button = self._button("unit_pump_button", self.tr("A pump"), is_checkable=True)
        self.machine_button = self._button("unit_machine_button", self.tr("A machine"), is_checkable=True)
        titles = {
            Heading.NUMBER: self.tr("Number"),
            Heading.MAKER: self.tr("Maker"),
            Heading.NAME: self.tr("Name"),
            Heading.NOTE: self.tr("Note"),
        }
        self.headings = {heading: self._line(f"unit_{heading}_line", title) for heading, title in titles.items()}
        self.labels = {heading: QLabel(title, self) for heading, title in titles.items()}
        self.who = self._line("unit_who_line", self.tr("Measured by"))
        self._photos = quiet_label(self, "unit_photos_label")
        self.photo_button = self._button("unit_photo_button", self.tr("Add photo…"))
        self._could_be = heading_label(self, "unit_could_be_label", "")
        self.list = named(QuietListView(self), "unit_hits_list", self.tr("What it could be"))
        self.list.setModel(self._hits)
        self.list.setWordWrap(True)
        self.list.setMinimumHeight(self._look.px(48))
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self._warnings = quiet_label(self, "unit_warnings_label")
        self._problems = quiet_label(self, "unit_problems_label")
        self.save_button = self._button("unit_save_button", self.tr("Save entry  Ctrl+S"))
        self.leave_button = self._button("unit_leave_button", self.tr("Leave  Esc"))
        self.discard_button = self._button("unit_discard_button", self.tr("Discard"))

    def _line(self, name: str, title: str) -> QLineEdit:
        line = named(QLineEdit(self), name, title)
        line.setMaxLength(_LONGEST_TEXT)
        return line

    def _button(self, name: str, text: str, *, is_checkable: bool = False) -> QPushButton:
        button = named(QPushButton(text, self), name, text)
        button.setCheckable(is_checkable)
        return button

    def _lay_out(self) -> None:
        """Lay out what is asked above, scrolling where it must; what hinders saving and the save stand below."""
        above, below = column_above_column(self, "unit_scroll_area")
        kinds = QHBoxLayout()
        kinds.addWidget(self.pump_button)
        kinds.addWidget(self.machine_button)
        above.addWidget(self._title)
        above.addLayout(kinds)
        above.addLayout(self._form())
        photos = QHBoxLayout()
        photos.addWidget(self._photos, 1)
        photos.addWidget(self.photo_button)
        above.addLayout(photos)
        for widget in (self._could_be, self._warnings):
            above.addWidget(widget)
        above.addWidget(self.list, 3)
        above.addStretch(1)
        below.addWidget(self._problems)
        below.addWidget(self.save_button)
        last = QHBoxLayout()
        last.addWidget(self.leave_button)
        last.addWidget(self.discard_button)
        below.addLayout(last)

    def _form(self) -> QGridLayout:
        form = QGridLayout()
        form.setHorizontalSpacing(8)
        form.setVerticalSpacing(4)
        who_label = QLabel(self.tr("Measured by"), self)
        rows = [(self.labels[heading], self.headings[heading]) for heading in Heading] + [(who_label, self.who)]
        for row, (label, line) in enumerate(rows):
            label.setBuddy(line)
            form.addWidget(label, row, 0)
            form.addWidget(line, row, 1)
        return form

    def _connect(self) -> None:
        for heading, line in self.headings.items():
            line.editingFinished.connect(self._tell_heading)
            line.setProperty("heading_name", heading.value)
        self.who.editingFinished.connect(self._tell_who)
        self.pump_button.clicked.connect(self._choose_pump)
        self.machine_button.clicked.connect(self._choose_machine)
        self.photo_button.clicked.connect(self._ask_photo)
        self.save_button.clicked.connect(self.save_pressed)
        self.leave_button.clicked.connect(self.leave_pressed)
        self.discard_button.clicked.connect(self.discard_pressed)
        self.list.activated.connect(self._choose_hit)

    # -- what is shown

    def show_draft(self, draft: UnitDraft, title: str) -> None:
        """Show the headings of a draft; those of an entry that is measured again are not asked."""
        self._title.setText(title)
        is_new = not draft.entry_id
        self.pump_button.setVisible(is_new)
        self.machine_button.setVisible(is_new)
        self.pump_button.setChecked(draft.kind is UnitKind.PUMP)
        self.machine_button.setChecked(draft.kind is UnitKind.MACHINE)
        self.labels[Heading.NUMBER].setText(self.tr("Number") if draft.kind is UnitKind.PUMP else self.tr("Model"))
        for heading, line in self.headings.items():
            if not line.hasFocus():
                line.setText(draft.text(heading))
            line.setVisible(is_new)
            self.labels[heading].setVisible(is_new)

    def show_view(self, view: BenchView) -> None:
        """Show what the readings say: what it could be, what it may double, what hinders saving."""
        count = len(view.draft.photos)
        self._photos.setText(self.tr("Photos: {count}. Drop files here.").format(count=count))
        self._hits.show_rows(view.hits)
        is_new = not view.draft.entry_id
        self._could_be.setVisible(is_new and bool(view.hits or view.hit_count))
        self._could_be.setText(self._could_be_text(view))
        self.list.setVisible(is_new and bool(view.hits))
        warnings = [self._same_text(one) for one in view.same_as[:2]] + [say(note) for note in view.notes]
        self._warnings.setText("\n".join(warnings))
        self._warnings.setVisible(bool(warnings))
        self._problems.setText(self._problems_text(view))
        self._problems.setVisible(bool(view.problems))

    def _problems_text(self, view: BenchView) -> str:
        said = [say(one) for one in view.problems]
        return self.tr("To save: {what}").format(what=" ".join(said)) if said else ""

    def _could_be_text(self, view: BenchView) -> str:
        if view.hit_count == 1:
            return self.tr("Could be one entry:")
        return self.tr("Could be {count} entries:").format(count=view.hit_count)

    def _same_text(self, same: Duplicate) -> str:
        if same.near_number:
            return self.tr("Already entered? {number} ({maker}) is nearly the same number.").format(
                number=same.near_number, maker=same.maker
            )
        sizes = self.tr("{count} sizes agree").format(count=len(same.agreeing))
        return self.tr("Already entered? {number} ({maker}): {sizes}.").format(
            number=same.number, maker=same.maker, sizes=sizes
        )

    # -- what is done

    @Slot()
    def _tell_heading(self) -> None:
        line = self.sender()
        if isinstance(line, QLineEdit):
            self.written.emit(str(line.property("heading_name")), line.text())

    @Slot()
    def _tell_who(self) -> None:
        self.who_changed.emit(self.who.text().strip())

    def write_all(self) -> None:
        """Tell what stands in the field that still has the focus: Ctrl+S does not leave it."""
        for heading, line in self.headings.items():
            if line.hasFocus():
                self.written.emit(heading.value, line.text())
        if self.who.hasFocus():
            self._tell_who()

    @Slot()
    def _choose_pump(self) -> None:
        self.kind_chosen.emit(UnitKind.PUMP)

    @Slot()
    def _choose_machine(self) -> None:
        self.kind_chosen.emit(UnitKind.MACHINE)

    @Slot()
    def _ask_photo(self) -> None:
        dialog = QFileDialog(
            self, self.tr("Photos of this unit"), "", self.tr("Pictures ({kinds})").format(kinds=_PICTURES)
        )
        dialog.setObjectName("unit_photo_dialog")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.filesSelected.connect(self._tell_photos)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    @Slot(list)
    def _tell_photos(self, names: list[str]) -> None:
        self.photos_added.emit([Path(name) for name in names])

    @Slot(QModelIndex)
    def _choose_hit(self, index: QModelIndex) -> None:
        hit = index.data(DOMAIN_ROLE)
        if isinstance(hit, SizeHit):
            self.hit_chosen.emit(hit)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files only."""
        if _files_of(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Add the dropped files as photos."""
        self.photos_added.emit(_files_of(event.mimeData()))
        event.acceptProposedAction()

    @property
    def wanted_width(self) -> int:
        """Return the width of the standing pane, px."""
        return self._look.px(_WIDTH_PX)

    def first_line(self) -> QLineEdit:
        """Return the field that the keys go to first."""
        return self.headings[Heading.NUMBER] if self.headings[Heading.NUMBER].isVisibleTo(self) else self.who

    @Slot()
    def _resize_to_text(self) -> None:
        for line in (*self.headings.values(), self.who):
            line.setMinimumHeight(self._look.px(32))


def _files_of(data: QMimeData) -> list[Path]:
    return [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
