"""A signed catalog file is taken as it was signed or not at all: every bit of it counts."""

from __future__ import annotations

import io
import random
import stat
import zipfile
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest

from tests.exchange.damaged_folders import ROWS
from xref_app.exchange import catalog_file, sealed_zip
from xref_app.exchange.catalog_file import CatalogFileError, catalog_file_bytes, read_catalog_file, sealed
from xref_app.exchange.catalog_manifest import Manifest, ManifestError, ManifestPart, manifest_bytes
from xref_app.exchange.data_package_writing import package_files
from xref_app.exchange.sealed_zip import deflated, stored, zip_bytes
from xref_app.exchange.signing_keys import (
    KeyFileError,
    SigningKey,
    Supplier,
    key_id,
    load_signing_key,
    load_supplier,
    new_key_files,
)

FLIPS_OF_A_WHOLE_FILE = 1000


@pytest.fixture(scope="module")
def keys(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("keys")
    new_key_files(folder)
    return folder


@pytest.fixture(scope="module")
def key(keys: Path) -> SigningKey:
    return load_signing_key(keys / "signing.key")


@pytest.fixture(scope="module")
def supplier(keys: Path) -> Supplier:
    return load_supplier(keys / "public.pem", "Torbic")


@pytest.fixture(scope="module")
def good(key: SigningKey) -> bytes:
    return catalog_file_bytes(ROWS, title="March", serial=7, withdrawn=("P-9Z", "P-2B"), key=key)


def sentence(path: Path, content: bytes, supplier: Supplier) -> str:
    path.write_bytes(content)
    with pytest.raises(CatalogFileError) as caught:
        read_catalog_file(path, (supplier,))
    told = str(caught.value)
    assert told.startswith(f"The catalog file “{path.name}” ")
    assert "; nothing was changed: " in told
    return told


def test_a_signed_file_reads_as_it_was_made_and_any_zip_program_opens_it(
    tmp_path: Path, good: bytes, supplier: Supplier
) -> None:
    path = tmp_path / "march.xrefcat"
    path.write_bytes(good)
    found = read_catalog_file(path, (supplier,))
    assert found.rows == ROWS
    assert (found.manifest.serial, found.manifest.title, found.supplier.name) == (7, "March", "Torbic")
    assert found.manifest.withdrawn == ("P-2B", "P-9Z")
    with zipfile.ZipFile(io.BytesIO(good)) as opened:  # the standard library's reader is not ours
        assert opened.testzip() is None
        assert opened.read("entries.csv") == dict(package_files(ROWS, name="catalog", title="March"))["entries.csv"]


def test_the_spare_key_signs_as_well(tmp_path: Path, keys: Path, supplier: Supplier) -> None:
    spare = load_signing_key(keys / "spare.key")
    path = tmp_path / "spare.xrefcat"
    path.write_bytes(catalog_file_bytes(ROWS, title="March", serial=8, withdrawn=(), key=spare))
    assert read_catalog_file(path, (supplier,)).manifest.key_id == key_id(spare.public)


def small(key: SigningKey) -> bytes:
    """Return a signed file of two tiny parts, for which every bit can be tried."""
    files = {"entries.csv": b"entry_id\n", "datapackage.json": b"{}"}
    return sealed(files, Manifest(1, "x", key_id(key.public), (), ()), key)


def test_every_single_flipped_bit_is_refused(
    tmp_path: Path, key: SigningKey, supplier: Supplier, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Refused before anything is unpacked: what would unpack says that it was reached, and is reached by none."""
    whole = small(key)
    path = tmp_path / "small.xrefcat"
    monkeypatch.setattr(catalog_file, "inflated", lambda *_of_it, **_size: pytest.fail("a flipped file was unpacked"))
    for bit in range(8 * len(whole)):
        flipped = bytearray(whole)
        flipped[bit // 8] ^= 1 << (bit % 8)
        sentence(path, bytes(flipped), supplier)


def test_flipped_bits_of_a_whole_catalog_are_refused(tmp_path: Path, good: bytes, supplier: Supplier) -> None:
    rng = random.Random(7)
    for bit in rng.sample(range(8 * len(good)), FLIPS_OF_A_WHOLE_FILE):
        flipped = bytearray(good)
        flipped[bit // 8] ^= 1 << (bit % 8)
        sentence(tmp_path / "x.xrefcat", bytes(flipped), supplier)


def test_a_file_cut_anywhere_or_with_something_behind_it_is_refused(
    tmp_path: Path, key: SigningKey, supplier: Supplier
) -> None:
    whole = small(key)
    for length in range(len(whole)):
        sentence(tmp_path / "cut.xrefcat", whole[:length], supplier)
    sentence(tmp_path / "long.xrefcat", whole + b"\0", supplier)
    sentence(tmp_path / "two.xrefcat", whole + whole, supplier)


def test_parts_swapped_between_two_signed_files_are_refused(
    tmp_path: Path, key: SigningKey, supplier: Supplier, good: bytes
) -> None:
    pump = replace(ROWS.entries[0], name="Another")
    other = catalog_file_bytes(
        replace(ROWS, entries=(pump, *ROWS.entries[1:])), title="March", serial=7, withdrawn=(), key=key
    )
    pieces = [read_pieces(one) for one in (good, other)]
    mixed = zip_bytes([pieces[0]["manifest.json"], pieces[0]["manifest.sig"], *list(pieces[1].values())[2:]])
    assert "is damaged in its part “entries.csv”" in sentence(tmp_path / "mix.xrefcat", mixed, supplier)
    signature = zip_bytes([pieces[0]["manifest.json"], pieces[1]["manifest.sig"], *list(pieces[0].values())[2:]])
    assert "is not signed by any supplier" in sentence(tmp_path / "sig.xrefcat", signature, supplier)
    turned = zip_bytes([*list(pieces[0].values())[:2], *reversed(list(pieces[0].values())[2:])])
    sentence(tmp_path / "order.xrefcat", turned, supplier)


def read_pieces(content: bytes) -> dict[str, sealed_zip.PackedPart]:
    with zipfile.ZipFile(io.BytesIO(content)) as opened:
        return {
            name: (stored if name.startswith("manifest") else deflated)(name, opened.read(name))
            for name in opened.namelist()
        }


def test_a_file_that_somebody_else_signed_is_refused(
    tmp_path: Path, tmp_path_factory: pytest.TempPathFactory, supplier: Supplier
) -> None:
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    new_key_files(elsewhere)
    stranger = load_signing_key(elsewhere / "signing.key")
    content = catalog_file_bytes(ROWS, title="March", serial=7, withdrawn=(), key=stranger)
    assert sentence(tmp_path / "x.xrefcat", content, supplier) == (
        "The catalog file “x.xrefcat” is not signed by any supplier whose keys this shop has; nothing was changed: "
        "take no file from it, or add the supplier's keys first."
    )
    (tmp_path / "y.xrefcat").write_bytes(content)
    with pytest.raises(CatalogFileError):
        read_catalog_file(tmp_path / "y.xrefcat", ())


# What a supplier whose key was stolen might sign, and the words with which it is refused all the same.
HOSTILE: dict[str, tuple[Callable[[ManifestPart], object], str]] = {
    "way out": (lambda part: replace(part, name="../entries.csv"), "which is no part of a catalog"),
    "absolute": (lambda part: replace(part, name="/entries.csv"), "which is no part of a catalog"),
    "drive": (lambda part: replace(part, name="C:\\entries.csv"), "which is no part of a catalog"),
    "device": (lambda part: replace(part, name="CON"), "which is no part of a catalog"),
    "capitals": (lambda part: replace(part, name="Entries.csv"), "which is no part of a catalog"),
    "long name": (lambda part: replace(part, name="a" * 300), "which is no part of a catalog"),
    "NUL": (lambda part: replace(part, name="entries.csv\0"), "which is no part of a catalog"),
    "bomb": (lambda part: replace(part, length=200_000_000), "more than 100 times its size"),
    "too long": (lambda part: replace(part, length=320_000_000, packed_length=40_000_000), "more than 300 megabytes"),
    "below zero": (lambda part: replace(part, length=-1), "gives a length of “entries.csv” that is none"),
    "no sum": (lambda part: replace(part, sha256="no"), "gives a check sum of “entries.csv” that is none"),
    "other content": (lambda part: replace(part, sha256="0" * 64), "unpacks to another “entries.csv” than was signed"),
    "other length": (lambda part: replace(part, length=8), "unpacks to another “entries.csv” than was signed"),
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_what_is_hostile_is_refused_though_it_is_signed(
    tmp_path: Path, key: SigningKey, supplier: Supplier, kind: str
) -> None:
    change, words = HOSTILE[kind]
    packed = deflated("entries.csv", b"entry_id\n")
    sums = [sha256(one).hexdigest() for one in (b"entry_id\n", packed.content)]
    part = ManifestPart("entries.csv", packed.size, sums[0], len(packed.content), sums[1], packed.crc32)
    changed = change(part)
    assert isinstance(changed, ManifestPart)
    manifest = manifest_bytes(Manifest(1, "x", key_id(key.public), (), (changed,)))
    lying = replace(packed, name=changed.name, size=changed.length & 0xFFFF_FFFF)
    content = zip_bytes((stored("manifest.json", manifest), stored("manifest.sig", key.sign(manifest)), lying))
    assert words in sentence(tmp_path / "x.xrefcat", content, supplier)


def test_a_bomb_within_its_signed_length_is_not_unpacked_beyond_it() -> None:
    bomb = deflated("entries.csv", bytes(50_000_000))
    assert sealed_zip.inflated(bomb.content, size=1000) is None
    assert sealed_zip.inflated(bomb.content + b"x", size=50_000_000) is None
    assert sealed_zip.inflated(b"\xff\xff", size=5) is None


@pytest.mark.parametrize(
    ("spelled", "words"),
    [
        (b'{"format":2,"key":"0123456789abcdef","parts":[],"serial":1,"title":"x","withdrawn":[]}', "of a format"),
        (b'{"format":1,"key":"0123456789abcdef","parts":[],"serial":1, "title":"x","withdrawn":[]}', "not spelled"),
        (b'{"format":1,"key":"0123456789abcdef","parts":[],"serial":0,"title":"x","withdrawn":[]}', "no number"),
        (b'{"format":1,"key":"0123456789abcdef","parts":[],"serial":1.5,"title":"x","withdrawn":[]}', "no number"),
        (b'{"format":1,"key":"0123456789abcdef","parts":[],"serial":1,"title":"","withdrawn":[]}', "no title"),
        (b'{"format":1,"key":"nobody","parts":[],"serial":1,"title":"x","withdrawn":[]}', "what is no name"),
        (b'{"format":1,"key":"0123456789abcdef","parts":[],"serial":1,"title":"x","withdrawn":["PP2","PP1"]}', "order"),
        (b'{"format":1}', "cannot be read"),
        (b"[" * 100_000, "cannot be read"),
    ],
)
def test_a_signed_manifest_that_breaks_a_rule_is_refused(
    tmp_path: Path, key: SigningKey, supplier: Supplier, spelled: bytes, words: str
) -> None:
    content = zip_bytes((stored("manifest.json", spelled), stored("manifest.sig", key.sign(spelled))))
    assert words in sentence(tmp_path / "x.xrefcat", content, supplier)


def test_a_manifest_that_names_another_key_is_refused(tmp_path: Path, key: SigningKey, supplier: Supplier) -> None:
    content = sealed({"datapackage.json": b"{}"}, Manifest(1, "x", "0" * 16, (), ()), key)
    assert "names another key than the one that signed it" in sentence(tmp_path / "x.xrefcat", content, supplier)


def test_no_catalog_behind_a_good_signature_is_one_sentence(
    tmp_path: Path, key: SigningKey, supplier: Supplier
) -> None:
    told = sentence(tmp_path / "x.xrefcat", small(key), supplier)
    assert "has a datapackage.json without resources" in told
    files = dict(package_files(ROWS, name="catalog", title="x"))
    files["entries.csv"] = files["entries.csv"].replace(b",pump,", b",spoon,")
    told = sentence(tmp_path / "y.xrefcat", sealed(files, Manifest(1, "x", key_id(key.public), (), ()), key), supplier)
    assert "has a fault in entries.csv, row 2, column kind: “spoon” is not a word for it" in told


def test_what_is_brought_and_withdrawn_at_once_is_refused(tmp_path: Path, key: SigningKey, supplier: Supplier) -> None:
    content = catalog_file_bytes(ROWS, title="x", serial=1, withdrawn=("P-1A",), key=key)
    assert "both brings and withdraws “P-1A”" in sentence(tmp_path / "x.xrefcat", content, supplier)
    with pytest.raises(ManifestError):
        catalog_file_bytes(ROWS, title="x", serial=0, withdrawn=(), key=key)


def test_what_is_no_catalog_file_is_one_sentence(
    tmp_path: Path, supplier: Supplier, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "is no catalog file" in sentence(tmp_path / "x.xrefcat", b"", supplier)
    assert "is no catalog file" in sentence(tmp_path / "x.xrefcat", b"\xff" * 500, supplier)
    monkeypatch.setattr(catalog_file, "MOST_PACKED_BYTES", 1000)
    assert "is larger than 50 megabytes" in sentence(tmp_path / "x.xrefcat", bytes(1001), supplier)
    with pytest.raises(CatalogFileError, match=r"cannot be read \(No such file"):
        read_catalog_file(tmp_path / "none", (supplier,))


def test_keys_are_private_and_never_replaced(tmp_path: Path) -> None:
    made = new_key_files(tmp_path / "keys")
    assert {stat.S_IMODE(one.stat().st_mode) for one in made} == {0o600}
    with pytest.raises(KeyFileError, match="is there already"):
        new_key_files(tmp_path / "keys")


def test_a_fingerprint_tells_two_suppliers_apart(keys: Path, supplier: Supplier, tmp_path: Path) -> None:
    new_key_files(tmp_path / "other")
    other = load_supplier(tmp_path / "other" / "public.pem", "Torbic")
    assert supplier.fingerprint != other.fingerprint
    assert supplier.fingerprint == load_supplier(keys / "public.pem", "Somebody").fingerprint
    assert len(supplier.fingerprint.split()) == 16


def test_a_key_file_that_holds_none_is_one_sentence(tmp_path: Path, keys: Path) -> None:
    (tmp_path / "x").write_bytes(b"no key")
    with pytest.raises(KeyFileError, match="holds no private key that can be read"):
        load_signing_key(tmp_path / "x")
    with pytest.raises(KeyFileError, match="does not hold two Ed25519 keys"):
        load_supplier(tmp_path / "x", "Torbic")
    doubled = (keys / "public.pem").read_bytes().split(b"-----END PUBLIC KEY-----")[0] + b"-----END PUBLIC KEY-----\n"
    (tmp_path / "x").write_bytes(doubled * 2)
    with pytest.raises(KeyFileError, match="does not hold two"):
        load_supplier(tmp_path / "x", "Torbic")
    with pytest.raises(KeyFileError, match="cannot be read"):
        load_signing_key(tmp_path / "none")
