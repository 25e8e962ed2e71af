"""Help on the place one was at, and all keys; it lies beside the work and stops nothing."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QDialog, QTextBrowser, QVBoxLayout, QWidget

from xref_app.gui.actions import SPECS, keys_text, plain_text
from xref_app.gui.help_all import ALL_HELP
from xref_app.gui.rows import named


class HelpWindow(QDialog):
    """Closed with Esc."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "help_window", self.tr("Help"))
        self.setWindowTitle(self.tr("Help"))
        self.setModal(False)
        self._text = named(QTextBrowser(self), "help_text_view", self.tr("Help text"))
        self._text.setOpenLinks(False)
        self._text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 8)
        layout.addWidget(self._text)
        self.resize(640, 560)

    def show_for(self, object_name: str) -> None:
        """Show the paragraph on ``object_name``, if there is one, and the list of keys."""
        parts: list[str] = []
        paragraph = ALL_HELP.get(object_name)
        if paragraph is not None:
            text = str(QCoreApplication.translate("help", paragraph))
            parts += [f"<h3>{escape(self.tr('This place'))}</h3>", f"<p>{escape(text)}</p>"]
        parts += [f"<h3>{escape(self.tr('Keys'))}</h3>", f"<table cellpadding='3'>{_key_rows()}</table>"]
        self._text.setHtml("".join(parts))

    @property
    def text(self) -> str:
        """Return all that is shown, as plain text."""
        return self._text.toPlainText()


def _key_rows() -> str:
    rows = ((keys_text(spec), plain_text(spec)) for spec in SPECS if spec.keys)
    return "".join(f"<tr><td><b>{escape(keys)}</b></td><td>{escape(text)}</td></tr>" for keys, text in rows)
