"""What a bench says is what the table shows."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.bench.all_figures import gathered
from tests.bench.rows import ROWS_FILE, Row, at_most, kept_rows, say_rows
from tests.bench.typing_stall import KEYS, Stalls, figures, typed_keys
from tests.bench.window_start import Start
from tests.bench.window_start import figures as start_figures


def test_rows_that_were_said_are_kept_as_they_were(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = tmp_path / "rows"
    monkeypatch.setenv(ROWS_FILE, str(kept))
    rows = (at_most("start", 1.5, 2.0, "x"), Row("memory", "60 MB"))
    say_rows(rows[:1])
    say_rows(rows[1:])
    assert kept_rows(kept) == rows


def test_a_figure_is_ok_at_its_limit_and_short_beyond_it() -> None:
    assert str(at_most("start", 2.0, 2.0, "x")).endswith("<= 2 x                   ok")
    assert str(at_most("start", 2.01, 2.0, "x")).endswith("<= 2 x                   short")


def test_a_bench_that_fails_is_short_in_the_table(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (row,) = gathered([("large_store", "7", "{stores}")], tmp_path)
    assert (row.figure, row.is_ok) == (f"large_store 7 {tmp_path}", False)
    assert "multiple of five" in capfd.readouterr().err


def test_the_start_is_compared_by_medians() -> None:
    empty = [Start(taken_s, 0.2, 50.0, 40.0, 50.0, 40.0) for taken_s in (1.0, 1.0, 9.0)]
    own = [Start(taken_s, 0.4, 100.0, 100.0, 120.0, 80.0) for taken_s in (0.1, 1.9, 1.9)]
    asked = {row.figure: (row.reached, row.is_ok) for row in start_figures(10, empty, own) if row.must}
    assert asked == {
        "10 entries: start, times an empty window": ("1.90 x", True),
        "10 entries: memory then (RSS)": ("2.00 x", True),
        "10 entries: memory then (PSS)": ("2.50 x", False),
        "10 entries: memory 3 s later (RSS)": ("2.40 x", False),
        "10 entries: memory 3 s later (PSS)": ("2.00 x", True),
    }


def test_one_long_stall_among_many_keys_is_seen_in_the_longest_and_not_in_the_99th_percentile() -> None:
    rows = figures(10, Stalls(idle_ms=(2.0,) * 300, typed_ms=(*(3.0,) * 299, 40.0), worked_ms=(1.0,) * 300))
    assert [(row.reached, row.is_ok) for row in rows if row.must] == [("38.00 ms", False), ("1.00 ms", True)]


def test_a_round_has_as_many_keys_as_it_says_and_begins_a_number() -> None:
    keys = typed_keys(["K47-21-8830", "LX 22 118-4"], random.Random(1))
    assert len(keys) == KEYS
    assert keys[0][1]
    assert 2 <= sum(is_first for _, is_first in keys) <= 10
