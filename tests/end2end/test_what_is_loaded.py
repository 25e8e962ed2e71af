"""What a command loads: never the window, and the store only where it is asked."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

from tests.end2end.commands import run

EXAMPLE = Path(__file__).parents[1] / "core" / "fit" / "example_case.json"
_LOADED = """
import json, sys
sys.argv = ["xref-app", *sys.argv[1:]]
from xref_app.__main__ import main
try:
    main()
finally:
    print("\\n" + json.dumps(sorted({name.partition(".")[0] for name in sys.modules})))
"""


def loaded(*arguments: str) -> set[str]:
    """Return the packages that a command has loaded, in a process of its own."""
    done = subprocess.run([sys.executable, "-c", _LOADED, *arguments], capture_output=True, text=True, check=False)
    return set(json.loads(done.stdout.splitlines()[-1]))


@pytest.mark.parametrize("arguments", [("--version",), ("--help",), ("find",)])
def test_reading_a_command_line_loads_nothing_heavy(arguments: tuple[str, ...]) -> None:
    assert not loaded(*arguments) & {"PySide6", "sqlalchemy", "numpy", "jsonschema", "alembic", "PIL"}


def test_judging_a_case_loads_the_judge_but_no_store_and_no_window() -> None:
    found = loaded("judge", str(EXAMPLE))
    assert "jsonschema" in found
    assert not found & {"PySide6", "sqlalchemy", "numpy", "alembic", "PIL"}


def test_the_version_is_that_of_the_package(tmp_path: Path) -> None:
    done = run("--version", home=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"xref-app {version('xref-app')}\n", "")
