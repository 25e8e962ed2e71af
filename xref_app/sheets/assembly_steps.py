"""The order of assembly and the checks of the first run, from what the judge found: one short step after another.

The order is design.md, section 8. Steps without a source beside them are common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.fit.bolts import TORQUE
from xref_app.core.fit.chain_words import OTHERWISE as OTHER_FITTING
from xref_app.core.fit.finding import Finding, Judgement, Need, Outcome
from xref_app.core.fit.reach import ROOT_SUM
from xref_app.core.fit.seat import FEEL_AGAIN
from xref_app.core.model.words import PartKind
from xref_app.core.plan.face_plan import SET_PLATE
from xref_app.core.plan.runner_up import OTHERWISE as OTHER_PARTS
from xref_app.core.sentence import Sentence, marked

MEASURE_CLAIMS = marked(
    "assembly", "Measure what is only claimed, and tick it on page 1. If one size differs, stop: judge it anew."
)
LAY_OUT = marked("assembly", "Lay out every piece of “What you need”, and tick it on page 1.")
CLEAN = marked("assembly", "Clean the shaft with a rag. Feel for burrs and rust; file them off, no more.")
SLEEVE = marked("assembly", "Push on: {what}. Slot over the keyway of the shaft.")
STEPPED_KEY = marked("assembly", "Lay in: {what}. Each side in its own keyway.")
PLAIN_KEY = marked("assembly", "Lay in: {what}. It must lie flat and not rock.")
OWN_KEY = marked("assembly", "Lay the key into the shaft's keyway. It must lie flat and not rock.")
COUPLE = marked("assembly", "Fit: {what}. {reason}")
PLATE = marked("assembly", "Bolt to the engine: {what}.")
SPACE_ALL = marked("assembly", "Put the same spacers under every leg: {what}. {reason}")
SPACE_ONE = marked(
    "assembly", "Put its spacer under the leg that stands off (the drawing of the faces marks it): {what}. {reason}"
)
EVERY_LEG = marked("assembly", "Look at every leg: each lies flat on the engine or on its spacer; none stands off.")
SLIDE = marked(
    "assembly", "Slide the pump on by hand, not turned, as drawn. Never hammer or draw it on with the bolts."
)
SLIDE_TURNED = marked(
    "assembly",
    "Turn the pump {turn}° counter-clockwise, as drawn, and slide it on by hand. Never hammer or draw it on with the "
    "bolts.",
)
SLIDE_SOMEHOW = marked("assembly", "Slide the pump on by hand. Never hammer or draw it on with the bolts.")
BOLTS = marked("assembly", "Start every bolt by hand, three turns at least: {what}. {reason}")
OLD_BOLTS = marked("assembly", "Start every old bolt by hand, three turns at least. {reason}")
TURN_OVER = marked(
    "assembly",
    "Turn the engine over slowly by hand, once round. It must turn freely: if it binds, take the pump off and see why.",
)
CROSSWISE = marked("assembly", "Tighten the bolts crosswise, a little each, until all are snug.")
TIGHTEN = marked("assembly", "Then tighten them crosswise in two rounds. {torque}")
NO_TORQUE = marked("assembly", "Then tighten them crosswise in two rounds to the torque of the pump maker's manual.")
AGAIN = marked("assembly", "Turn the engine over by hand once more. It must turn as freely as before.")
FIT_ON = marked("assembly", "{check}: fit {what}. {reason}")
JOIN = marked("assembly", "{check}: {reason}")
BOTH = marked("assembly", "{first} {second}")
OIL = marked("assembly", "Oil: {reason} Look at the level before the first run.")
WATER = marked("assembly", "Open the tap fully. Squeeze the trigger until water comes without air.")
LOOK_DRY = marked("assembly", "Look at every joint for leaks: with the eye and a piece of cardboard, never by hand.")
START = marked(
    "assembly",
    "Outdoors, nobody before the nozzle: put the lead back on or plug in, and start with the trigger held open.",
)
LISTEN = marked("assembly", "Listen for knocking, and feel the frame for shaking. Stop at once if there is any.")
SHUT = marked(
    "assembly",
    "Let the trigger go for a few seconds only: the unloader must take over. Water left going round in the pump "
    "gets hot.",
)
GAUGE = marked("assembly", "Pressure and flow as expected: {expected}")
AFTER = marked(
    "assembly",
    "After five minutes stop, release the pressure, take the lead off or unplug, and look at bolts and joints again.",
)
_WATER_CHECKS = ("inlet", "outlet", "carried over", "comforts", "pressure", "nozzle")


def assembly_steps(judgement: Judgement) -> tuple[Sentence, ...]:
    """Return the steps of a judgement that says "Fits", from safe to tight."""
    return tuple(_Assembly(judgement).steps())


class _Assembly:
    def __init__(self, judgement: Judgement) -> None:
        self._judgement = judgement
        self._by_check = {one.check: one for one in judgement.findings}

    def steps(self) -> Iterator[Sentence]:
        # The first two cautions are about the driver and the pressure (core/fit/cautions.py). Here they are steps: the
        # one that stops the machine goes before the one that keeps it from starting again.
        keep_off, release = self._judgement.cautions[:2]
        yield from (release, keep_off)
        yield Sentence(LAY_OUT)
        if self._judgement.claims:
            yield Sentence(MEASURE_CLAIMS)
        yield Sentence(CLEAN)
        yield from self._drive()
        yield from self._between()
        yield self._slide()
        yield self._bolts()
        yield from (Sentence(TURN_OVER), Sentence(CROSSWISE), Sentence(EVERY_LEG))
        seat = self._by_check.get("seat")
        yield from () if seat is None else seat.notes
        yield from (self._tighten(), Sentence(AGAIN))
        for check in _WATER_CHECKS:
            yield from self._water(check)
        oil = self._by_check.get("oil")
        if oil is not None:
            yield Sentence(OIL, {"reason": oil.reason})

    def _drive(self) -> Iterator[Sentence]:
        sleeves, couplings = self._needs(PartKind.SLEEVE), self._needs(PartKind.COUPLING)
        keys, stepped = self._needs(PartKind.KEY), self._needs(PartKind.STEPPED_KEY)
        for need in sleeves:
            yield Sentence(SLEEVE, {"what": need.what})
        for need in stepped:
            yield Sentence(STEPPED_KEY, {"what": need.what})
        for need in keys:
            yield Sentence(PLAIN_KEY, {"what": need.what})
        for need in couplings:
            yield Sentence(COUPLE, {"what": need.what, "reason": self._reason("drive")})
            yield from self._by_check["drive"].notes
        if not (keys or stepped or couplings):
            yield Sentence(OWN_KEY)

    def _between(self) -> Iterator[Sentence]:
        pattern = self._by_check.get("pattern")
        if pattern is not None and pattern.needs:
            yield Sentence(PLATE, {"what": _listed(pattern.needs)})
            yield from (one for one in pattern.notes if one.template == SET_PLATE)
        seen: set[str] = set()
        for check, words in (("reach", SPACE_ALL), ("seat", SPACE_ONE)):
            found = self._by_check.get(check)
            if found is None or not found.needs or _listed(found.needs) in seen:
                continue
            seen.add(_listed(found.needs))
            yield Sentence(words, {"what": _listed(found.needs), "reason": found.reason})
            yield from (one for one in found.notes if one.template not in {OTHER_PARTS, ROOT_SUM, FEEL_AGAIN})

    def _slide(self) -> Sentence:
        clocking = self._judgement.clocking_deg
        if clocking is None:
            return Sentence(SLIDE_SOMEHOW)
        turn = round(clocking) % 360
        return Sentence(SLIDE_TURNED, {"turn": turn}) if turn else Sentence(SLIDE)

    def _bolts(self) -> Sentence:
        found = self._by_check.get("bolts")
        needs = () if found is None else found.needs
        reason = "" if found is None else found.reason
        if needs:
            return Sentence(BOLTS, {"what": _listed(needs), "reason": reason})
        return Sentence(OLD_BOLTS, {"reason": reason})

    def _tighten(self) -> Sentence:
        found = self._by_check.get("bolts")
        notes = () if found is None else found.notes
        torque = next((one for one in notes if one.template == TORQUE), None)
        return Sentence(NO_TORQUE) if torque is None else Sentence(TIGHTEN, {"torque": torque})

    def _water(self, check: str) -> Iterator[Sentence]:
        found = self._by_check.get(check)
        if found is None or (check not in ("inlet", "outlet") and not found.needs):
            return
        name = check[:1].upper() + check[1:]
        if found.needs:
            yield Sentence(FIT_ON, {"check": name, "what": _listed(found.needs), "reason": _told_with(found)})
        else:
            yield Sentence(JOIN, {"check": name, "reason": found.reason})

    def _needs(self, kind: PartKind) -> list[Need]:
        return [one for one in self._judgement.needs if one.listed is not None and one.listed.kind is kind]

    def _reason(self, check: str) -> Sentence | str:
        found = self._by_check.get(check)
        return "" if found is None else found.reason


def _told_with(found: Finding) -> Sentence | str:
    """Return what is noted of a joint: how it is made tight, and in which order; other ways to join it are left out."""
    notes = [one for one in found.notes if one.template not in {OTHER_FITTING, OTHER_PARTS}]
    if len(notes) < 2:
        return notes[0] if notes else ""
    return Sentence(BOTH, {"first": notes[0], "second": notes[1]})


def _listed(needs: tuple[Need, ...]) -> str:
    return ", ".join(f"{one.quantity}\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}{one.what}" for one in needs)


def first_run_checks(judgement: Judgement) -> tuple[Sentence, ...]:
    """Return what to look at when it runs for the first time, in its order."""
    expected = [
        one.reason for one in judgement.findings if one.check == "nozzle" and one.outcome is not Outcome.UNKNOWN
    ]
    gauge = [Sentence(GAUGE, {"expected": one}) for one in expected]
    return tuple(map(Sentence, (WATER, LOOK_DRY, START, LISTEN, SHUT))) + tuple(gauge) + (Sentence(AFTER),)
