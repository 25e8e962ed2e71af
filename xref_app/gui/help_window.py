"""Help on the place one was at, and all keys; it lies beside the work and stops nothing."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QDialog, QTextBrowser, QVBoxLayout, QWidget

from xref_app.gui.actions import SPECS, keys_text, plain_text
from xref_app.gui.help_bench import BENCH_HELP
from xref_app.gui.help_fix import FIX_HELP
from xref_app.gui.help_is_it import IS_IT_HELP
from xref_app.gui.help_jobs import JOBS_HELP
from xref_app.gui.help_pairs import PAIRS_HELP
from xref_app.gui.help_paper import PAPER_HELP
from xref_app.gui.help_records import RECORDS_HELP
from xref_app.gui.help_shelf import SHELF_HELP
from xref_app.gui.help_texts import HELP
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
        texts = {
            **HELP,
            **BENCH_HELP,
            **SHELF_HELP,
            **FIX_HELP,
            **IS_IT_HELP,
            **PAIRS_HELP,
            **PAPER_HELP,
            **JOBS_HELP,
            **RECORDS_HELP,
        }
        paragraph = texts.get(object_name)
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
