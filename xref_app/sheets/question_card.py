"""The question card: what to ask a supplier before anything is ordered, with lines to write the answers on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from xref_app.core.fields.fields import Field, Side, field_for
from xref_app.core.fit.finding import Judgement, Outcome
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.blocks import Blank, Block, Foot, Heading, Paragraph, Sheet, Title, Wording

TITLE = marked("sheet", "Questions about part number {number}")
ABOUT = marked("sheet", "{pump}. Our reference: {reference}")
NO_REFERENCE = marked("sheet", "none")
PLEASE = marked(
    "sheet",
    "Please measure on the pump itself, not from a list of others, and say for each answer how it is known: measured, "
    "off the plate, or from the maker's sheet.",
)
TO_ASK = marked("sheet", "Not known to us")
TO_CONFIRM = marked("sheet", "Claimed: please confirm by measuring")
OURS = marked("sheet", "To be measured on our own machine, not by the supplier")
NOTHING = marked("sheet", "Nothing is left to ask: every check that needs a size of this pump has it.")
ANSWERED = (marked("sheet", "Answered by"), marked("sheet", "Name, day and telephone"))
UNIT_WORDS = {"lpm": "L/min", "kw": "kW", "nm": "N·m", "c": "°C", "deg": "°", "mpa": "MPa"}


@dataclass(frozen=True, slots=True)
class CardCase:
    """Which pump is asked about, and what the judge still lacks; ``reference`` is the shop's own."""

    number: str
    pump: str
    judgement: Judgement
    reference: str = ""


def question_card(case: CardCase, foot: Foot, wording: Wording) -> Sheet:
    """Return the card. Sizes of the machine itself are never asked of a supplier: they are named at the end."""
    return Sheet(foot, tuple(_blocks(case, wording)))


def _blocks(case: CardCase, wording: Wording) -> Iterator[Block]:
    say = wording.say
    reference = case.reference or say(Sentence(NO_REFERENCE))
    yield Title(
        say(Sentence(TITLE, {"number": case.number})), say(Sentence(ABOUT, {"pump": case.pump, "reference": reference}))
    )
    asked = [field_for(one) for one in fields_to_ask(case.judgement)]
    claimed = [field_for(one) for one in case.judgement.claims if field_for(one).side is Side.PUMP]
    theirs = [one for one in asked if one.side is Side.PUMP]
    ours = [one for one in asked if one.side is Side.MACHINE]
    if not theirs and not claimed:
        yield Paragraph(say(Sentence(NOTHING)))
    else:
        yield Paragraph(say(Sentence(PLEASE)))
    for heading, fields in ((TO_ASK, theirs), (TO_CONFIRM, [one for one in claimed if one not in theirs])):
        if fields:
            yield Heading(say(Sentence(heading)))
            yield from map(blank_for, fields)
    if theirs or claimed:
        yield Heading(say(Sentence(ANSWERED[0])))
        yield Blank(say(Sentence(ANSWERED[1])), "", "")
    if ours:
        yield Heading(say(Sentence(OURS)))
        yield Paragraph(", ".join(one.title for one in ours))


def fields_to_ask(judgement: Judgement) -> tuple[str, ...]:
    """Return every field an open check asks for, blocking ones first, each once."""
    later = [
        field
        for one in judgement.findings
        if one.outcome is Outcome.UNKNOWN and one.on_arrival
        for field in one.measure
    ]
    return tuple(dict.fromkeys((*judgement.measure_next, *later)))


def blank_for(field: Field) -> Blank:
    """Return the line to fill in for one field."""
    choices = " / ".join(one.replace("_", " ") for one in field.choices)
    how = f"{field.how_to_measure} ({choices})" if choices else field.how_to_measure
    return Blank(field.title, UNIT_WORDS.get(field.unit, field.unit), how)
