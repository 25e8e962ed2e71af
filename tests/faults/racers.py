"""Processes that do one thing each at the same instant, told when by a line on their standard input."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path

# XREF_ALL_RACES=1 runs as many as a release asks for.
ALL_RACES = 1_000
RACES = ALL_RACES if os.environ.get("XREF_ALL_RACES") else 200
PEOPLE = ("Ana", "Ben")

Racer = subprocess.Popen[str]


def racer(stack: ExitStack, module: str, store: Path, who: str) -> Racer:
    """Return a started process of ``module`` that is ready to race."""
    command = [sys.executable, "-m", f"tests.faults.{module}", str(store), who]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1)
    stack.enter_context(process)
    assert heard(process) == "ready"
    return process


def heard(process: Racer) -> str:
    """Return the next line a process says."""
    assert process.stdout is not None
    return process.stdout.readline().strip()


def race(racers: Sequence[Racer], wanted: Sequence[str]) -> list[str]:
    """Have each process go for what it wants at one instant; return what each says."""
    instant = time.time() + 0.004
    for process, words in zip(racers, wanted, strict=True):
        assert process.stdin is not None
        process.stdin.write(f"{words} {instant}\n")
        process.stdin.flush()
    return [heard(process) for process in racers]


def send_home(racers: Sequence[Racer]) -> None:
    """Have every process end, and see that it ends well."""
    for process in racers:
        assert process.stdin is not None
        process.stdin.close()
        assert process.wait(30) == 0
