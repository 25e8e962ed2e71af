"""Two shops on the command line: a catalog goes from one to the other on a stick, a bad day is put right."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.end2end.commands import run, run_here
from xref_app.core.resources import folder

SAMPLE = Path(str(folder("sample_catalog")))


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a shop's data, in which every command of this process works."""
    return at_home(tmp_path / "shop", monkeypatch)


def at_home(home: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, value in (("HOME", home), ("XDG_DATA_HOME", home / "data"), ("XDG_CONFIG_HOME", home / "config")):
        monkeypatch.setenv(name, str(value))
    return home / "data" / "xref_app" / "store"


def answer(*arguments: str | Path) -> Any:  # JSON
    done = run_here(*map(str, arguments))
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return json.loads(done.stdout)


def fault(*arguments: str | Path) -> str:
    done = run_here(*map(str, arguments))
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    return done.stderr


def test_the_sample_leaves_marked_as_a_sample(tmp_path: Path) -> None:
    told = answer("--sample", "export", tmp_path / "out")
    assert told["rows"]["entries"] > 100
    assert "shelf" not in told["rows"]
    assert "SAMPLE" in (tmp_path / "out" / "datapackage.json").read_text(encoding="utf-8")
    machine = answer("--sample", "export", tmp_path / "one", "--entries", "M-001", "--with-shop")
    assert machine["rows"]["machines"] == 1
    assert answer("--sample", "export", tmp_path / "all.xlsx", "--xlsx")["written"].endswith("all.xlsx")


def test_a_catalog_goes_from_one_shop_to_another_on_a_stick(tmp_path: Path, shop: Path) -> None:
    stick, keys = tmp_path / "spring.xrefcat", tmp_path / "keys"
    made = answer("catalog-file", "new-keys", keys)
    answer("--sample", "catalog-file", "make", stick, "--key", keys / "signing.key", "--number", "1", "--title", "May")
    assert "is not signed by any supplier whose keys this shop has" in fault("catalog-file", "show", stick)
    assert made["fingerprint"] in fault("catalog-file", "trust", keys / "public.pem")
    answer("catalog-file", "trust", keys / "public.pem", "--name", "Torbic", "--fingerprint", made["fingerprint"])
    shown = answer("catalog-file", "show", stick)
    assert (shown["supplier"], shown["number"], shown["entries_touched"]) == ("Torbic", 1, [])
    assert not answer("copies")
    applied = answer("catalog-file", "apply", stick)
    assert applied["applied"]["entries_added"] == shown["entries_added"]
    assert applied["copy_before"] is None
    assert answer("find", "*", "--limit", "1")["total"] > 0
    older = tmp_path / "older.xrefcat"
    options = ("--key", keys / "spare.key", "--title", "April", "--withdraw", "P-001")
    answer("--sample", "catalog-file", "make", older, *options, "--number", "2")
    told = answer("catalog-file", "apply", older)["applied"]
    assert told["entries_withdrawn"] == ["P-001"]
    assert told["outcomes_touched"] == ["O-001"]
    assert "has number 1, and number 2 was taken already" in fault("catalog-file", "apply", stick)
    answer("catalog-file", "apply", stick, "--older-too")
    assert [one["made_before_or_as"] for one in answer("copies")] == ["catalog", "catalog"]
    assert "leave out --sample" in fault("--sample", "catalog-file", "apply", stick)
    assert "no key or no number" in fault("catalog-file", "make", stick)
    assert shop.joinpath("suppliers.json").exists()


def test_last_months_copy_is_looked_at_put_back_and_the_state_of_before_kept(tmp_path: Path, shop: Path) -> None:
    answer("import", SAMPLE)
    copy = tmp_path / "stick.sqlite"
    assert answer("copy", copy)["whole"] is True
    assert "a file of that name is there already" in fault("copy", copy)
    (shop / "shop.sqlite").unlink()
    assert "There is no catalog at" in answer("restore", copy)["would_replace_the_whole_file_because"]
    assert "put all back" in fault("restore", copy, "--only-missing", "--yes")
    assert answer("restore", copy, "--yes")["changed"] == "the whole file"
    assert answer("find", "*", "--limit", "1")["total"] > 0
    would = answer("restore", copy)
    assert would["would_change"]["vanish"] == {}
    answer("restore", copy, "--only-missing", "--yes")
    listed = answer("copies")
    assert [(one["good"], one["made_before_or_as"]) for one in listed] == [(True, "restore")]
    assert "No row is damaged that a good copy could put right" in fault("mend")
    assert "leave out --sample" in fault("--sample", "copies")


def test_a_help_bundle_is_listed_first(tmp_path: Path, shop: Path) -> None:
    answer("import", SAMPLE)
    bundle = tmp_path / "help.zip"
    listed = answer("help-bundle", bundle, "--list")
    assert not bundle.exists()
    written = answer("help-bundle", bundle)
    assert written["contents"] == listed["contents"]
    with zipfile.ZipFile(bundle) as opened:
        assert set(opened.namelist()) == {"contents.txt", *listed["contents"]}
        for name in opened.namelist():
            assert str(shop) not in opened.read(name).decode()


def test_an_export_reads_back_with_import_in_a_process_of_its_own(tmp_path: Path) -> None:
    run("--sample", "export", str(tmp_path / "out"), "--with-shop", home=tmp_path)
    done = run("import", str(tmp_path / "out"), home=tmp_path)
    assert json.loads(done.stdout)["added"] > 1000
    refused = run("export", str(tmp_path / "own"), home=tmp_path)
    assert "no entry of the shop's own is left" in refused.stderr
