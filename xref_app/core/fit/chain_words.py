"""Chains of fittings in words: what is needed, how each joint is made tight, what is missing."""

from __future__ import annotations

from collections.abc import Iterable

from xref_app.core.fit.end_words import ends_worded, named_fitting, worded_end
from xref_app.core.fit.finding import Need
from xref_app.core.model.shelf import Part
from xref_app.core.parts.chains import Chain
from xref_app.core.parts.fitting_index import Step
from xref_app.core.parts.joints import ReadEnd, read_part_end_or_none, sealed_by
from xref_app.core.parts.missing_plugs import is_missing
from xref_app.core.parts.nearest import Gap
from xref_app.core.parts.water import Bridged
from xref_app.core.quantity.couplers import names_coupler
from xref_app.core.sentence import Sentence, marked

NEED_AT_PORT = marked("findings", "{what}, at the {port}")
FITTING_NEED = marked("findings", "Fitting {first} to {second}")
PLUG_NEED = marked("findings", "Plug {end}")
TEE_NEED = marked("findings", "Fitting with three ends: {ends}")
SEALS = marked("findings", "Made tight, from the hose on: {seals}.")
OTHERWISE = marked("findings", "Otherwise: {fitting}.")
CLOSED_WITH = marked("findings", "{fitting}, its further end closed with {plug}")
PLUG_NAMED = marked("findings", "plug {end}")
NO_SWIVEL = marked(
    "findings",
    "No end of these turns by itself: put them on the pump first, then turn the hose on, its other end free. A pipe "
    "that cannot be turned needs a swivel.",
)
NEAREST = marked(
    "findings", "The nearest that is listed: {fitting}; what is missing is a fitting between {ours} and {theirs}."
)

# Between the fittings of one chain.
THEN = ", then "
AND = " and "


def steps_named(steps: Iterable[Step]) -> str:
    """Return the fittings of a chain by name, from the hose on, each with the plug that closes its further end."""
    return THEN.join(_named(step) for step in steps)


def _named(step: Step) -> str:
    name = named_fitting(step.part)
    for plug in step.plugs:
        name = str(Sentence(CLOSED_WITH, {"fitting": name, "plug": _plug_named(plug)}))
    return name


def _plug_named(plug: Part) -> str:
    return str(Sentence(PLUG_NAMED, {"end": ends_worded(plug)[0]}))


def fittings_named(chain: Chain) -> str:
    """Return the fittings of a chain by name, from the hose on, without the plugs."""
    return THEN.join(named_fitting(step.part) for step in chain.steps)


def missing_plugs_worded(chain: Chain) -> str:
    """Return every plug of a chain that nobody lists, by its thread."""
    plugs = (plug for step in chain.steps for plug in step.plugs if is_missing(plug))
    return AND.join(_plug_named(plug) for plug in plugs)


def chain_needs(chain: Chain, others: tuple[Part, ...], port: str) -> tuple[Need, ...]:
    """Return every piece from hose to pump, with its port in the words where the other port uses the same piece.

    Findings that ask for one piece in the same words share it; two ports never do.
    """
    return tuple(
        Need(Sentence(NEED_AT_PORT, {"what": what, "port": port}) if piece in others else what, 1, piece)
        for piece in chain.pieces
        for what in [_need_worded(piece)]
    )


def _need_worded(part: Part) -> Sentence:
    words = ends_worded(part)
    if len(words) == 1:
        return Sentence(PLUG_NEED, {"end": words[0]})
    if len(words) == 2:
        return Sentence(FITTING_NEED, {"first": words[0], "second": words[1]})
    return Sentence(TEE_NEED, {"ends": ", ".join(words)})


def chain_notes(ours: ReadEnd, theirs: ReadEnd, bridged: Bridged) -> tuple[Sentence, ...]:
    """Return how each joint is made tight, from hose to pump, and the runner-up; the chain may be none."""
    here, seals = ours, []
    for step in bridged.chain.steps if bridged.chain is not None else ():
        seals.append(sealed_by(here, step.into_end))
        here = step.out_end
    seals.append(sealed_by(here, theirs))
    notes = [Sentence(SEALS, {"seals": "; ".join(seals)})]
    if bridged.chain is not None and not _turns(bridged.chain):
        notes.append(Sentence(NO_SWIVEL))
    if bridged.runner_up is not None:
        notes.append(Sentence(OTHERWISE, {"fitting": steps_named(bridged.runner_up.steps)}))
    return tuple(notes)


def _turns(chain: Chain) -> bool:
    """Say whether an end on the way from hose to port turns by itself: a swivel, or a plug-in coupler."""
    return any(
        end.swivel or names_coupler(end.thread)
        for step in chain.steps
        for end in step.part.ends
        if read_part_end_or_none(end) in {step.into_end, step.out_end}
    )


def gap_notes(gap: Gap) -> tuple[Sentence, ...]:
    """Return how near the listed fittings come; nothing where none comes nearer than hose and port are."""
    steps = (*gap.from_hose, *gap.to_port)
    if not steps:
        return ()
    values = {"fitting": steps_named(steps), "ours": worded_end(gap.ours), "theirs": worded_end(gap.theirs)}
    return (Sentence(NEAREST, values),)
