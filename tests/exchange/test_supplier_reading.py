"""A supplier's file is read by a child: what hurts it is refused with a sentence, and this process goes on."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from tests.exchange.hostile_books import HOSTILE, good_book, long_text
from xref_app.core.progress import NO_PROGRESS, WorkCancelledError
from xref_app.exchange.supplier_errors import SupplierFileError
from xref_app.exchange.supplier_limits import CHILD_MEMORY_BYTES, MOST_BYTES, MOST_OF_A_CELL
from xref_app.exchange.supplier_reading import read_supplier_file
from xref_app.exchange.supplier_sheet import HowToRead

CHILD = [sys.executable, "-m", "xref_app.exchange.supplier_child"]

# What each is refused for: the library behind the looks would stop some of them, too.
WHY = {
    "zip bomb": "unpacks to more than 100 times its size",
    "million columns": "has a row of more than 512 columns",
    "million columns of text": "has a row of more than 512 columns",
    "far corner": "has more than 200000 rows",
    "far below": "has more than 200000 rows",
    "billion laughs": "defines words of its own (a DTD)",
    "external entity": "defines words of its own (a DTD)",
    "entity in other letters": "is written in a way that no spreadsheet program writes",
    "entity across chunks": "defines words of its own (a DTD)",
    "spaces": "unpacks to more than 300 MB",
    "many sheets": "is made of more than 2000 parts",
    "listed sheets": "has more than 100 sheets",
    "nested zip": "holds another file inside",
    "nested under another name": "holds another file inside",
    "macro": "holds a program (macro)",
    "macro by type": "holds a program (macro)",
    "locked": "is locked with a password",
    "unstored formula": "holds a formula whose result was never stored",
    "merged all over": "has more than 10000 merged cells",
    "merged over everything": "has merged cells that lie over each other",
    "deep": "is torn, or no workbook",
    "endless quote": "has more than 200000 rows",
    "binary": "is no table",
    "torn": "is torn: it cannot be unpacked",
}


def test_every_hostile_file_has_its_reason() -> None:
    assert WHY.keys() == HOSTILE.keys()


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_with_a_sentence(name: str, tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(HOSTILE[name]())
    before = time.perf_counter()
    with pytest.raises(SupplierFileError) as refusal:
        read_supplier_file(path, NO_PROGRESS)
    print(f"\n{name}: {time.perf_counter() - before:.2f} s, {refusal.value}")  # noqa: T201
    assert str(refusal.value).startswith(f"“list.xlsx” {WHY[name]}")
    assert refusal.value.advice


def test_a_good_workbook_is_read(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(good_book())
    assert read_supplier_file(path, NO_PROGRESS).sheets[0].rows == (("No.", "Bore mm"), ("A-1", "19.05"))


def test_a_very_long_cell_is_cut(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(long_text())
    with pytest.raises(SupplierFileError):  # Python's own reader of CSV takes no cell that long
        read_supplier_file(path, NO_PROGRESS)
    path.write_bytes(b"No.;Name\nA-1;" + b"x" * 100_000)
    assert read_supplier_file(path, NO_PROGRESS).sheets[0].rows[1][1] == "x" * MOST_OF_A_CELL


@pytest.mark.skipif(os.name != "posix", reason="only POSIX limits a process so")
def test_the_child_has_no_more_memory_than_it_is_given_and_may_open_nothing() -> None:
    script = """
import resource, xref_app.exchange.supplier_child as child
child.limit_this_process(512 * 1024 * 1024, 10)
print(*(resource.getrlimit(one)[0] for one in (resource.RLIMIT_AS, resource.RLIMIT_CPU, resource.RLIMIT_NOFILE)))
for what in (lambda: bytearray(600 * 2**20), lambda: open("/etc/hostname"), lambda: __import__("_socket").socket()):
    try:
        what()
        print("got it")
    except (OSError, MemoryError, ImportError) as error:
        print(type(error).__name__)
"""
    said = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout.split()
    assert said[:3] == [str(CHILD_MEMORY_BYTES), "10", "0"]
    assert said[3:] == ["MemoryError", "OSError", "OSError"] or said[3:] == ["MemoryError", "OSError", "ImportError"]


def test_the_child_reads_xml_by_the_library_that_refuses_entities_and_without_what_it_does_not_need() -> None:
    script = (
        "import sys, xref_app.exchange.supplier_child as child\n"
        "child._without_what_is_not_needed()\n"
        "import openpyxl.xml\n"
        "print(openpyxl.xml.DEFUSEDXML, openpyxl.xml.LXML, sys.modules['numpy'])\n"
    )
    said = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout.split()
    assert said == ["True", "False", "None"]


def test_the_child_answers_a_fault_with_a_sentence_and_ends_with_1() -> None:
    done = subprocess.run(CHILD, input=b"PK no zip", capture_output=True, check=False)
    assert done.returncode == 1
    assert json.loads(done.stdout.splitlines()[-1])["found"].startswith("is torn")
    assert not done.stderr


def test_a_child_that_dies_is_told_in_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"No.;psi\nA-1;2700\n")
    monkeypatch.setattr("xref_app.exchange.supplier_reading._CHILD", "xref_app.no_such_module")
    with pytest.raises(SupplierFileError, match="could not be read within the limits of memory and time"):
        read_supplier_file(path, NO_PROGRESS)


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"", "is empty"),
        (b"  \n \n", "is empty"),
        (b"%PDF-1.7", "is a PDF"),
        (b"<html><table>", "is a web page"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "is a workbook of the old kind"),
        (bytes(MOST_BYTES + 1), "is larger than 50 MB"),
    ],
)  # fmt: skip
def test_what_is_no_list_is_named(content: bytes, found: str, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(content)
    with pytest.raises(SupplierFileError, match=found):
        read_supplier_file(path, NO_PROGRESS)


def test_a_folder_a_pipe_and_a_file_that_is_gone_are_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    for name, found in (("pipe.csv", "is no file"), ("", "is no file"), ("gone.csv", "cannot be opened")):
        with pytest.raises(SupplierFileError, match=found):
            read_supplier_file(tmp_path / name, NO_PROGRESS)


def test_what_a_person_says_of_encoding_and_separator_counts(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes("No.;Näme,x\nA-1;ü,y\n".encode("cp1252"))
    file = read_supplier_file(path, NO_PROGRESS, HowToRead("cp1251", ","))
    assert (file.encoding, file.separator) == ("cp1251", ",")
    assert file.sheets[0].rows == (("No.;Nдme", "x"), ("A-1;ь", "y"))


class _Stopping:
    """Progress of somebody who leaves at the first word of it, and notes when."""

    def __init__(self) -> None:
        self.left_at = 0.0

    def step(self, done: int, total: int) -> None:  # noqa: ARG002 - the protocol's signature
        """Leave."""
        self.left_at = self.left_at or time.perf_counter()
        raise WorkCancelledError


def test_reading_stops_when_nobody_waits_and_leaves_no_child_and_no_thread(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"No.;psi\n" + b"A-1;2700\n" * 150_000)
    stopping, threads = _Stopping(), threading.active_count()
    with pytest.raises(WorkCancelledError):
        read_supplier_file(path, stopping)
    print(f"\nstopped after {time.perf_counter() - stopping.left_at:.3f} s")  # noqa: T201
    assert threading.active_count() == threads
    with pytest.raises(ChildProcessError):
        os.waitpid(-1, os.WNOHANG)


def test_how_far_the_child_is_is_told_in_rows(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"No.;psi\n" + b"A-1;2700\n" * 5_000)
    told: list[tuple[int, int]] = []

    class Keeping:
        def step(self, done: int, total: int) -> None:
            told.append((done, total))

    read_supplier_file(path, Keeping())
    rows = [done for done, total in told if total]
    assert rows == sorted(rows)
    assert max(rows) >= 4_500
    assert {total for _done, total in told} <= {0, 5_002}


def test_a_file_name_that_is_no_text_is_told_with_what_can_be_shown(tmp_path: Path) -> None:
    path = tmp_path / os.fsdecode(b"li\xff\nste.csv")
    path.write_bytes(b"No.;psi\nA-1;2700\n")
    assert read_supplier_file(path, NO_PROGRESS).name == "li\ufffd\ufffdste.csv"
