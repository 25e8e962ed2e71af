"""The committed sample is what its generator makes, with the schemas of data_schema, and our own check takes it."""

from __future__ import annotations

import csv
import json
import subprocess
import sys
from importlib.resources import as_file
from pathlib import Path

import pytest

from tests.sample.make_sample_catalog import make_sample_catalog, sample_rows
from xref_app.core.fields.schema_files import Json, as_list, as_object, folder, schema_file
from xref_app.core.fields.table_schemas import TABLES
from xref_app.core.resources import folder as packaged
from xref_app.exchange.data_package import DESCRIPTOR, read_data_package

CHECK = Path(__file__).with_name("check_with_frictionless.py")


def test_committed_files_are_the_generators_output_byte_for_byte(tmp_path: Path) -> None:
    make_sample_catalog(tmp_path)
    with as_file(packaged("sample_catalog")) as committed:
        found = {file.name: file.read_bytes() for file in Path(committed).iterdir()}
    assert found == {file.name: file.read_bytes() for file in tmp_path.iterdir()}


def test_schemas_in_the_descriptor_are_those_of_data_schema() -> None:
    descriptor = as_object(json.loads((packaged("sample_catalog") / DESCRIPTOR).read_text(encoding="utf-8")))
    resources = [as_object(one) for one in as_list(descriptor["resources"])]
    assert [one["name"] for one in resources] == list(TABLES)
    for one in resources:
        text = (folder() / f"{one['name']}.schema.json").read_text(encoding="utf-8")
        assert json.loads(text) == schema_file(str(one["name"]))
        assert without_limits(as_object(one["schema"])) == without_limits(schema_file(str(one["name"])))
        assert one["path"] == f"{one['name']}.csv"


def without_limits(schema: Json) -> list[Json]:
    """Return the columns without the lengths and patterns of texts: in a file an apostrophe may stand before them."""
    columns = [as_object(one) for one in as_list(schema["fields"])]
    free = ("maxLength", "pattern")
    return [
        {**one, "constraints": {k: v for k, v in as_object(one["constraints"]).items() if k not in free}}
        for one in columns
    ]


def test_our_own_check_takes_the_sample() -> None:
    with as_file(packaged("sample_catalog")) as committed:
        assert read_data_package(Path(committed)) == sample_rows()


@pytest.mark.parametrize("table", TABLES)
def test_every_file_has_the_headings_of_its_schema(table: str) -> None:
    with (packaged("sample_catalog") / f"{table}.csv").open(encoding="utf-8") as file:
        headings = next(csv.reader(file))
    assert headings == [as_object(one)["name"] for one in as_list(schema_file(table)["fields"])]


def test_general_validator_script_says_when_it_cannot_run_or_finds_fault(tmp_path: Path) -> None:
    # The validator itself lives in a tool environment of its own; here only: never a silent pass.
    done = subprocess.run([sys.executable, str(CHECK), str(tmp_path)], capture_output=True, text=True, check=False)
    assert done.returncode != 0
    assert done.stderr
