"""Trusting a supplier: what was told another way, typed by hand, and then the fingerprint of the keys beside it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QContextMenuEvent, QFontDatabase, QKeyEvent, QKeySequence, QMouseEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label, plain_label, quiet_label, warning_label
from xref_app.gui.rows import named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look

# A fingerprint is 64 digits in 16 groups of four; so many stand on one line here, as one reads them out.
GROUPS_IN_A_LINE, LINES = 4, 4
# House rules: a line with blanks to spare, a name; then looks only.
_LONGEST, _LONGEST_NAME = 24, 60
_LINE_PX, _NAME_PX, _WIDEST_PX = 210, 300, 760


class TypedOnlyLine(QLineEdit):
    """A line into which nothing can be pasted or dropped: what is copied from beside it proves nothing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAcceptDrops(False)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take every key but those that paste."""
        if event.matches(QKeySequence.StandardKey.Paste):
            event.accept()
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Paste nothing with the middle button either."""
        if event.button() is Qt.MouseButton.MiddleButton:
            event.accept()
        else:
            super().mouseReleaseEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer no menu: it would paste."""
        event.accept()


class TrustSheet(QWidget):
    """Holds what is typed; whether it is right is said by who adds the keys."""

    trusted = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "trust_sheet_page", self.tr("Trust a supplier"))
        self._look = look
        self._title = heading_label(self, "trust_title_label", self.tr("Trust a supplier"))
        self._ask = plain_label(
            self,
            "trust_ask_label",
            self.tr(
                "Ask the supplier for the fingerprint by telephone or on paper, never by the way the keys came. Type "
                "what you are told, line by line; beside each line stands then what the key file says."
            ),
        )
        self._file = quiet_label(self, "trust_file_label")
        self.state = warning_label(self, "trust_state_label")
        self.shown = tuple(self._shown_label(place) for place in range(LINES))
        self.typed = tuple(self._typed_line(place) for place in range(LINES))
        self.name = named(QLineEdit(self), "trust_name_line", self.tr("What you call the supplier"))
        self.name.setMaxLength(_LONGEST_NAME)
        self.trust_button = self._button("trust", self.tr("Trust this supplier  F12"))
        self.choose_button = self._button("choose", self.tr("Choose the key file…"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self._groups: list[str] = []
        self._lay_out()
        self._connect()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_keys("", "")

    def _shown_label(self, place: int) -> QLabel:
        label = QLabel(self)
        label.setObjectName(f"trust_shown_{place + 1}_label")
        label.setTextFormat(Qt.TextFormat.PlainText)
        return label

    def _typed_line(self, place: int) -> QLineEdit:
        title = self.tr("Fingerprint as told, line {number} of {lines}").format(number=place + 1, lines=LINES)
        line = named(TypedOnlyLine(self), f"trust_typed_{place + 1}_line", title)
        line.setMaxLength(_LONGEST)
        return line

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), f"trust_{name}_button", text)
        button.setProperty("small", "true")
        return button

    def _lay_out(self) -> None:
        pane = QFrame(self)
        pane.setObjectName("trust_pane_frame")
        pane.setProperty("pane", "true")
        above, below = column_above_column(pane, "trust_pane_area")
        for label in (self._title, self._ask, self._file):
            above.addWidget(label)
        above.addLayout(self._fields())
        above.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        for button in (self.trust_button, self.choose_button, self.leave_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        # Never scrolled out of sight.
        below.addWidget(self.state)
        below.addLayout(buttons)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(pane)

    def _fields(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(6)
        headings = (self.tr("In the key file"), self.tr("As the supplier told you"))
        for column, text in enumerate(headings):
            grid.addWidget(heading_label(self, f"trust_heading_{column + 1}_label", text), 0, column)
        for row, (shown, typed) in enumerate(zip(self.shown, self.typed, strict=True), start=1):
            grid.addWidget(shown, row, 0)
            grid.addWidget(typed, row, 1)
        label = plain_label(self, "trust_name_label", self.tr("What you call the supplier"))
        label.setBuddy(self.name)
        grid.addWidget(label, LINES + 1, 0)
        grid.addWidget(self.name, LINES + 1, 1)
        grid.setColumnStretch(2, 1)
        return grid

    def _connect(self) -> None:
        stops = (*self.typed, self.name, self.trust_button)
        for line, after in zip((*self.typed, self.name), stops[1:], strict=True):
            line.returnPressed.connect(after.setFocus)
        for line in self.typed:
            line.textChanged.connect(self._show_typed)
        self.trust_button.clicked.connect(self.trusted)

    # -- what is shown and typed

    @property
    def fingerprint(self) -> str:
        """Return what was typed of the fingerprint."""
        return " ".join(line.text() for line in self.typed)

    @Slot()
    def _show_typed(self) -> None:
        """Show of the key file only lines that were typed whole: read off the screen, a fingerprint proves nothing."""
        for place, (shown, typed) in enumerate(zip(self.shown, self.typed, strict=True)):
            start = place * GROUPS_IN_A_LINE
            groups = self._groups[start : start + GROUPS_IN_A_LINE]
            is_whole = len("".join(typed.text().split())) >= len("".join(groups))
            words = "  ".join(groups) if is_whole else self.tr("shown once typed")
            shown.setText(words if groups else "–")

    def show_keys(self, file_name: str, fingerprint: str) -> None:
        """Show the fingerprint of a key file, with nothing typed beside it; empty shows that none is chosen."""
        groups = self._groups = fingerprint.split()
        for typed in self.typed:
            typed.clear()
            typed.setEnabled(bool(groups))
        self._show_typed()
        self.name.setEnabled(bool(groups))
        self.trust_button.setEnabled(bool(groups))
        file = self.tr("Key file “{name}”").format(name=file_name)
        self._file.setText(file if file_name else self.tr("No key file is chosen: it is called public.pem."))
        self.say_state("")

    def say_state(self, words: str) -> None:
        """Say one sentence below the fields; empty takes it away."""
        self.state.setText(words)
        self.state.setVisible(bool(words))

    # -- going about

    def step_pane(self, step: int) -> None:
        """Go between the fingerprint, the name and the buttons."""
        places = (self.typed[0], self.name, self.trust_button, self.choose_button)
        stops = [one for one in places if one.isEnabled()]
        focus = self.window().focusWidget()
        here = stops.index(focus) if focus in stops else -1
        stops[(here + step) % len(stops)].setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot()
    def focus_first(self) -> None:
        """Put the keys where something is to be done first."""
        place = self.typed[0] if self.typed[0].isEnabled() else self.choose_button
        place.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _resize_to_text(self) -> None:
        px = self._look.px
        fixed = QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont)
        fixed.setPointSizeF(self.font().pointSizeF())
        for widget in (*self.shown, *self.typed):
            widget.setFont(fixed)
        for line in (*self.typed, self.name):
            line.setMinimumHeight(px(32))
            line.setMinimumWidth(px(_LINE_PX))
            line.setMaximumWidth(px(_NAME_PX))
        self._ask.setMaximumWidth(px(_WIDEST_PX))
