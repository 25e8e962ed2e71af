"""What is needed as a table: pieces, what each is, and where it comes from."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.fit.finding import Need
from xref_app.core.fit.from_shelf import pieces_from_shelf
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.blocks import Row, Table, Wording

COLUMNS = (marked("sheet", "Pieces"), marked("sheet", "What"), marked("sheet", "Where"))
TO_MAKE = marked("sheet", "to make, by its drawing")
TO_ORDER = marked("sheet", "to order")
IN_BIN = marked("sheet", "bin {bin}")
ON_SHELF = marked("sheet", "on the shelf")
RESERVED = marked("sheet", "reserved, bin {bin}")
PARTLY = marked("sheet", "{count} in bin {bin}, {rest} to order")
PARTLY_RESERVED = marked("sheet", "{count} reserved, bin {bin}; {rest} to order")
NAMED = marked("sheet", "On its bag: {name}")


def needs_table(needs: Sequence[Need], wording: Wording) -> Table:
    """Return n ≥ 1 needs with a box to tick each."""
    lying = pieces_from_shelf(needs)
    rows = tuple(_row(need, there, wording) for need, there in zip(needs, lying, strict=True))
    return Table(tuple(wording.say(Sentence(one)) for one in COLUMNS), rows, (0.1, 0.58, 0.32))


def _row(need: Need, lying: int, wording: Wording) -> Row:
    say = wording.say
    name = "" if need.listed is None else need.listed.name
    what = say(need.what)
    note = say(Sentence(NAMED, {"name": name})) if name and name != what else ""
    return Row((str(need.quantity), what, say(_where(need, lying))), has_box=True, note=note)


def _where(need: Need, lying: int) -> Sentence:
    part = need.listed
    if part is None:
        return Sentence(TO_MAKE if need.to_make else TO_ORDER)
    if not lying:
        return Sentence(TO_ORDER)
    is_reserved = part.reserved >= lying
    there = {"count": lying, "bin": part.reserved_bin if is_reserved else part.bin}
    if lying < need.quantity:
        words = PARTLY_RESERVED if is_reserved else PARTLY
        return Sentence(words, {**there, "rest": need.quantity - lying})
    if is_reserved:
        return Sentence(RESERVED, there)
    return Sentence(IN_BIN, there) if part.bin else Sentence(ON_SHELF)
