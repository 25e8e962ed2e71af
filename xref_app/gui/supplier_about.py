"""What is said of a supplier's list as a whole: whose it is, what it lists, how its values are known."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QStringListModel, Qt, Signal, Slot
from PySide6.QtWidgets import QCompleter, QGridLayout, QLabel, QLineEdit, QWidget

from xref_app.gui.heading_rows_line import HeadingRowsLine
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.quiet_combo import QuietCombo
from xref_app.gui.rows import named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.supplier_words import (
    HOW_TO_READ,
    HOWS,
    KINDS,
    MARKS,
    SEPARATORS,
    WRITES_NOTHING,
    heading_rows_text,
    read_as_text,
    told,
)
from xref_app.gui.theme import Look
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_import import LONGEST_SUPPLIER
from xref_app.services.supplier_preview import Preview

# House rule: looks only.
_HEIGHT_PX = 32


class SupplierAbout(QWidget):
    """Tells each thing that is said; shows nothing that was not looked at yet."""

    supplier_said = Signal(str)
    supplier_entered = Signal()
    kind_said = Signal(object)
    how_said = Signal(str)
    sheet_said = Signal(int)
    separator_said = Signal(str)
    headings_said = Signal(str)
    decimals_said = Signal(object)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "supplier_about_page", self.tr("The whole list"))
        self._look = look
        self._supplier = ""
        self.line = named(QLineEdit(self), "supplier_name_line", self.tr("Supplier"))
        self.line.setMaxLength(LONGEST_SUPPLIER)
        self.line.setPlaceholderText(self.tr("whose list is it?"))
        self._suppliers = QStringListModel(self)
        completer = QCompleter(self._suppliers, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        # In the line itself: a box that drops down would take an Enter.
        completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
        self.line.setCompleter(completer)
        self._known = quiet_label(self, "supplier_known_label")
        self.kind_combo = QuietCombo(self, "supplier_kind_combo", self.tr("What it lists"))
        self.how_combo = QuietCombo(self, "supplier_how_combo", self.tr("How its values are known"))
        self.sheet_combo = QuietCombo(self, "supplier_sheet_combo", self.tr("Sheet of the workbook"))
        self.separator_combo = QuietCombo(self, "supplier_separator_combo", self.tr("What parts its cells"))
        self.headings_line = HeadingRowsLine("supplier_headings_line", self)
        self.decimals_combo = QuietCombo(self, "supplier_decimals_combo", self.tr("Decimal mark of the whole list"))
        self._read_as = quiet_label(self, "supplier_read_as_label")
        self._labels: dict[QWidget, QLabel] = {}
        self._lay_out()
        self._connect()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_preview(None, ())

    def _lay_out(self) -> None:
        above, _below = column_above_column(self, "supplier_about_area")
        above.addWidget(heading_label(self, "supplier_about_label", self.tr("The whole list")))
        rows = QGridLayout()
        rows.setHorizontalSpacing(8)
        rows.setVerticalSpacing(6)
        rows.setColumnStretch(1, 1)
        fields: tuple[tuple[QWidget, str], ...] = (
            (self.line, self.tr("Supplier")),
            (self.kind_combo, self.tr("It lists")),
            (self.how_combo, self.tr("Its values are")),
            (self.sheet_combo, self.tr("Sheet")),
            (self.separator_combo, self.tr("Cells parted by")),
            (self.headings_line, self.tr("Headings in rows")),
            (self.decimals_combo, self.tr("Decimal mark")),
        )
        for place, (field, words) in enumerate(fields):
            label = self._labels[field] = QLabel(words, self)
            label.setObjectName(f"{field.objectName().rpartition('_')[0]}_label")
            label.setBuddy(field)
            rows.addWidget(label, place, 0)
            rows.addWidget(field, place, 1)
        above.addLayout(rows)
        above.addWidget(self._known)
        above.addWidget(self._read_as)
        above.addWidget(plain_label(self, "supplier_nothing_label", told(WRITES_NOTHING)))
        above.addStretch(1)

    def _connect(self) -> None:
        self.line.editingFinished.connect(self._tell_supplier)
        self.line.returnPressed.connect(self._enter_supplier)
        self.kind_combo.activated.connect(lambda _place: self.kind_said.emit(self.kind_combo.currentData()))
        self.how_combo.activated.connect(lambda _place: self.how_said.emit(str(self.how_combo.currentData())))
        self.sheet_combo.activated.connect(lambda _place: self.sheet_said.emit(int(self.sheet_combo.currentData())))
        self.separator_combo.activated.connect(
            lambda _place: self.separator_said.emit(str(self.separator_combo.currentData()))
        )

        self.headings_line.rows_said.connect(self.headings_said)
        self.decimals_combo.activated.connect(lambda _place: self.decimals_said.emit(self.decimals_combo.currentData()))

    def show_preview(self, preview: Preview | None, suppliers: Sequence[str]) -> None:
        """Show what is said of this list; what is just being typed stays."""
        self._suppliers.setStringList(list(suppliers))
        self._known.setText(self.tr("Read before: {names}.").format(names=", ".join(suppliers[:5])))
        self._known.setVisible(bool(suppliers))
        for field in self._labels:
            self._show_field(field, is_shown=preview is not None)
        self._read_as.setText(told(HOW_TO_READ))
        if preview is not None:
            self._show_said(preview)

    def _show_said(self, preview: Preview) -> None:
        said, file = preview.said, preview.file
        self._supplier = said.supplier
        if not (self.line.isModified() and self.line.hasFocus()):
            self.line.setText(said.supplier)
        self.kind_combo.show_choices(((one, told(KINDS[one])) for one in SheetKind), said.columns.kind)
        self.how_combo.show_choices(((one, told(words)) for one, words in HOWS.items()), said.how)
        sheets = ((place, sheet.name or str(place + 1)) for place, sheet in enumerate(file.sheets))
        self.sheet_combo.show_choices(sheets, said.sheet)
        self._show_field(self.sheet_combo, is_shown=len(file.sheets) > 1)
        self.separator_combo.show_choices(((one, told(words)) for one, words in SEPARATORS.items()), file.separator)
        self._show_field(self.separator_combo, is_shown=file.separator in SEPARATORS)
        self.headings_line.show_rows(heading_rows_text(said.columns))
        self.decimals_combo.show_choices(((one, told(words)) for one, words in MARKS.items()), said.columns.decimals)
        self._read_as.setText(read_as_text(preview))

    def _show_field(self, field: QWidget, *, is_shown: bool) -> None:
        field.setVisible(is_shown)
        self._labels[field].setVisible(is_shown)

    @Slot()
    def _tell_supplier(self) -> None:
        typed = self.line.text().strip()
        if typed != self._supplier:
            self._supplier = typed
            self.supplier_said.emit(typed)

    @Slot()
    def _enter_supplier(self) -> None:
        """Go on: the line is left, and tells what was typed."""
        self.line.setModified(False)
        if self.line.text().strip():
            self.supplier_entered.emit()

    @Slot()
    def _resize_to_text(self) -> None:
        for field in self._labels:
            field.setMinimumHeight(self._look.px(_HEIGHT_PX))
