"""The sheet of the help bundle: what would go in, before anything is written."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QTextBrowser, QVBoxLayout, QWidget

from xref_app.gui.labels import heading_label, plain_label
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.help_bundle import BundlePart

# House rule: looks only.
_LEAST_WIDTH_PX, _LEAST_HEIGHT_PX = 300, 200


class BundleSheet(QFrame):
    """Shows the parts; ``names_switched`` tells that names, references and prices are wanted in, or no more."""

    names_switched = Signal(bool)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "bundle_sheet_page", self.tr("Help bundle"))
        self.setProperty("pane", "true")
        self._look = look
        self._parts: tuple[BundlePart, ...] = ()
        self._about = plain_label(
            self,
            "bundle_about_label",
            self.tr(
                "A file for somebody who helps you. No row of the catalog goes in, and no price, reference or name "
                "unless you take them in. Nothing leaves this machine by itself: you hand the file on."
            ),
        )
        self.names_button = self._button("names", "")
        self.names_button.setCheckable(True)
        self.contents = named(QTextBrowser(self), "bundle_contents_view", self.tr("What goes in"))
        self.save_button = self._button("save", self.tr("Save the bundle…"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self._lay_out()
        self._name_switch(False)  # noqa: FBT003 - the signal's own argument
        self.names_button.toggled.connect(self._name_switch)
        self.names_button.toggled.connect(self.names_switched)

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), f"bundle_{name}_button", text)
        button.setProperty("small", "true")
        return button

    def _lay_out(self) -> None:
        title = heading_label(self, "bundle_title_label", self.tr("Help bundle: what would go in"))
        title.setWordWrap(False)
        acts = QHBoxLayout()
        acts.setSpacing(6)
        for button in (self.names_button, self.save_button, self.leave_button):
            acts.addWidget(button, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(10, 6, 8, 8)
        whole.setSpacing(6)
        whole.addWidget(title)
        whole.addWidget(self._about)
        whole.addWidget(self.contents, 1)
        whole.addLayout(acts)

    @property
    def parts(self) -> tuple[BundlePart, ...]:
        """Return what is shown."""
        return self._parts

    def show_reading(self) -> None:
        """Say that it is being put together."""
        self._parts = ()
        self.contents.setPlainText(self.tr("Looking at the catalog… Esc stops."))
        self.save_button.setEnabled(False)

    def show_unmade(self, why: str) -> None:
        """Say in one sentence why there is nothing to be shown."""
        self.contents.setPlainText(why)

    def show_parts(self, parts: Sequence[BundlePart]) -> None:
        """Show every part: its name, what it is, and all that stands in it."""
        self._parts = tuple(parts)
        told = (f"{one.name}: {one.about}\n\n{one.content.rstrip()}" for one in parts)
        self.contents.setPlainText("\n\n――――\n\n".join(told))
        self.save_button.setEnabled(bool(parts))

    def step_pane(self, _step: int) -> None:
        """Go from the contents to the buttons and back."""
        target = self.names_button if self.contents.hasFocus() else self.contents
        target.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot(bool)
    def _name_switch(self, is_in: bool) -> None:  # noqa: FBT001 - the signal's own argument
        """Say on the button what pressing it does."""
        words = self.tr("Leave names and settings out") if is_in else self.tr("Take names and settings in")
        self.names_button.setText(words)
        self.names_button.setAccessibleName(words)

    def focus_contents(self) -> None:
        """Put the keys into the contents."""
        self.contents.setFocus(Qt.FocusReason.OtherFocusReason)

    def minimumSizeHint(self) -> QSize:
        """Return the room in which the contents can still be read."""
        return QSize(self._look.px(_LEAST_WIDTH_PX), _LEAST_HEIGHT_PX)
