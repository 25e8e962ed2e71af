"""A file is written whole or not at all, and what was there before stays where it is not."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from xref_app.exchange import whole_file
from xref_app.exchange.whole_file import NotWrittenError, write_whole


def names(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def test_what_is_written_is_what_was_given_and_nothing_else_is_left(tmp_path: Path) -> None:
    path = tmp_path / "faces.svg"
    path.write_bytes(b"before")
    write_whole(path, b"after\x00\xff")
    assert path.read_bytes() == b"after\x00\xff"
    assert names(tmp_path) == ["faces.svg"]


# /dev/full answers every write with "no space left" (Linux, full(4)).
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_is_told_and_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "faces.svg"
    path.write_bytes(b"before")

    def write_to_full(part: Path, content: bytes) -> None:
        part.write_bytes(b"")
        with Path("/dev/full").open("wb") as full:
            full.write(content)

    monkeypatch.setattr(whole_file, "_write_and_sync", write_to_full)
    with pytest.raises(NotWrittenError) as caught:
        write_whole(path, b"after" * 10_000)
    assert str(caught.value) == "“faces.svg” is not saved: the disk is full – make room, or save on another drive."
    assert path.read_bytes() == b"before"
    assert names(tmp_path) == ["faces.svg"]


LIMITED = """
import resource, signal, sys
from pathlib import Path
from xref_app.exchange.whole_file import NotWrittenError, write_whole
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
try:
    write_whole(Path(sys.argv[1]), b"x" * 100_000)
except NotWrittenError as error:
    print(error)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on the size of a file here")
def test_a_write_cut_short_by_the_system_leaves_no_cut_file(tmp_path: Path) -> None:
    path = tmp_path / "faces.svg"
    done = subprocess.run([sys.executable, "-c", LIMITED, str(path)], capture_output=True, text=True, check=True)
    assert "“faces.svg” is not saved:" in done.stdout
    assert names(tmp_path) == []


def test_a_disk_that_gives_back_something_else_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "faces.svg"
    monkeypatch.setattr(whole_file, "_write_and_sync", lambda part, content: part.write_bytes(content[:-1]))
    with pytest.raises(NotWrittenError, match="gave back something else"):
        write_whole(path, b"whole")
    assert names(tmp_path) == []


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(NotWrittenError) as caught:
        write_whole(tmp_path / "nowhere" / "faces.svg", b"x")
    assert str(caught.value) == "“faces.svg” is not saved: there is no such folder – choose another folder."


def test_a_folder_is_not_overwritten_by_a_file(tmp_path: Path) -> None:
    (tmp_path / "faces.svg").mkdir()
    with pytest.raises(NotWrittenError, match="that is a folder"):
        write_whole(tmp_path / "faces.svg", b"x")


@pytest.mark.skipif(hasattr(os, "geteuid") and os.geteuid() == 0, reason="nothing is forbidden to root")
def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(NotWrittenError, match="you may not write there"):
            write_whole(tmp_path / "faces.svg", b"x")
    finally:
        tmp_path.chmod(0o700)


@pytest.mark.parametrize(
    ("number", "found"), [(errno.EROFS, "nothing can be written on that drive"), (errno.EACCES, "you may not write")]
)
def test_why_the_system_refused_is_told(
    number: int, found: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_part: Path, _content: bytes) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(whole_file, "_write_and_sync", refuse)
    with pytest.raises(NotWrittenError, match=found):
        write_whole(tmp_path / "faces.svg", b"x")
