"""How it is told what happened with a pump, and what writing it down does."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from xref_app.core.fit.finding import Judgement
from xref_app.core.model.words import Result
from xref_app.core.sentence import marked
from xref_app.gui.messages import check_title, verdict_word
from xref_app.services.what_happened import SAYS_FITS, BlameableSize

NOT_SAID = marked("happened", "Not said yet")
RESULTS = {
    Result.FINE: marked("happened", "Installed and fine"),
    Result.WITH_PARTS: marked("happened", "Installed with parts"),
    Result.DID_NOT_FIT: marked("happened", "Did not fit"),
    Result.BOUND: marked("happened", "Bound when turned by hand"),
    Result.EAR_BROKE: marked("happened", "An ear broke"),
    Result.LEAKED: marked("happened", "Leaked"),
    Result.FAILED: marked("happened", "Failed in use"),
    Result.RETURNED: marked("happened", "Returned"),
}
WENT_WELL = marked("happened", "It went well: no size is put in doubt.")
PUTS_IN_DOUBT = marked(
    "happened",
    "The verdict said “{verdict}”. Sizes you tick count as not known until somebody measures them again.",
)
NOTHING_IN_DOUBT = marked("happened", "Nothing is put in doubt, for the verdict did not say that it fits.")
OF_PUMP = marked("happened", "{title}, of the pump")
OF_MACHINE = marked("happened", "{title}, of the machine")
COUNTED_IN = marked("happened", "counted in: {checks}")
TICKED = marked("happened", "ticked: {size}")
NOT_TICKED = marked("happened", "not ticked: {size}")


def told(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("happened", template)).format(**values)


def result_text(result: Result | None) -> str:
    """Return the result in words; None is that nobody has said it yet."""
    return told(NOT_SAID if result is None else RESULTS[result])


def size_text(size: BlameableSize) -> str:
    """Return what a size is called, and whose it is."""
    return told(OF_PUMP if size.is_of_pump else OF_MACHINE, title=size.title)


def counted_text(size: BlameableSize) -> str:
    """Return the checks that a size counted in."""
    return told(COUNTED_IN, checks=", ".join(check_title(one).lower() for one in size.checks))


def ticked_text(size: BlameableSize, *, is_ticked: bool) -> str:
    """Return a size with its tick, in words."""
    return told(TICKED if is_ticked else NOT_TICKED, size=f"{size_text(size)}; {counted_text(size)}")


def does_text(judgement: Judgement, result: Result | None) -> str:
    """Return what writing it down does to the sizes."""
    if result is not None and not result.went_wrong:
        return told(WENT_WELL)
    if judgement.verdict in SAYS_FITS:
        return told(PUTS_IN_DOUBT, verdict=verdict_word(judgement.verdict))
    return told(NOTHING_IN_DOUBT)
