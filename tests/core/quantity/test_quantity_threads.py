"""Threads as people write them, and the table of pitches behind them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.thread_table import Family, ThreadRow, thread_rows
from xref_app.core.quantity.threads import Thread, parse_thread


def thread_or_refusal(text: str) -> Thread | MeasureError:
    try:
        return parse_thread(text)
    except MeasureError as refusal:
        return refusal


READ = [
    ("3/4-11.5 NH", "3/4-11.5 NH"),
    ("3/4-11,5 nh", "3/4-11.5 NH"),
    ("3/4-11 1/2 NH", "3/4-11.5 NH"),
    ('3/4" GHT', "3/4-11.5 NH"),
    ("¾ NH", "3/4-11.5 NH"),
    ("3/4-11.5NHR", "3/4-11.5 NHR"),
    ("3/4 NPSH", "3/4-14 NPSH"),
    ("3/8-18 NPT", "3/8-18 NPT"),
    ("3/8 NPT", "3/8-18 NPT"),
    ("NPT 3/8", "3/8-18 NPT"),
    ("3/8 in. N.P.T.", "3/8-18 NPT"),
    ("3/8–18 npt", "3/8-18 NPT"),
    ("1 1/4 NPT", "1-1/4-11.5 NPT"),
    ("1-1/4-11.5 NPT", "1-1/4-11.5 NPT"),
    ("1-11.5 NPT", "1-11.5 NPT"),
    ("1/4 NPTF", "1/4-18 NPTF"),
    ("1/2-14 NPSM", "1/2-14 NPSM"),
    ("G3/8", "G3/8"),
    ("G 3/8 A", "G3/8"),
    ("G3/8-19", "G3/8"),
    ("G1¼", "G1-1/4"),
    ("3/8 BSPP", "G3/8"),
    ("BSPP 3/8", "G3/8"),
    ("3/8 BSPT", "R3/8"),
    ("R 1/2", "R1/2"),
    ("rp 3/4", "Rp3/4"),
    ("RC1/4", "Rc1/4"),
    ("M22x1.5", "M22x1.5"),
    ("m22 × 1,5", "M22x1.5"),
    ("M22-1.5", "M22x1.5"),
    ("M22 1.50", "M22x1.5"),
    ("M22*1.5", "M22x1.5"),
    ("M26x1.5", "M26x1.5"),
    ("M8", "M8x1.25"),
    ("M8-6g", "M8x1.25"),
    ("M8x1.25-6H", "M8x1.25"),
    ("M8x1", "M8x1"),
    ("5/16-24 UNF", "5/16-24 UNF"),
    ("5/16-24 UNF-2A", "5/16-24 UNF"),
    ("5/16 UNF", "5/16-24 UNF"),
    ("5/16-24", "5/16-24 UNF"),
    ("5/16-24 UN", "5/16-24 UNF"),
    ("3/8-16", "3/8-16 UNC"),
    ("3/8 - 16 UNC", "3/8-16 UNC"),
    ("UNC 3/8-16", "3/8-16 UNC"),
    ("#10-32", "#10-32 UNF"),
    ("10-24 UNC", "#10-24 UNC"),
    ("1-1/16-12 UN", "1-1/16-12 UN"),
    ("7/8-14", "7/8-14 UNF"),
]


@pytest.mark.parametrize(("text", "designation"), READ)
def test_thread_is_read(text: str, designation: str) -> None:
    assert parse_thread(text).designation == designation


ADVICE = "Write it like M22x1.5, 3/8-18 NPT, G3/8 or 5/16-24 UNF."
REFUSED = [
    (
        "3/4-11.5",
        (
            "“3/4-11.5” names no thread series: it can be NH or NHR, while 3/4 NPT has 14 threads per inch."
            " Write it like 3/4-11.5 NH."
        ),
    ),
    (
        "3/4-14",
        "“3/4-14” names no thread series: it can be NPT or NPTF or NPSM or NPSH. Write it like 3/4-14 NPT.",
    ),
    ("1/2", "“1/2” names no thread series. Write it like 1/2-14 NPT or 1/2-13 UNC."),
    ("3/4-99", "“3/4-99” names no thread series. Write it like 3/4-14 NPT or 3/4-10 UNC."),
    (
        "3/4-11.5 NPT",
        "“3/4-11.5 NPT” has the wrong pitch: 3/4 NPT has 14 threads per inch. Write it like 3/4-14 NPT.",
    ),
    (
        "3/4-14 NH",
        "“3/4-14 NH” has the wrong pitch: 3/4 NH has 11.5 threads per inch. Write it like 3/4-11.5 NH.",
    ),
    ("3/8 BSP", "“3/8 BSP” may be parallel (G) or taper (R). Write it like G3/8 or R3/8."),
    ("3/8-18 BSPP", "“3/8-18 BSPP” has the wrong pitch: 3/8 G has 19 threads per inch. Write it like G3/8."),
    (
        "5/16-18 UNF",
        "“5/16-18 UNF” has the wrong pitch: 5/16 UNF has 24 threads per inch. Write it like 5/16-24 UNF.",
    ),
    ("5/16 UN", "“5/16 UN” can be UNC or UNF. Write it like 5/16-18 UNC."),
    ("9/16 NPT", "“9/16 NPT” is no NPT size known here. Write it like 1/16-27 NPT."),
    ("3/8 XYZ", f"“3/8 XYZ” names no thread series known here. {ADVICE}"),
    ("3/8 NPT-2A", f"“3/8 NPT-2A” names no thread series known here. {ADVICE}"),
    ("M22", "“M22” gives no pitch, and this size is made in more than one. Write it like M22x1.5."),
    ("M9", "“M9” gives no pitch, and this size is made in more than one. Write it like M9x1.5."),
    ("M22x15", "“M22x15” has no pitch that M22 is made in. Write it like M22x1.5."),
    ("M8x1.5", "“M8x1.5” has no pitch that M8 is made in. Write it like M8x1.25."),
    ("M22x1.5 LH", "“M22x1.5 LH” is not a metric thread. Write it like M22x1.5."),
    ("NPT", f"“NPT” is not a thread. {ADVICE}"),
    ("22.2 mm", f"“22.2 mm” is not a thread. {ADVICE}"),
    ("0.375-18 NPT", f"“0.375-18 NPT” is not a thread. {ADVICE}"),
    ("-3/8 NPT", f"“-3/8 NPT” is not a thread. {ADVICE}"),
    ("М22x1.5", f"“М22x1.5” is not a thread. {ADVICE}"),  # begins with the Cyrillic letter
    ("", f"“” is empty. {ADVICE}"),
    ("3/8 NPT" + " " * 60, f"“3/8 NPT{' ' * 33}…” has more than 64 characters. {ADVICE}"),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED)
def test_thread_is_refused_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        parse_thread(text)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize("row", thread_rows(), ids=lambda row: row.designation)
def test_designation_reads_back_as_the_same_thread(row: ThreadRow) -> None:
    thread = parse_thread(row.designation)
    assert (thread.family, thread.nominal, thread.designation) == (row.family, row.size, row.designation)
    assert parse_thread(thread.designation) == thread


@pytest.mark.parametrize("row", thread_rows(), ids=lambda row: row.designation)
def test_every_row_says_where_it_is_from(row: ThreadRow) -> None:
    assert row.source
    assert row.confidence.startswith(("two sources agree", "one source", "from memory"))


def test_no_size_stands_twice_in_one_series() -> None:
    rows = [(row.family, row.size) for row in thread_rows()]
    assert len(rows) == len(set(rows))


@pytest.mark.parametrize("row", [row for row in thread_rows() if row.tpi is not None], ids=lambda row: row.designation)
def test_without_its_series_no_pipe_or_hose_thread_is_guessed(row: ThreadRow) -> None:
    answer = thread_or_refusal(row.designation.removesuffix(f" {row.family}").removeprefix(row.family))
    assert isinstance(answer, MeasureError) or (answer.family, answer.nominal) == (row.family, row.size)
    assert isinstance(answer, MeasureError) or answer.family.is_unified


# Pitch in mm as printed: ISO 228-1 and ISO 7-1 table 1, ASME B1.20.1 table 2 (0.0741, 0.0556, 0.0714, 0.0870 in),
# ASME B1.20.7, ISO 261, ASME B1.1; taken over from the project's reference table of threads, which names them.
PRINTED_PITCH_MM = [
    ("1/8-27 NPT", 0.9407),
    ("3/8-18 NPT", 1.4111),
    ("1/2-14 NPT", 1.8143),
    ("1-11.5 NPT", 2.2087),
    ("3/4-11.5 NH", 2.2087),
    ("3/4-14 NPSH", 1.8143),
    ("G1/8", 0.907),
    ("G3/8", 1.337),
    ("G3/4", 1.814),
    ("G1", 2.309),
    ("R3/8", 1.337),
    ("M6", 1),
    ("M8", 1.25),
    ("M12", 1.75),
    ("M22x1.5", 1.5),
    ("1/4-20 UNC", 1.27),
    ("5/16-24 UNF", 1.0583),
    ("7/16-14 UNC", 1.8143),
    ("1-1/16-12 UN", 2.1167),
]


@pytest.mark.parametrize(("text", "pitch_mm"), PRINTED_PITCH_MM)
def test_pitch_agrees_with_the_printed_one(text: str, pitch_mm: float) -> None:
    assert parse_thread(text).pitch_mm == pytest.approx(pitch_mm, abs=0.0005)


@pytest.mark.parametrize(
    "row", [row for row in thread_rows() if row.family.is_unified], ids=lambda row: row.designation
)
def test_unified_major_diameter_is_the_size(row: ThreadRow) -> None:
    """ASME B1.1: the basic major diameter is the nominal size; number sizes are 0.060 in + 0.013 in per number."""
    if row.size.startswith("#"):
        inches = Fraction("0.060") + int(row.size[1:]) * Fraction("0.013")
    else:
        inches = sum((Fraction(part) for part in row.size.split("-")), Fraction(0))
    assert row.major_mm == inches * Fraction("25.4")


def test_g_and_r_share_sizes_and_pitches() -> None:
    """ISO 7-1 and ISO 228-1 give one basic diameter and pitch per size at the gauge plane."""
    parallel = {row.size: (row.tpi, row.major_mm) for row in thread_rows() if row.family is Family.G}
    taper = {row.size: (row.tpi, row.major_mm) for row in thread_rows() if row.family is Family.R}
    shared = parallel.keys() & taper.keys()
    assert len(shared) >= 8
    assert all(parallel[size] == taper[size] for size in shared)


@given(st.one_of(st.text(max_size=70), st.from_regex(r"[-GMRNPTHUFCx0-9./ \"]{1,14}", fullmatch=True)))
def test_any_text_is_read_or_refused_and_never_breaks(text: str) -> None:
    answer = thread_or_refusal(text)
    if isinstance(answer, Thread):
        assert parse_thread(answer.designation) == answer
    else:
        assert str(answer).isprintable()
