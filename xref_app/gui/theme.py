"""The colours, the size of the text and all that follows from them; set outright, since X tells us neither."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontInfo, QPalette
from PySide6.QtWidgets import QApplication

from xref_app.gui.colours import COLOURS, Colours, ThemeName
from xref_app.gui.style_sheet import style_sheet

# Text sizes offered, percent of the 11 points of ux.md 2.1.
TEXT_PERCENTS = (100, 110, 125, 150, 175, 200)
BODY_POINTS = 11.0


class Look(QObject):
    """The colours and text size in use; painters ask it, and repaint when it tells of a change."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._theme = ThemeName.LIGHT
        self._text_percent = TEXT_PERCENTS[0]

    @property
    def theme(self) -> ThemeName:
        """Return the set of colours in use."""
        return self._theme

    @property
    def text_percent(self) -> int:
        """Return the text size in use, percent."""
        return self._text_percent

    @property
    def colours(self) -> Colours:
        """Return the colours in use."""
        return COLOURS[self._theme]

    def px(self, at_100_percent: float) -> int:
        """Return a length of the layout in pixels at the text size in use."""
        return round(at_100_percent * self._text_percent / 100)

    def ink(self, colour: str) -> QColor:
        """Return a colour of the set as Qt wants it."""
        return QColor(colour)

    def set_theme(self, theme: ThemeName) -> None:
        """Use another set of colours."""
        self._theme = theme
        self.apply()

    def set_text_percent(self, percent: int) -> None:
        """Use another text size; what is not offered becomes the nearest that is."""
        self._text_percent = min(TEXT_PERCENTS, key=lambda one: abs(one - percent))
        self.apply()

    def step_text(self, steps: int) -> None:
        """Make the text ``steps`` sizes larger (smaller where negative), within what is offered."""
        place = TEXT_PERCENTS.index(self._text_percent) + steps
        self.set_text_percent(TEXT_PERCENTS[max(0, min(place, len(TEXT_PERCENTS) - 1))])

    def apply(self) -> None:
        """Hand fonts, palette and style sheet to the application, then tell the painters."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.setStyle("Fusion")
            app.setFont(body_font(self._text_percent))
            app.setPalette(palette(self.colours))
            app.setStyleSheet(style_sheet(self.colours, self.px))
        self.changed.emit()


def body_font(text_percent: int) -> QFont:
    """Return the platform's own font at the size asked for.

    DejaVu Sans runs a seventh wider than any other platform's font; where it is the platform's, its condensed cut
    stands in, so that the columns hold the same words everywhere.
    """
    font = QFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont))
    if QFontInfo(font).family() == "DejaVu Sans" and "DejaVu Sans Condensed" in QFontDatabase.families():
        font.setFamily("DejaVu Sans Condensed")
    font.setPointSizeF(BODY_POINTS * text_percent / 100)
    return font


def palette(colours: Colours) -> QPalette:
    """Return a palette in which every role a widget may draw with is set."""
    role = QPalette.ColorRole
    roles = {
        role.Window: colours.window,
        role.WindowText: colours.text,
        role.Base: colours.base,
        role.AlternateBase: colours.window,
        role.Text: colours.text,
        role.PlaceholderText: colours.quiet_text,
        role.Button: colours.base,
        role.ButtonText: colours.text,
        role.BrightText: colours.danger,
        role.ToolTipBase: colours.base,
        role.ToolTipText: colours.text,
        role.Highlight: colours.selection,
        role.HighlightedText: colours.text,
        role.Link: colours.accent,
        role.LinkVisited: colours.accent,
        role.Light: colours.line,
        role.Midlight: colours.line,
        role.Mid: colours.edge,
        role.Dark: colours.edge,
        role.Shadow: colours.edge,
        role.Accent: colours.accent,
    }
    made = QPalette()
    for which, colour in roles.items():
        made.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, QColor(colours.quiet_text))
    return made
