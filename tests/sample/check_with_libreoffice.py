"""Opens exports with LibreOffice (headless) and looks for cells that it took for formulas.

``python -m tests.sample.check_with_libreoffice FOLDER`` says how many cells it saw and ends with 0 where none is a
formula. It first opens a file in which one is, or it would not know that it can find any.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Final
from xml.etree import ElementTree as ET

_TABLE: Final = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
# Comma, quote, UTF-8, from the first line on, numbers recognised, formulas run (LibreOffice Help, "Filter options").
_AS_CSV: Final = "--infilter=CSV:44,34,76,1,,0,false,true,false,false,false,-1,true"


def cells(file: Path) -> tuple[int, list[str]]:
    """Return how many cells LibreOffice sees in ``file``, and the formulas among them."""
    with tempfile.TemporaryDirectory() as folder:
        command = ["soffice", "--headless", f"-env:UserInstallation=file://{folder}/profile"]
        command += [_AS_CSV] if file.suffix == ".csv" else []
        command += ["--convert-to", "fods", "--outdir", folder, str(file)]
        subprocess.run(command, check=True, capture_output=True, timeout=300)
        made = ET.parse(Path(folder) / f"{file.stem}.fods")  # noqa: S314 - LibreOffice wrote it a moment ago
    found = list(made.iter(f"{_TABLE}table-cell"))
    return len(found), [one.attrib[f"{_TABLE}formula"] for one in found if f"{_TABLE}formula" in one.attrib]


def main(folder: Path) -> int:
    """Return 0 if no cell of the exports in ``folder`` is a formula."""
    with tempfile.TemporaryDirectory() as own:
        control = Path(own) / "control.csv"
        control.write_text("a,b\nx,=1+1\n", encoding="utf-8")
        if len(cells(control)[1]) != 1:
            sys.stderr.write("the check itself finds no formula where one is\n")
            return 2
    bad = 0
    for file in [*sorted((folder / "package").glob("*.csv")), folder / "all.xlsx"]:
        seen, formulas = cells(file)
        bad += len(formulas)
        sys.stdout.write(f"{file.name}: {seen} cells, {len(formulas)} formulas {formulas[:3]}\n")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
