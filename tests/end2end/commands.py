"""The command line called as a shop's script would, in a process of its own, or in this one where that is the same."""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from xref_app.cli import run as run_command


@dataclass(frozen=True)
class Done:
    """What one command left: its exit code and all it wrote."""

    returncode: int
    stdout: str
    stderr: str


def run(*arguments: str, home: Path) -> Done:
    """Carry out the command in a process of its own, with a home of its own."""
    places = {"HOME": str(home), "XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
    done = subprocess.run(
        [sys.executable, "-m", "xref_app", *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **places},
    )
    return Done(done.returncode, done.stdout, done.stderr)


def run_here(*arguments: str) -> Done:
    """Carry out a command that opens no catalog in this process, which is quicker."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run_command(arguments)
    return Done(code, out.getvalue(), err.getvalue())
