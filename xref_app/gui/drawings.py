"""The drawings of one pump on one machine, and which of them there are to look at."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from xref_app.sheets.shapes import Drawing


class View(Enum):
    """What is looked at: both faces, engine and pump from the side, or the adapter plate or spacers to make.

    F9 goes through them in this order.
    """

    FACE = "face"
    SIDE = "side"
    PLATE = "plate"
    SPACER = "spacer"


@dataclass(frozen=True, slots=True)
class Drawings:
    """The drawings of one pump; None where there is nothing of the kind to show."""

    face: Drawing | None = None
    side: Drawing | None = None
    plate: Drawing | None = None
    spacer: Drawing | None = None

    def of(self, view: View) -> Drawing | None:
        """Return the drawing of one view."""
        return {View.FACE: self.face, View.SIDE: self.side, View.PLATE: self.plate, View.SPACER: self.spacer}[view]

    @property
    def views(self) -> tuple[View, ...]:
        """Return what F9 goes through: faces and side always, what is to be made where there is some."""
        made = (view for view in (View.PLATE, View.SPACER) if self.of(view) is not None)
        return (View.FACE, View.SIDE, *made)
