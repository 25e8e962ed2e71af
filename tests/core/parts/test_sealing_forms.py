"""No joint of two ends of different or unknown form, alone or anywhere in a chain; a plain oracle over the texts.

What the ends of a thread are sold with is written out here once more, the standards from memory: G: ISO 8434-6,
ISO 1179; metric: ISO 8434-1, DIN 3863, ISO 9974, ISO 6149; straight inch: SAE J512, J514, J1926-1. Common practice, no
published source: a bare M22x1.5 is a screw coupling with a plug of 14 or 15 mm, and the NPT, R and hose threads have
one form each.
"""

from __future__ import annotations

import random
from collections import Counter
from itertools import product

import pytest

from xref_app.core.model.shelf import Part, PartEnd
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.parts.chains import Chain, best_chains
from xref_app.core.parts.fitting_index import fitting_index
from xref_app.core.parts.joints import FORM_SEALED_BY, FORMS, ReadEnd, mates, read_part_end_or_none, why_not
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.seal_forms import FORMS_OF, SealForm, parse_end
from xref_app.core.standards.joint_rules import joint_rules

MALE, FEMALE = Gender.MALE, Gender.FEMALE
PIPE = ("cone 60", "flat shoulder", "flat end", "O-ring")
SOLD_WITH = {
    "G3/8": PIPE,
    "G3/4": PIPE,
    "M18x1.5": (*PIPE, "cone 24 L", "cone 24 S"),
    "M22x1.5": (*(form for form in PIPE if form != "O-ring"), "cone 24 L", "cone 24 S"),
    "7/8-14 UNF": ("flare 37", "flare 45", "O-ring"),
}
ONE_FORM = ("3/8-18 NPT", "3/4-11.5 NH")


def test_an_o_ring_does_not_hide_which_plug_a_screw_coupling_has() -> None:
    """Its plug has an O-ring as well: 14 mm would go for 15."""
    for text in ("M22x1.5 O-ring", "M22x1.5 with O-ring", "M22x1.5 O-ring port"):
        for seal in (14.0, None):
            assert read_part_end_or_none(PartEnd(text, MALE, seal)) is None, text
        with pytest.raises(MeasureError, match="14 or 15 mm"):
            parse_end(text)


def random_end(rng: random.Random) -> PartEnd:
    """Return an end of a thread with a form, with none said, or of a thread that has one only."""
    thread = rng.choice((*SOLD_WITH, *ONE_FORM))
    forms = SOLD_WITH.get(thread, ())
    form = rng.choice(("", *forms[:3]))
    seal = rng.choice((14.0, 14.0, 15.0, None)) if thread == "M22x1.5" else None
    return PartEnd(f"{thread} {form}".strip(), rng.choice((MALE, FEMALE)), seal)


def what_seals_or_none(end: PartEnd) -> str | None:
    """Return the thread with what seals its end; None where nobody said and it comes in more than one way."""
    bare = next(thread for thread in (*SOLD_WITH, *ONE_FORM) if end.thread.startswith(thread))
    if end.thread != bare or bare in ONE_FORM:
        return end.thread
    return f"{bare} with a plug of {end.seal_mm:g} mm" if bare == "M22x1.5" and end.seal_mm else None


def joined_or_none(one: PartEnd, other: PartEnd) -> bool | None:
    """Say whether two ends make a tight joint; None where somebody has to look first."""
    threads = [next(known for known in (*SOLD_WITH, *ONE_FORM) if end.thread.startswith(known)) for end in (one, other)]
    if one.gender is other.gender or threads[0] != threads[1]:
        return False
    seals = [what_seals_or_none(end) for end in (one, other)]
    return None if None in seals else seals[0] == seals[1]


def read(end: PartEnd) -> ReadEnd:
    found = read_part_end_or_none(end)
    assert found is not None, end
    return found


def test_two_ends_join_only_where_both_seal_in_the_same_known_way() -> None:
    seen = Counter[bool | None]()
    for seed in range(20_000):
        rng = random.Random(seed)
        one, other = random_end(rng), random_end(rng)
        expected = joined_or_none(one, other)
        assert mates(read(one), read(other)) is expected, (seed, one, other)
        assert mates(read(other), read(one)) is expected, (seed, one, other)
        seen[expected] += 1
    assert min(seen[expected] for expected in (True, False, None)) >= 200, seen


def joints_of(chain: Chain, hose: PartEnd, port: PartEnd) -> list[tuple[PartEnd, PartEnd]]:
    """Return every pair of ends that a chain puts together on the way, from the hose on."""
    here, found = hose, []
    for step in chain.steps:
        into, out = (next(end for end in step.part.ends if read(end) == kind) for kind in (step.into_end, step.out_end))
        found.append((here, into))
        here = out
    return [*found, (here, port)]


def test_no_chain_holds_a_joint_of_two_forms_or_of_one_nobody_knows() -> None:
    joints, plugged = 0, 0
    for seed in range(3_000):
        rng = random.Random(seed)
        shelf = tuple(
            Part(
                PartKind.FITTING,
                count=2,
                cost=1.0,
                part_id=f"T-{place}",
                ends=tuple(random_end(rng) for _ in range(rng.choices((1, 2, 3), (6, 20, 2))[0])),
            )
            for place in range(25)
        )
        hose, port = random_end(rng), random_end(rng)
        for chain in best_chains(fitting_index(shelf, least_bar=None, hottest_c=20.0), read(hose), read(port)):
            for pair in joints_of(chain, hose, port):
                assert joined_or_none(*pair) is True, (seed, pair)
                joints += 1
            for step in chain.steps:
                plugged += bool(step.plugs)
                for plug in step.plugs:
                    assert any(joined_or_none(plug.ends[0], end) is True for end in step.part.ends), (seed, step)
    assert joints >= 500
    assert plugged >= 5


@pytest.mark.parametrize("thread", SOLD_WITH)
def test_two_forms_of_one_thread_are_both_named(thread: str) -> None:
    for ours, theirs in product(SOLD_WITH[thread], repeat=2):
        one, other = read(PartEnd(f"{thread} {ours}", MALE)), read(PartEnd(f"{thread} {theirs}", FEMALE))
        if ours != theirs:
            words = (FORMS[SealForm(ours)], FORMS[SealForm(theirs)])
            assert all(word in str(why_not(one, other)) for word in words)
            assert words[0] != words[1]


def test_a_cone_on_the_thread_of_the_screw_coupling_is_no_coupling() -> None:
    # ISO 8434-1, from memory: M22x1.5 is the nut of the tubes of 15 mm, light, and 14 mm, heavy.
    coupling = read(PartEnd("M22x1.5", FEMALE, 15.0))
    for form in ("cone 24 L", "cone 24 S", "cone 60", "flat shoulder"):
        for seal in (None, 15.0):  # the bore of the tube is not the seal of a coupling
            cone = read(PartEnd(f"M22x1.5 {form}", MALE, seal))
            assert mates(cone, coupling) is False
            assert "plug seal of a screw coupling" in str(why_not(cone, coupling))
    assert mates(read(PartEnd("M22x1.5 cone 24 L", MALE)), read(PartEnd("M22x1.5", FEMALE))) is None


def test_every_parallel_thread_that_seals_at_its_end_has_its_forms_or_is_a_hose_thread() -> None:
    # NH, NHR and NPSH: ASME B1.20.7, a flat washer in the coupling; the others seal on the thread.
    tight_by_themselves = {"NPT", "NPTF", "R", "Rp", "Rc", "NH", "NHR", "NPSH", "coupler"}
    joined = {family for rule in joint_rules() if rule.joins for family in (rule.male, rule.female)}
    assert joined == tight_by_themselves | set(FORMS_OF)
    assert all(len(forms) > 1 for forms in FORMS_OF.values())
    assert {form for forms in FORMS_OF.values() for form in forms} == set(SealForm) == set(FORMS) == set(FORM_SEALED_BY)
