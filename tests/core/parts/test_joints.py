"""What joins and what does not: the table of joints against the standards, the near misses and the rule it replaced."""

from __future__ import annotations

from itertools import product

import pytest

from xref_app.core.model.shelf import PartEnd
from xref_app.core.model.words import Gender
from xref_app.core.parts.joints import ReadEnd, mates, read_part_end_or_none, sealed_by, thread_or_none, why_not
from xref_app.core.quantity.couplers import Coupler, parse_coupler
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.observed import FieldForm, FieldKind, read_field
from xref_app.core.quantity.thread_table import thread_rows
from xref_app.core.standards.joint_rules import joint_rules
from xref_app.core.standards.near_misses import near_misses

MALE, FEMALE = Gender.MALE, Gender.FEMALE


def end(thread: str, gender: Gender, seal_mm: float | None = None) -> ReadEnd:
    read = read_part_end_or_none(PartEnd(thread, gender, seal_mm))
    assert read is not None, thread
    return read


# Male into female and how it is made tight, as the thread standards themselves say what they are for.
PUBLISHED = [
    ("3/8-18 NPT", "3/8-18 NPT", "sealant"),  # ASME B1.20.1: taper to taper, tight with sealant
    ("R3/8", "Rp3/8", "sealant"),  # ISO 7-1: taper outside into parallel inside
    ("R3/8", "Rc3/8", "sealant"),  # ISO 7-1: and into taper inside
    # ISO 228-1: pressure-tight joints are not made on the thread; how they are made: standards named from memory
    ("G3/8 flat shoulder", "G3/8 flat shoulder", "washer"),  # ISO 1179
    ("G3/8 flat end", "G3/8 flat end", "washer"),
    ("G3/8 cone 60", "G3/8 cone 60", "cone on cone"),  # ISO 8434-6
    ("M18x1.5 cone 24 L", "M18x1.5 cone 24 L", "cone on cone, with its cutting ring"),  # ISO 8434-1
    ("M18x1.5 cone 60", "M18x1.5 cone 60", "cone on cone"),  # DIN 3863
    ("M18x1.5 flat shoulder", "M18x1.5 flat shoulder", "washer"),  # ISO 9974
    ("M18x1.5 O-ring", "M18x1.5 O-ring", "O-ring in the chamfer"),  # ISO 6149
    ("M22x1.5 cone 24 S", "M22x1.5 cone 24 S", "cone on cone"),  # ISO 8434-1: not every M22x1.5 is a screw coupling
    ("3/4-11.5 NH", "3/4-11.5 NH", "flat washer"),  # ASME B1.20.7: hose couplings seal on a washer
    ("3/4-11.5 NHR", "3/4-11.5 NH", "flat washer"),
    ("7/8-14 UNF O-ring", "7/8-14 UNF O-ring", "O-ring"),  # SAE J1926-1: straight thread port with O-ring
    ("7/8-14 UNF flare 37", "7/8-14 UNF flare 37", "cone on cone"),  # SAE J514: 37° flared ends seal cone on cone
]


@pytest.mark.parametrize(("male", "female", "seal"), PUBLISHED)
def test_published_joints_join_and_are_made_tight_as_their_standard_says(male: str, female: str, seal: str) -> None:
    one, other = end(male, MALE), end(female, FEMALE)
    assert mates(one, other) is True
    assert mates(other, one) is True
    assert seal in sealed_by(one, other)


THREAD_PAIRS = [(miss.item.name, miss.other.name) for miss in near_misses() if miss.kind == "thread"]


@pytest.mark.parametrize(("one", "other"), THREAD_PAIRS)
def test_every_near_miss_is_refused_either_way_round_and_says_why(one: str, other: str) -> None:
    if thread_or_none(one) is None or thread_or_none(other) is None:
        pytest.fail(f"{one} or {other} cannot be read")
    for male, female in ((one, other), (other, one)):
        assert mates(end(male, MALE), end(female, FEMALE)) is False
        why = str(why_not(end(male, MALE), end(female, FEMALE)))
        assert thread_or_none(male).designation in why  # type: ignore[union-attr] # read above
        assert any(sign.isdigit() for sign in why)


def test_the_near_misses_are_all_looked_at() -> None:
    assert len(THREAD_PAIRS) >= 35
    # shafts, keys and flanges are no joints of water; the coupling is the two seals below
    assert {miss.kind for miss in near_misses()} == {"thread", "shaft", "key", "flange", "coupling"}


def test_a_seal_of_14_mm_does_not_take_one_of_15_mm() -> None:
    (pair,) = (miss for miss in near_misses() if miss.kind == "coupling")
    ours, theirs = (end("M22x1.5", gender, miss.size_mm) for gender, miss in ((MALE, pair.item), (FEMALE, pair.other)))
    assert mates(ours, theirs) is False
    assert "14 mm" in str(why_not(ours, theirs))
    assert "15 mm" in str(why_not(ours, theirs))
    assert sealed_by(ours, end("M22x1.5", FEMALE, 14.0)) == "O-ring on the plug"


def joined_before_there_was_a_table(male: str, female: str, family: dict[str, str], nominal: dict[str, str]) -> bool:
    """Return what the rule said that the table replaced: one designation (R is outside only), R in Rp or Rc, NH/NHR."""
    if male == female:
        return family[male] != "R"
    if nominal[male] != nominal[female]:
        return False
    pair = (family[male], family[female])
    return pair in {("R", "Rp"), ("R", "Rc"), ("NH", "NHR"), ("NHR", "NH")}


def test_the_table_joins_what_was_joined_before_and_nothing_else() -> None:
    rows = thread_rows()
    family = {row.designation: row.family.value for row in rows}
    nominal = {row.designation: row.size for row in rows}
    changed = set()
    for male, female in product(family, repeat=2):
        seal = 14.0 if "M22x1.5" in {male, female} else None
        now = mates(end(male, MALE, seal), end(female, FEMALE, seal))
        if now is not joined_before_there_was_a_table(male, female, family, nominal):
            changed.add((family[male], family[female], now))
    # Rp and Rc are inside threads by ISO 7-1: a male end called so is wrongly named, as a female one called R is.
    # Parallel threads without a form come in several: until somebody looked it is not known. Hose threads have one.
    several = {(one, one, None) for one in ("UNF", "UN", "UNC", "G", "M", "NPSM")}
    assert changed == {("Rp", "Rp", False), ("Rc", "Rc", False)} | several


# --- straight inch ends: cone or O-ring port (SAE J514 against SAE J1926-1 and ISO 11926-1)


@pytest.mark.parametrize("thread", ["7/8-14 UNF", "1 1/16-12 UN"])
def test_a_cone_and_an_o_ring_port_of_one_thread_never_join(thread: str) -> None:
    cone, ring, unknown = (end(f"{thread}{form}", MALE) for form in (" flare 37", " O-ring", ""))
    other_cone, other_ring, other_unknown = (end(f"{thread}{form}", FEMALE) for form in (" flare 37", " O-ring", ""))
    assert mates(cone, other_cone) is True
    assert mates(ring, other_ring) is True
    assert mates(cone, other_ring) is False
    assert mates(ring, other_cone) is False
    for one, other in product((cone, ring, unknown), (other_cone, other_ring, other_unknown)):
        if unknown in (one, other) or other_unknown in (one, other):
            assert mates(one, other) is None
    assert "an O-ring port" in str(why_not(cone, other_ring))


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("9/16-18 unf o-ring", "9/16-18 UNF O-ring"),
        ("9/16-18 UNF, 37° flare", "9/16-18 UNF flare 37"),
        ("3/4-16 UNF 45° flare", "3/4-16 UNF flare 45"),
        ("3/4-16 UNF cone 45", "3/4-16 UNF flare 45"),
        ("7/8-14 UNF JIC", "7/8-14 UNF flare 37"),
        ("7/8-14 UNF with O ring port", "7/8-14 UNF O-ring"),
        ("7/8-14 UNF", "7/8-14 UNF"),
        ("G 3/8, 60° cone", "G3/8 cone 60"),
        ("3/8 BSPP cone 60", "G3/8 cone 60"),
        ("G3/4 flat washer in the nut", "G3/4 flat end"),
        ("G1/4 flat face under the shoulder", "G1/4 flat shoulder"),
        ("m18 x 1,5 24° cone l", "M18x1.5 cone 24 L"),
        ("M18x1.5 cone 24 S", "M18x1.5 cone 24 S"),
        ("M18x1.5 with O-ring port", "M18x1.5 O-ring"),
        ("M22x1.5", "M22x1.5"),
    ],
)
def test_the_form_of_an_end_is_written_behind_its_thread(typed: str, kept: str) -> None:
    form = FieldForm(FieldKind.THREAD, is_water_end=True)
    assert read_field(form, typed).text == kept
    assert read_field(form, kept).text == kept


def test_two_flares_of_one_thread_never_join() -> None:
    # SAE J514 against SAE J512: 37 and 45 degrees.
    assert mates(end("3/4-16 UNF flare 37", MALE), end("3/4-16 UNF flare 45", FEMALE)) is False
    assert mates(end("3/4-16 UNF flare 45", MALE), end("3/4-16 UNF flare 45", FEMALE)) is True


@pytest.mark.parametrize("written", ["7/8-14 UNF flare", "7/8-14 UNF cone"])
def test_a_flare_without_its_angle_is_refused(written: str) -> None:
    assert read_part_end_or_none(PartEnd(written, MALE)) is None
    with pytest.raises(MeasureError, match=r"without its angle, 37 or 45 degrees|without its one angle"):
        read_field(FieldForm(FieldKind.THREAD, is_water_end=True), written)


@pytest.mark.parametrize("paste", ["7/8 " + " " * 200_000 + "x", "9/16-18 UNF O-ring " * 20_000])
def test_a_pasted_page_is_no_end_and_is_refused_at_once(paste: str) -> None:
    with pytest.raises(MeasureError, match="has more than 64 characters"):
        read_field(FieldForm(FieldKind.THREAD, is_water_end=True), paste)


def test_a_form_that_the_thread_does_not_come_in_is_refused() -> None:
    form = FieldForm(FieldKind.THREAD, is_water_end=True)
    for written, families in {
        "G3/8 flare 37": "UN and UNF",
        "G3/8 cone 24 L": "M",
        "7/8-14 UNF cone 60": "G, M and NPSM",
        "3/4-11.5 NH flat end": "G, M and NPSM",
        "3/8-18 NPT O-ring": "UN, UNF, UNC, G and M",
        "R3/8 cone 60": "G, M and NPSM",
    }.items():
        with pytest.raises(MeasureError, match=f"names a form that only {families} ends come in"):
            read_field(form, written)


def test_every_rule_that_joins_says_how_it_is_made_tight_and_every_refusal_what_differs() -> None:
    for rule in joint_rules():
        assert bool(rule.sealed_by) is rule.joins, rule
        assert bool(rule.differs) is not rule.joins, rule
    assert len({(rule.male, rule.female) for rule in joint_rules()}) == len(joint_rules())


# --- plug-in couplers: common practice, no published source


@pytest.mark.parametrize(
    "written",
    ["quick coupler 3/8", "Quick-Coupler 3/8", '3/8" quick coupler', "3/8 in quick coupler", "plug-in coupler 3/8"],
)
def test_a_coupler_is_read_however_it_is_written(written: str) -> None:
    assert parse_coupler(written) == Coupler("3/8")
    assert thread_or_none(written) == Coupler("3/8")
    assert parse_coupler(written).designation == "quick coupler 3/8"


@pytest.mark.parametrize("written", ["quick coupler", "coupler 3/8", "quick coupler 3/7", "quick coupler M22x1.5"])
def test_a_coupler_without_a_known_size_is_refused(written: str) -> None:
    with pytest.raises(MeasureError):
        parse_coupler(written)
    assert thread_or_none(written) is None


@pytest.mark.parametrize(
    "written",
    ["quick coupler 3/8 profile A", "Quick-Coupler 3/8, profile a", '3/8" quick coupler profile A'],
)
def test_a_profile_is_read_with_the_size(written: str) -> None:
    assert parse_coupler(written) == Coupler("3/8", "A")
    assert parse_coupler(parse_coupler(written).designation) == Coupler("3/8", "A")


@pytest.mark.parametrize("word", ["unknown", "any", "n/a", "Universal", "?", ""])
def test_a_word_for_no_profile_is_not_taken_for_one(word: str) -> None:
    with pytest.raises(MeasureError):
        parse_coupler(f"quick coupler 3/8 profile {word}")


PLUG, SOCKET = end("quick coupler 3/8 profile A", MALE), end("quick coupler 3/8 profile A", FEMALE)
UNSAID_PLUG, UNSAID_SOCKET = end("quick coupler 3/8", MALE), end("quick coupler 3/8", FEMALE)


def test_a_plug_goes_in_the_socket_of_its_size_and_profile_only() -> None:
    other_size, other_profile = end("quick coupler 1/4 profile A", FEMALE), end("quick coupler 3/8 profile B", FEMALE)
    assert mates(PLUG, SOCKET) is True
    assert mates(SOCKET, PLUG) is True
    assert sealed_by(PLUG, SOCKET) == "the O-ring in the socket"
    for refused in (PLUG, other_size, other_profile, end("3/8-18 NPT", FEMALE)):
        assert mates(PLUG, refused) is False
        assert mates(refused, PLUG) is False
    assert str(why_not(PLUG, PLUG)) == "Both ends are male."
    assert str(why_not(PLUG, UNSAID_PLUG)) == "Both ends are male."
    assert str(why_not(PLUG, other_profile)) == (
        "quick coupler 3/8 profile A and quick coupler 3/8 profile B are one size of two profiles: the plug does not "
        "lock in the socket."
    )
    assert str(why_not(PLUG, other_size)) == (
        "quick coupler 3/8 profile A and quick coupler 1/4 profile A are different sizes: the plug does not lock in "
        "the socket."
    )
    assert str(why_not(PLUG, end("3/8-18 NPT", FEMALE))) == (
        "quick coupler 3/8 profile A and 3/8-18 NPT: a coupler does not go on a thread."
    )


@pytest.mark.parametrize(
    ("plug", "socket"), [(UNSAID_PLUG, UNSAID_SOCKET), (PLUG, UNSAID_SOCKET), (UNSAID_PLUG, SOCKET)]
)
def test_a_coupler_whose_profile_nobody_knows_goes_on_nothing_yet(plug: ReadEnd, socket: ReadEnd) -> None:
    assert mates(plug, socket) is None
    assert mates(socket, plug) is None
    assert mates(plug, end("quick coupler 1/4", FEMALE)) is False


def test_a_water_end_may_be_a_coupler_and_a_bolt_may_not() -> None:
    water, bolt = FieldForm(FieldKind.THREAD, is_water_end=True), FieldForm(FieldKind.THREAD)
    assert read_field(water, '3/8" quick coupler').text == "quick coupler 3/8"
    assert read_field(water, "3/8 NPT").text == "3/8-18 NPT"
    with pytest.raises(MeasureError):
        read_field(bolt, "quick coupler 3/8")
