"""Checks a Data Package folder with a general validator; for a tool environment of its own with frictionless 5.21.0.

``python check_with_frictionless.py FOLDER`` says nothing and ends with 0 for a valid package, else writes the report
and ends with 1.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path


def main(folder: Path) -> int:
    """Return 0 if the package in ``folder`` is valid, else 1 with the report on standard error."""
    # Only the tool environment has it, and mypy runs in the other one.
    from frictionless import Package  # type: ignore[import-not-found]  # noqa: PLC0415

    descriptor = json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))
    report = Package.from_descriptor(descriptor, basepath=str(folder)).validate()
    if report.valid:
        return 0
    errors = report.flatten(["title", "rowNumber", "fieldNumber", "type", "message"])
    sys.stderr.write(json.dumps(errors[:50], indent=1, ensure_ascii=False) + "\n")
    return 1


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
