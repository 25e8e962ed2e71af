"""The card of a thread: the call where somebody knows it, else readings until nothing else is left."""

from __future__ import annotations

import re
from dataclasses import dataclass

from xref_app.core.fields.fields import Field
from xref_app.core.identify.answer import Identified
from xref_app.core.identify.thread import identify_thread
from xref_app.core.identify.thread_facts import thread_facts
from xref_app.core.identify.thread_forms import O_RING_PORT
from xref_app.core.identify.thread_readings import (
    FEMALE,
    LARGE_END,
    MALE,
    SEATS,
    ThreadReadings,
    pitch_by_gauge_mm,
    pitch_by_tpi_gauge,
)
from xref_app.core.quantity.couplers import names_coupler
from xref_app.core.quantity.crests import pitch_from_crests_mm
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.instruments import Instrument, doubt_of
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.observed import end_or_thread
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.seal_forms import FORMS_OF, SealForm, parse_end, takes_form
from xref_app.core.sentence import Sentence, marked
from xref_app.services.card import Answers, CardStep, Picture, StepKind, Worked
from xref_app.services.field_reading import is_water_end

OUTSIDE_MM, INSIDE_MM = doubt_of(Instrument.CALIPER_OUTSIDE), doubt_of(Instrument.CALIPER_INSIDE)
CALL, GENDER, OUTSIDE, INSIDE, PITCH = "call", "gender", "outside_mm", "inside_mm", "pitch_mm"
OTHER, TAPER, ANGLE, SEAL, SEAT = "other_end_mm", "taper", "flank_angle_deg", "seal_mm", "seat"
FORM = "form"

ASK_CALL = marked(
    "card", "If you know the thread, write it: M22x1.5, 3/8-18 NPT, G1/2. If not, press F4 and measure it step by step."
)
ASK_GENDER = marked("card", "Is the thread outside (male) or inside (female)?")
ASK_OUTSIDE = marked("card", "Measure over the crests with the outside jaws, at the large end, away from the tip.")
ASK_OTHER = marked("card", "Now over the first full crests at the small end, near the tip.")
ASK_INSIDE = marked("card", "Measure across the crests inside with the inside jaws, close to the mouth.")
ASK_PITCH = marked(
    "card", "Hold a thread gauge to it, or count crests over a length. Write 14 tpi, 1.5 mm, or 11 crests 18.1 mm."
)
ASK_TAPER = marked("card", "Measure near the tip and near the other end, or sight along the crests: does it taper?")
ASK_ANGLE = marked(
    "card", "Hold the 55° and the 60° leaf of that pitch to it against the light: which fills the flanks?"
)
ASK_SEAL = marked("card", "Measure the plug that seals, or the socket it goes into: 14 or 15 mm?")
ASK_SEAT = marked(
    "card", "What does it seal on: an O-ring, a flat face with a washer, a cone, or only the thread: none?"
)

ASK_FORM = marked(
    "card",
    "Look at the end: how does it seal? Cone or flare: a cone in it or on it, by its angle. Flat shoulder: a washer on "
    "the mouth of the port. Flat end: a washer in the nut. O-ring: a chamfer in the mouth of the port. F4: open.",
)

# House rule: no port, hose or mounting bolt here is thinner or thicker than this, mm.
_THREAD_MM = (3.0, 100.0)
_YES_NO = ("yes", "no")
_ANGLES = ("55", "60")
_PITCH = re.compile(r"(?P<number>\d+(?:[.,]\d+|[ -]1/2)?)\s*(?P<unit>tpi|per inch|/in|mm)", re.IGNORECASE)
_CRESTS = re.compile(r"(?P<count>\d+)\s*crests?\s*(?:over|in|=|:)?\s*(?P<length>.+)", re.IGNORECASE)
_CALLS = "M22x1.5, 3/8-18 NPT, G1/2"
_PITCH_ADVICE = "14 tpi, 1.5 mm or 11 crests 18.1 mm"


@dataclass(frozen=True, slots=True)
class ThreadCard:
    """Asks for the call first; then for gender, diameter and pitch, and for what tells the rest apart."""

    field: Field
    unit: str = "mm"
    known_gender: str = ""

    def step(self, answers: Answers) -> CardStep | None:
        """Return the call, else the next reading; None once one thread is left or nothing more can be read."""
        if CALL not in answers:
            return CardStep(CALL, "call", Sentence(ASK_CALL), StepKind.TEXT, example=_CALLS, is_optional=True)
        if answers[CALL]:
            return self._form_step(answers)
        if GENDER not in answers and not self.known_gender:
            return CardStep(GENDER, "gender", Sentence(ASK_GENDER), StepKind.CHOICE, (MALE, FEMALE), is_optional=True)
        size = INSIDE if self._gender(answers) == FEMALE else OUTSIDE
        for key in (size, PITCH):
            if key not in answers:
                return _STEPS[key]
        found = self.identified(answers)
        ahead = None if found is None else found.next_measurement
        if ahead is None or ahead.reading in answers:
            return self._form_step(answers)
        return _STEPS.get(ahead.reading)

    def _form_step(self, answers: Answers) -> CardStep | None:
        """Return the question how a water end seals, where its thread is settled and comes in several forms."""
        call = self._call_or_none(answers)
        if FORM in answers or call is None or not is_water_end(self.field) or names_coupler(call):
            return None
        thread, form = parse_end(call)
        if form is not None or not takes_form(thread):
            return None
        words = tuple(form.value for form in FORMS_OF[thread.family])
        return CardStep(FORM, "seals by", Sentence(ASK_FORM), StepKind.CHOICE, words, is_optional=True)

    def identified(self, answers: Answers) -> Identified | None:
        """Return what the readings so far can be; None while there is none."""
        if not any(answers.get(key) for key in _STEPS):
            return None
        return identify_thread(self._readings(answers))

    def worked(self, answers: Answers) -> Worked | None:
        """Return the call, or the one thread that is left; None while several are."""
        call = self._call_or_none(answers)
        if call is None:
            return None
        end = f"{call} {answers[FORM]}" if answers.get(FORM) else call
        return Worked(end, end)

    def _call_or_none(self, answers: Answers) -> str | None:
        """Return the call as it is written down, without the form that was asked for besides."""
        if answers.get(CALL):
            return end_or_thread(answers[CALL], is_water_end=is_water_end(self.field))
        found = self.identified(answers)
        if found is None or found.ambiguous or not found.candidates or not found.candidates[0].decides:
            return None
        return designation_of(found.candidates[0].label, self.field)

    def _gender(self, answers: Answers) -> str:
        return answers.get(GENDER, "") or self.known_gender

    def _readings(self, answers: Answers) -> ThreadReadings:
        def length(key: str, doubt_mm: float) -> Range | None:
            return _around(answers[key], self.unit, doubt_mm) if answers.get(key) else None

        return ThreadReadings(
            gender=self._gender(answers),
            outside_mm=length(OUTSIDE, OUTSIDE_MM),
            outside_at=LARGE_END if answers.get(OUTSIDE) else "",
            other_end_mm=length(OTHER, OUTSIDE_MM),
            inside_mm=length(INSIDE, INSIDE_MM),
            pitch_mm=read_pitch(answers[PITCH], self.unit) if answers.get(PITCH) else None,
            taper=answers[TAPER] == "yes" if answers.get(TAPER) else None,
            flank_angle_deg=float(answers[ANGLE]) if answers.get(ANGLE) else None,
            seal_mm=length(SEAL, INSIDE_MM),
            seat=answers.get(SEAT, ""),
        )


def designation_of(label: str, field: Field) -> str:
    """Return the call behind a candidate's label, which may name the seal as well; a port's O-ring too."""
    facts = thread_facts(label)
    is_port = is_water_end(field) and facts.system == O_RING_PORT
    return f"{facts.designation} {SealForm.O_RING}" if is_port else facts.designation


def read_pitch(text: str, unit: str) -> Range:
    """Return the pitch that ``text`` says, mm, with the doubt of a gauge's leaf or of the length over the crests.

    Raises:
        MeasureError: it says no pitch.
    """
    crests = _CRESTS.fullmatch(text.strip())
    if crests is not None:
        length = _around(crests["length"], unit, OUTSIDE_MM)
        return pitch_from_crests_mm(crests_counted_with_both_ends=int(crests["count"]), first_to_last_crest_mm=length)
    leaf = _PITCH.fullmatch(text.strip())
    if leaf is None:
        raise MeasureError(text, "is no pitch", _PITCH_ADVICE)
    number = float(leaf["number"].replace(" 1/2", ".5").replace("-1/2", ".5").replace(",", "."))
    return pitch_by_gauge_mm(number) if leaf["unit"].casefold() == "mm" else pitch_by_tpi_gauge(number)


def _around(text: str, unit: str, doubt_mm: float) -> Range:
    return Range.around(parse_length_mm(text, default_unit=unit).value_mm, doubt_mm)


_STEPS = {
    OUTSIDE: CardStep(
        OUTSIDE,
        "outside",
        Sentence(ASK_OUTSIDE),
        picture=Picture("outside large end"),
        is_optional=True,
        usual_mm=_THREAD_MM,
    ),
    OTHER: CardStep(
        OTHER,
        "small end",
        Sentence(ASK_OTHER),
        picture=Picture("outside small end"),
        is_optional=True,
        usual_mm=_THREAD_MM,
    ),
    INSIDE: CardStep(
        INSIDE, "inside", Sentence(ASK_INSIDE), picture=Picture("inside"), is_optional=True, usual_mm=_THREAD_MM
    ),
    PITCH: CardStep(
        PITCH, "pitch", Sentence(ASK_PITCH), StepKind.TEXT, (), Picture("gauge"), "14 tpi, 1.5 mm", is_optional=True
    ),
    TAPER: CardStep(
        TAPER, "taper", Sentence(ASK_TAPER), StepKind.CHOICE, _YES_NO, picture=Picture("taper"), is_optional=True
    ),
    ANGLE: CardStep(
        ANGLE, "angle", Sentence(ASK_ANGLE), StepKind.CHOICE, _ANGLES, picture=Picture("angle"), is_optional=True
    ),
    SEAL: CardStep(SEAL, "seal", Sentence(ASK_SEAL), picture=Picture("seal"), is_optional=True, usual_mm=(8.0, 30.0)),
    SEAT: CardStep(SEAT, "seals on", Sentence(ASK_SEAT), StepKind.CHOICE, SEATS, is_optional=True),
}
