"""A bar in the window that asks the few things an act needs; F12 does it, Esc leaves, and nothing else is stopped."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

Answers = Mapping[str, str]
# Of its room, where the window is narrow.
_LEAST_SHARE = 0.6


@dataclass(frozen=True, slots=True)
class Blank:
    """One thing to be filled in: its name, what it is called, what stands there at first, and the room it takes, px."""

    name: str
    title: str
    text: str
    width_px: int
    longest: int


class AskBar(QFrame):
    """Hidden while nothing is asked. Enter goes on to the next blank; only F12 or the button does the act."""

    opened = Signal()

    def __init__(self, look: Look, blanks: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        """Make it with a line for each of ``blanks`` (name and title) that may ever be asked for."""
        super().__init__(parent)
        named(self, "ask_bar_frame", self.tr("What the act needs"))
        self.setProperty("notice", "true")
        self._look = look
        self._do: Callable[[Answers], None] | None = None
        self._back: QWidget | None = None
        self._asked: tuple[Blank, ...] = ()
        self._only_f12 = False
        self._question = heading_label(self, "ask_question_label", "")
        self._labels: dict[str, QLabel] = {}
        self.lines: dict[str, QLineEdit] = {}
        self.do_button = named(QPushButton(self), "ask_do_button", self.tr("Do it"))
        self.leave_button = named(QPushButton(self.tr("Leave  Esc"), self), "ask_leave_button", self.tr("Leave"))
        for button in (self.do_button, self.leave_button):
            button.setProperty("small", "true")
        self._lay_out(blanks)
        self.do_button.clicked.connect(self.press)
        self.leave_button.clicked.connect(self.leave)
        self.hide()

    def _lay_out(self, blanks: Sequence[tuple[str, str]]) -> None:
        row = QHBoxLayout()
        row.setSpacing(6)
        for name, title in blanks:
            line = named(QLineEdit(self), f"ask_{name}_line", title)
            label = QLabel(title, self)
            label.setObjectName(f"ask_{name}_label")
            label.setBuddy(line)
            line.returnPressed.connect(partial(self._go_on, name))
            self._labels[name], self.lines[name] = label, line
            row.addWidget(label)
            row.addWidget(line)
        row.addWidget(self.do_button)
        row.addWidget(self.leave_button)
        row.addStretch(1)
        body = QVBoxLayout(self)
        body.setContentsMargins(10, 6, 6, 6)
        body.setSpacing(4)
        body.addWidget(self._question)
        body.addLayout(row)

    def minimumSizeHint(self) -> QSize:
        """Return the room for the question as it wraps in the width there is, not in the least width."""
        hint, parent, layout = super().minimumSizeHint(), self.parentWidget(), self.layout()
        if parent is None or layout is None or not layout.hasHeightForWidth():
            return hint
        return QSize(hint.width(), layout.minimumHeightForWidth(max(hint.width(), parent.width())))

    @property
    def is_open(self) -> bool:
        """Say whether something is asked."""
        return self._do is not None

    def ask(
        self,
        question: str,
        act: str,
        blanks: Sequence[Blank],
        do: Callable[[Answers], None],
        *,
        only_f12: bool = False,
    ) -> None:
        """Ask for ``blanks``; ``do`` gets the answers by name. ``act`` is what the button says.

        With ``only_f12``, for what takes much away, the keys never come to the button; ``blanks`` must not be empty.
        """
        if self._do is None:
            self._back = self.window().focusWidget()
        self._do, self._asked, self._only_f12 = do, tuple(blanks), only_f12
        self.do_button.setFocusPolicy(Qt.FocusPolicy.NoFocus if only_f12 else Qt.FocusPolicy.StrongFocus)
        self._question.setText(question)
        self.do_button.setText(f"{act}  F12")
        self.do_button.setAccessibleName(act)
        for name, line in self.lines.items():
            line.hide()
            self._labels[name].hide()
        for blank in blanks:
            self._show_blank(blank)
        self.opened.emit()
        self.show()
        first = self.lines[blanks[0].name] if blanks else self.do_button
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_blank(self, blank: Blank) -> None:
        line = self.lines[blank.name]
        line.setMaxLength(blank.longest)
        line.setText(blank.text)
        line.selectAll()
        line.setMinimumWidth(self._look.px(blank.width_px * _LEAST_SHARE))
        line.setMaximumWidth(self._look.px(blank.width_px))
        line.setMinimumHeight(self._look.px(32))
        line.show()
        self._labels[blank.name].show()

    @Slot()
    def press(self) -> None:
        """Do the act with what is filled in; the bar stays until it is told that the act is done."""
        if self._do is not None:
            self._do({blank.name: self.lines[blank.name].text() for blank in self._asked})

    @Slot()
    def leave(self) -> None:
        """Ask nothing any more and give the focus back."""
        self._do = None
        self.hide()
        if self._back is not None and self._back.isVisible():
            self._back.setFocus(Qt.FocusReason.OtherFocusReason)
        self._back = None

    def _go_on(self, name: str) -> None:
        names = [blank.name for blank in self._asked]
        place = names.index(name) + 1 if name in names else 0
        if place == len(names) and self._only_f12:
            return
        target: QWidget = self.lines[names[place]] if place < len(names) else self.do_button
        target.setFocus(Qt.FocusReason.TabFocusReason)
