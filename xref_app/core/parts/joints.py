"""Which two ends go together, and the number that parts two that only look alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from xref_app.core.model.shelf import PartEnd
from xref_app.core.model.water import End
from xref_app.core.model.words import Gender
from xref_app.core.parts.house_rules import LOOK_ALIKE_MM, SAME_CREST_MM
from xref_app.core.quantity.couplers import Coupler, names_coupler, parse_coupler
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.seal_forms import TWO_SEALS_THREAD, SealForm, parse_end, takes_form
from xref_app.core.quantity.threads import Thread
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.joint_rules import JointRule, joint_rule_or_none

# The seals of the one thread that comes with two (common practice, no published source), mm.
SEALS_MM = (14.0, 15.0)
M22_SEALED_BY = "O-ring on the plug"

SEAL_DIFFERS = marked(
    "findings",
    "The seal is {ours:.0f} mm on the machine and {theirs:.0f} mm on the pump: same thread, but it will not seal.",
)
GENDER_SAME = marked("findings", "Both ends are {gender}.")
PITCH_DIFFERS = marked(
    "findings",
    "{ours} has {ours_pitch:.3f} mm pitch and {theirs} {theirs_pitch:.3f} mm: they start, then bind.",
)
ANGLE_DIFFERS = marked("findings", "{ours} and {theirs} look alike but are cut to different forms: they never seal.")
OTHER_THREAD = marked("findings", "{ours} and {theirs} are different threads{sizes}.")

FORM_DIFFERS = marked(
    "findings",
    "{ours} ends in {our_form} on the machine and in {their_form} on the pump: same thread, but it will not seal.",
)
FORMS: Mapping[SealForm, str] = {
    SealForm.O_RING: marked("findings", "an O-ring port"),
    SealForm.FLARE_37: marked("findings", "a flare of 37 degrees"),
    SealForm.FLARE_45: marked("findings", "a flare of 45 degrees"),
    SealForm.CONE_60: marked("findings", "a cone of 60 degrees"),
    SealForm.CONE_24_LIGHT: marked("findings", "a cone of 24 degrees, light series"),
    SealForm.CONE_24_HEAVY: marked("findings", "a cone of 24 degrees, heavy series"),
    SealForm.FLAT_SHOULDER: marked("findings", "a flat face with its washer under the shoulder"),
    SealForm.FLAT_END: marked("findings", "a flat face with its washer in the nut"),
}
SCREW_COUPLING = marked("findings", "the plug seal of a screw coupling")

# How a form is made tight (the standards of core/quantity/seal_forms.py, from memory).
_CONE, _RING, _WASHER = "cone on cone, dry", "O-ring in the chamfer", "flat or bonded washer"
_CONE_OF_TUBE = "cone on cone, with its cutting ring or O-ring"
FORM_SEALED_BY: Mapping[SealForm, str] = {
    SealForm.O_RING: _RING,
    SealForm.FLARE_37: _CONE,
    SealForm.FLARE_45: _CONE,
    SealForm.CONE_60: _CONE,
    SealForm.CONE_24_LIGHT: _CONE_OF_TUBE,
    SealForm.CONE_24_HEAVY: _CONE_OF_TUBE,
    SealForm.FLAT_SHOULDER: _WASHER,
    SealForm.FLAT_END: _WASHER,
}

COUPLER_SIZE_DIFFERS = marked(
    "findings", "{ours} and {theirs} are different sizes: the plug does not lock in the socket."
)
COUPLER_PROFILE_DIFFERS = marked(
    "findings", "{ours} and {theirs} are one size of two profiles: the plug does not lock in the socket."
)
COUPLER_AND_THREAD = marked("findings", "{ours} and {theirs}: a coupler does not go on a thread.")

THREAD_UNREADABLE = marked("findings", "“{text}” is no thread we know; read it with pitch and series.")


@dataclass(frozen=True, slots=True)
class ReadEnd:
    """One end with its thread, or the plug-in coupler it has instead, understood.

    ``seals_mm`` are the seals that lie inside its reading, where the thread comes with two; empty where the thread has
    one seal only, where a form says that it is no screw coupling, or where the reading holds neither. ``form`` says how
    an end of a thread that comes in several seals: in a flare or cone, on a washer, in an O-ring port.
    """

    thread: Thread | Coupler
    gender: Gender
    seals_mm: tuple[float, ...] = ()
    form: SealForm | None = None

    @property
    def designation(self) -> str:
        """Return the one canonical way to write the end: its thread or coupler, and how it seals where that is said."""
        return self.thread.designation if self.form is None else f"{self.thread.designation} {self.form}"

    @property
    def is_seal_open(self) -> bool:
        """Say whether the thread comes with two seals and the reading settles neither of them."""
        return self.thread.designation == TWO_SEALS_THREAD and self.form is None and len(self.seals_mm) != 1

    @property
    def is_profile_open(self) -> bool:
        """Say whether it is a plug-in coupler whose profile nobody knows."""
        return isinstance(self.thread, Coupler) and not self.thread.profile

    @property
    def is_form_open(self) -> bool:
        """Say whether the thread comes in several forms and nobody knows which this is."""
        return isinstance(self.thread, Thread) and takes_form(self.thread) and self.form is None

    @property
    def is_open(self) -> bool:
        """Say whether seal, profile or form must be known before anything may go on this end."""
        return self.is_seal_open or self.is_profile_open or self.is_form_open


def read_end_or_none(end: End) -> ReadEnd | None:
    """Return the end understood, or None while thread or gender are not known or the thread cannot be read."""
    if end.thread is None or end.gender is None:
        return None
    thread = thread_or_none(end.thread.value)
    if thread is None:
        return None
    seal = end.seal_mm.range if end.seal_mm else None
    form = form_or_none(end.thread.value)
    return ReadEnd(thread, end.gender.value, _seals(thread, form, seal), form)


@lru_cache(maxsize=4096)
def read_part_end_or_none(end: PartEnd) -> ReadEnd | None:
    """Return a listed fitting's end understood, or None where its thread cannot be read."""
    thread = thread_or_none(end.thread)
    if thread is None:
        return None
    seal = None if end.seal_mm is None else Range.exactly(end.seal_mm)
    form = form_or_none(end.thread)
    return ReadEnd(thread, end.gender, _seals(thread, form, seal), form)


def thread_or_none(text: str) -> Thread | Coupler | None:
    """Return the thread or plug-in coupler that ``text`` names, or None where it names none."""
    try:
        return parse_coupler(text) if names_coupler(text) else parse_end(text)[0]
    except MeasureError:
        return None


def form_or_none(text: str) -> SealForm | None:
    """Return how the end that ``text`` names seals, or None where it does not say, or names no thread."""
    try:
        return None if names_coupler(text) else parse_end(text)[1]
    except MeasureError:
        return None


def comes_with_two_seals(text: str) -> bool:
    """Say whether ``text`` names a screw coupling, whose seal has to be measured besides."""
    thread = thread_or_none(text)
    return thread is not None and thread.designation == TWO_SEALS_THREAD and form_or_none(text) is None


def _seals(thread: Thread | Coupler, form: SealForm | None, seal: Range | None) -> tuple[float, ...]:
    if thread.designation != TWO_SEALS_THREAD or form is not None:
        return ()
    if seal is None:
        return SEALS_MM
    return tuple(size for size in SEALS_MM if seal.meets(Range.exactly(size)))


def mates(one: ReadEnd, other: ReadEnd) -> bool | None:
    """Say whether two ends make a joint; None while it hangs on a seal, a form or a profile that nobody knows."""
    if one.gender is other.gender:
        return False
    if isinstance(one.thread, Coupler) and isinstance(other.thread, Coupler):
        rule = rule_or_none(one, other)
        return one.thread.locks_in(other.thread) if rule is not None and rule.joins else False
    if not _same_thread(one, other):
        return False
    if one.is_seal_open or other.is_seal_open:
        # A reading between the two sizes is neither: never rounded to the nearer one, but measured again.
        both_known = one.seals_mm and other.seals_mm
        return False if both_known and not set(one.seals_mm) & set(other.seals_mm) else None
    if one.is_form_open or other.is_form_open:
        return None
    return one.seals_mm == other.seals_mm and one.form is other.form


def _same_thread(one: ReadEnd, other: ReadEnd) -> bool:
    """Say whether the threads go together: a joint of the table, and the same size."""
    rule = rule_or_none(one, other)
    if rule is None or not rule.joins:
        return False
    if one.thread.family == other.thread.family:
        return one.thread.designation == other.thread.designation
    return one.thread.nominal == other.thread.nominal


def rule_or_none(one: ReadEnd, other: ReadEnd) -> JointRule | None:
    """Return what the table says of two ends of these families; None where it has no such pair.

    Where both ends are of one gender the pair is looked up the way round that joins: R is an outside thread only.
    """
    male, female = (one, other) if one.gender is Gender.MALE else (other, one)
    if one.gender is not other.gender:
        return joint_rule_or_none(male.thread.family, female.thread.family)
    both = (one.thread.family, other.thread.family)
    rules = (joint_rule_or_none(*both), joint_rule_or_none(*reversed(both)))
    return next((rule for rule in rules if rule is not None and rule.joins), None)


def sealed_by(one: ReadEnd, other: ReadEnd) -> str:
    """Return how a joint of two ends that mate is made tight, in words."""
    rule = rule_or_none(one, other)
    if rule is None:
        return ""
    if one.form is not None:
        return FORM_SEALED_BY[one.form]
    return M22_SEALED_BY if one.thread.designation == TWO_SEALS_THREAD else rule.sealed_by


def why_not(ours: ReadEnd, theirs: ReadEnd) -> Sentence:
    """Return, for two ends that do not mate, the number that differs."""
    names = {"ours": ours.thread.designation, "theirs": theirs.thread.designation}
    if isinstance(ours.thread, Coupler) and isinstance(theirs.thread, Coupler):
        return _why_not_couplers(ours, theirs, names)
    if _same_thread(ours, theirs):
        if ours.gender is theirs.gender:
            return Sentence(GENDER_SAME, {"gender": ours.gender.value})
        if ours.form is not theirs.form:
            forms = {"our_form": _form_worded(ours), "their_form": _form_worded(theirs)}
            return Sentence(FORM_DIFFERS, {"ours": names["ours"], **forms})
        return Sentence(SEAL_DIFFERS, {"ours": ours.seals_mm[0], "theirs": theirs.seals_mm[0]})
    return _why_not_threads(ours.thread, theirs.thread, names)


def _form_worded(end: ReadEnd) -> str:
    return SCREW_COUPLING if end.form is None else FORMS[end.form]


def _why_not_couplers(ours: ReadEnd, theirs: ReadEnd, names: Mapping[str, object]) -> Sentence:
    """Return what parts two halves of couplers: the size, else that they are one half twice, else the profile."""
    if ours.thread.nominal != theirs.thread.nominal:
        return Sentence(COUPLER_SIZE_DIFFERS, names)
    if ours.gender is theirs.gender:
        return Sentence(GENDER_SAME, {"gender": ours.gender.value})
    return Sentence(COUPLER_PROFILE_DIFFERS, names)


def _why_not_threads(ours: Thread | Coupler, theirs: Thread | Coupler, names: Mapping[str, object]) -> Sentence:
    """Return what parts two threads, or a coupler from a thread."""
    if isinstance(ours, Coupler) or isinstance(theirs, Coupler):
        return Sentence(COUPLER_AND_THREAD, names)
    pitches = {"ours_pitch": ours.pitch_mm, "theirs_pitch": theirs.pitch_mm}
    if not _look_alike(ours, theirs):
        return Sentence(OTHER_THREAD, {**names, "sizes": _sizes(ours, theirs)})
    if ours.pitch_mm != theirs.pitch_mm:
        return Sentence(PITCH_DIFFERS, {**names, **pitches})
    return Sentence(ANGLE_DIFFERS, names)


def _sizes(one: Thread, other: Thread) -> str:
    if one.diameter_mm is None or other.diameter_mm is None or abs(one.diameter_mm - other.diameter_mm) < SAME_CREST_MM:
        return ""
    return f": {one.diameter_mm:.1f} against {other.diameter_mm:.1f} mm over the crests"


def _look_alike(one: Thread, other: Thread) -> bool:
    """Say whether two threads are near enough in size to be started into each other by hand."""
    if one.diameter_mm is None or other.diameter_mm is None:
        return one.nominal == other.nominal
    return abs(one.diameter_mm - other.diameter_mm) <= LOOK_ALIKE_MM
