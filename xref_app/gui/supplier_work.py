"""What is done with a supplier's list off the GUI thread: it is read, changed by what was said, and looked at."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from xref_app.core.progress import Progress
from xref_app.exchange.supplier_sheet import HowToRead, RawFile
from xref_app.gui.supplier_desk import SupplierDesk
from xref_app.services.supplier_looked import Looked, looked
from xref_app.services.supplier_preview import SaidOfFile
from xref_app.services.supplier_said import with_decimals

Change = Callable[[RawFile, SaidOfFile], SaidOfFile]


@dataclass(frozen=True, slots=True)
class Result:
    """What a look brought, and whose lists were read before."""

    looked: Looked
    suppliers: tuple[str, ...]


def read_and_look(
    desk: SupplierDesk, path: Path, how: HowToRead, before: SaidOfFile | None, progress: Progress
) -> Result:
    """Return a file read and looked at; ``before`` is what is known of it already, if anything.

    Raises:
        XrefError: it cannot be read; one sentence says why.
        WorkCancelledError: nobody waits any more.
    """
    file = desk.read(path, progress, how)
    if before is None:
        return look_at(desk, file, desk.guess(file), (), progress)
    said = desk.guess(file, supplier=before.supplier, kind=before.columns.kind)
    # Rows that were parted wrongly had no headings to point at; the decimal mark is the whole list's either way.
    marked = with_decimals(said, before.columns.decimals) if before.columns.decimals else said
    return look_at(desk, file, replace(marked, how=before.how), (), progress)


def look_at(
    desk: SupplierDesk, file: RawFile, said: SaidOfFile, changes: Sequence[Change], progress: Progress
) -> Result:
    """Return the list as it is with all ``changes`` put on what was ``said``.

    Raises:
        XrefError: the store cannot be read.
        WorkCancelledError: nobody waits any more.
    """
    for change in changes:
        progress.step(0, 0)
        said = change(file, said)
    return Result(looked(desk.preview(file, said, progress)), desk.suppliers())
