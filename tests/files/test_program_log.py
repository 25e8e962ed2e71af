"""Mistakes of the program are written down by kind and place; what they were about never is."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref_app.files.program_log import CRASH_LOG_NAME, LOG_NAME, MOST_LOG_BYTES, ProgramLog, begin_log

SEEDED = "Zwiebelturm at 77123.45"


class ShopSecretError(Exception):
    """A mistake whose words tell too much."""


@pytest.fixture(autouse=True)
def _hooks_as_before() -> Iterator[None]:
    before = (sys.excepthook, threading.excepthook)
    yield
    sys.excepthook, threading.excepthook = before


_CRASH = """
import faulthandler, sys
from pathlib import Path
from xref_app.files.program_log import keep_crashes
keep_crashes(Path(sys.argv[1]))
faulthandler._sigsegv()
"""


def fail() -> None:
    raise ShopSecretError(SEEDED)


def noted(folder: Path) -> str:
    return (folder / LOG_NAME).read_text(encoding="utf-8")


def test_a_mistake_is_noted_by_kind_and_line_without_its_words(tmp_path: Path) -> None:
    told: list[object] = []
    sys.excepthook = lambda *mistake: told.append(mistake)
    begin_log(tmp_path / "log")
    try:
        fail()
    except ShopSecretError as mistake:
        sys.excepthook(type(mistake), mistake, mistake.__traceback__)
    text = noted(tmp_path / "log")
    assert "test_program_log.ShopSecretError" in text
    assert "tests/files/test_program_log.py:" in text
    assert text.rstrip().endswith(" fail")
    assert SEEDED not in text
    assert str(tmp_path) not in text
    assert len(told) == 1


def test_a_mistake_in_a_thread_is_noted_too(tmp_path: Path) -> None:
    threading.excepthook = lambda _told: None
    begin_log(tmp_path)
    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()
    assert "ShopSecretError" in noted(tmp_path)
    assert SEEDED not in noted(tmp_path)


def test_the_log_and_the_one_before_it_stay_short(tmp_path: Path) -> None:
    log = ProgramLog(tmp_path)
    (tmp_path / LOG_NAME).write_text("old\n" * (MOST_LOG_BYTES // 4 + 1), encoding="utf-8")
    for _ in range(3):
        log.note(ShopSecretError, None)
    assert noted(tmp_path).count("ShopSecretError") == 3
    assert (tmp_path / f"{LOG_NAME}.1").read_text(encoding="utf-8").startswith("old")
    assert MOST_LOG_BYTES < (tmp_path / f"{LOG_NAME}.1").stat().st_size < 2 * MOST_LOG_BYTES


def test_where_nothing_can_be_written_the_program_goes_on(tmp_path: Path) -> None:
    (tmp_path / "log").write_text("a file where the folder should be")
    begin_log(tmp_path / "log").note(ShopSecretError, None)
    assert (tmp_path / "log").read_text() == "a file where the folder should be"


def test_where_the_interpreter_was_when_it_broke_is_kept(tmp_path: Path) -> None:
    done = subprocess.run([sys.executable, "-c", _CRASH, str(tmp_path / "log")], check=False, capture_output=True)
    assert done.returncode != 0
    assert "Segmentation fault" in (tmp_path / "log" / CRASH_LOG_NAME).read_text(encoding="utf-8")
