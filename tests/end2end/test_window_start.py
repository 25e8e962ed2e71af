"""The program started as a shop starts it: typed into at its first paint, closed at any moment, on a damaged store."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from xref_app.core.resources import folder

# What a screen without a window manager says of the size of a window; no fault of the program's.
_OFFSCREEN_SAYS = "This plugin does not support propagateSizeHints()"


@dataclass(frozen=True)
class Ended:
    """How the program ended, what it wrote on standard error, and what was seen of it."""

    code: int
    said: str
    seen: Any  # JSON


def started(*arguments: str, home: Path) -> Ended:
    kinds = ("DATA", "CONFIG", "CACHE", "STATE")
    places = {"HOME": str(home), **{f"XDG_{kind}_HOME": str(home / kind.lower()) for kind in kinds}}
    done = subprocess.run(
        [sys.executable, "-m", "tests.end2end.window_child", *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", **places},
        timeout=120,
    )
    said = "\n".join(line for line in done.stderr.splitlines() if line != _OFFSCREEN_SAYS)
    return Ended(done.returncode, said, json.loads(done.stdout.splitlines()[-1]) if done.stdout.strip() else {})


def sample_number() -> str:
    """Return a number that one entry of the sample alone has."""
    with Path(str(folder("sample_catalog") / "numbers.csv")).open(encoding="utf-8", newline="") as file:
        return next(row["number"] for row in csv.DictReader(file) if len(row["number"]) > 7)


def test_a_number_entered_at_the_first_paint_opens_its_job(tmp_path: Path) -> None:
    number = sample_number()
    ended = started("type", number, home=tmp_path)
    assert (ended.code, ended.said) == (0, "")
    assert not ended.seen["loaded_then"]
    assert (ended.seen["facts"], ended.seen["line"], ended.seen["threads"]) == ([number], number, [])
    assert ended.seen["title"].endswith("– xref-app")


@pytest.mark.parametrize("after_ms", [0, 20, 60, 120, 200, 300, 450, 700])
def test_the_window_can_be_closed_at_any_moment_of_its_start(tmp_path: Path, after_ms: int) -> None:
    ended = started("close", str(after_ms), home=tmp_path)
    assert (ended.code, ended.said, ended.seen) == (0, "", {"threads": []})


def test_a_damaged_store_is_told_in_the_window_and_on_standard_error_and_ends_with_2(tmp_path: Path) -> None:
    place = tmp_path / "data" / "xref_app" / "store" / "shop.sqlite"
    place.parent.mkdir(parents=True, mode=0o700)
    place.write_bytes(b"no store at all" * 400)
    ended = started("own", "type", "K48", home=tmp_path)
    assert (ended.code, ended.said) == (2, ended.seen["message"])
    assert str(place) in ended.said
