"""A catalog in one signed file, for a stick: believed only after the signature and the check sum of every part.

The order of the checks is the point. Nothing of the file is unpacked, and no part of it parsed, before the signature
over the manifest, the manifest's own rules, the check sum of each packed part and every byte between them hold. No
clock is asked: a file never goes out of date, it is only as old as its number.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.model.catalog_rows import CatalogCells, CatalogRows
from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.exchange.catalog_manifest import (
    MOST_MANIFEST_BYTES,
    Manifest,
    ManifestError,
    ManifestPart,
    manifest_bytes,
    read_manifest,
)
from xref_app.exchange.data_package import CatalogFolderError, DamagedCatalogError, as_rows, read_package_cells
from xref_app.exchange.data_package_writing import package_files
from xref_app.exchange.sealed_zip import LOCAL, PackedPart, deflated, inflated, local_head, stored, zip_bytes
from xref_app.exchange.signing_keys import SIGNATURE_BYTES, SigningKey, Supplier, key_id, signer_of
from xref_app.exchange.zip_limits import MOST_PACKED_BYTES

SUFFIX: Final = ".xrefcat"
_MANIFEST: Final = "manifest.json"
_SIGNATURE: Final = "manifest.sig"
_AGAIN: Final = "copy it anew from where it came"
# How long unpacking and reading take beside each other, for the progress only.
_WEIGHTS: Final = (1, 9)


class CatalogFileError(XrefError):
    """A catalog file that is not taken; nothing was changed."""

    def __init__(self, path: Path, found: str, advice: str = _AGAIN) -> None:
        super().__init__(f"The catalog file “{path.name}” {found}; nothing was changed: {advice}.")
        self.path = path
        self.found = found


class UnknownSignerError(CatalogFileError):
    """A file that none of the shop's suppliers signed, or that was changed since."""


@dataclass(frozen=True, slots=True)
class CatalogFile:
    """A file that was found good: who signed it, what it says of itself, its rows, and a digest of all that."""

    supplier: Supplier
    manifest: Manifest
    cells: CatalogCells
    digest: str

    @property
    def rows(self) -> CatalogRows:
        """Return the rows as plain values; made anew each time, for a large catalog in seconds."""
        return as_rows(self.cells)


@dataclass(frozen=True, slots=True)
class _Torn:
    """The pieces of a file by their place alone."""

    manifest: bytes
    signature: bytes
    rest_at: int


def catalog_file_bytes(
    rows: CatalogRows, *, title: str, serial: int, withdrawn: Sequence[str], key: SigningKey
) -> bytes:
    """Return the signed file of ``rows``; the same again gives the same bytes (but for another zlib).

    Raises:
        ManifestError: the file would break a rule, and nobody would take it.
    """
    return sealed(
        dict(package_files(rows, name="catalog", title=title)),
        Manifest(serial, title, key_id(key.public), tuple(sorted(set(withdrawn))), ()),
        key,
    )


def sealed(files: dict[str, bytes], about: Manifest, key: SigningKey) -> bytes:
    """Return the signed file of ``files`` under what ``about`` says of them."""
    packed = [deflated(name, content) for name, content in files.items()]
    parts = tuple(
        ManifestPart(one.name, one.size, _sha256(files[one.name]), len(one.content), _sha256(one.content), one.crc32)
        for one in packed
    )
    manifest = manifest_bytes(Manifest(about.serial, about.title, about.key_id, about.withdrawn, parts))
    read_manifest(manifest)
    return zip_bytes((stored(_MANIFEST, manifest), stored(_SIGNATURE, key.sign(manifest)), *packed))


def read_catalog_file(path: Path, suppliers: Sequence[Supplier], progress: Progress = NO_PROGRESS) -> CatalogFile:
    """Return what the file holds, if one of ``suppliers`` signed it and nothing of it was changed since.

    The stick may be pulled at any time: the file is read once, before anything is believed.

    Raises:
        CatalogFileError: it is not taken, for whatever reason.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    content = _read_whole(path)
    torn = _torn(path, content)
    signer = signer_of(torn.manifest, torn.signature, suppliers)
    if signer is None:
        advice = "take no file from it, or add the supplier's keys first"
        raise UnknownSignerError(path, "is not signed by any supplier whose keys this shop has", advice)
    supplier, public = signer
    try:
        manifest = read_manifest(torn.manifest)
    except ManifestError as error:
        raise CatalogFileError(path, str(error)) from error
    if manifest.key_id != key_id(public):
        raise CatalogFileError(path, "names another key than the one that signed it")
    packed = _checked_parts(path, content, torn, manifest)
    cells = _unpacked(path, manifest, packed, progress)
    _refuse_contradiction(path, manifest, cells)
    return CatalogFile(supplier, manifest, cells, _sha256(torn.manifest))


def _read_whole(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            content = file.read(MOST_PACKED_BYTES + 1)
    except OSError as error:
        raise CatalogFileError(path, f"cannot be read ({error.strerror or 'no reason given'})") from error
    if len(content) > MOST_PACKED_BYTES:
        raise CatalogFileError(path, "is larger than 50 megabytes", "ask for a smaller one")
    return content


def _torn(path: Path, content: bytes) -> _Torn:
    """Return manifest and signature by their place. What stands there may still be anything."""
    head = len(local_head(stored(_MANIFEST, b"")))
    length = LOCAL.unpack_from(content)[7] if len(content) > head else MOST_MANIFEST_BYTES + 1
    if length > MOST_MANIFEST_BYTES:
        raise CatalogFileError(path, "is no catalog file", f"take one whose name ends in {SUFFIX}")
    manifest = content[head : head + length]
    at = head + length + len(local_head(stored(_SIGNATURE, b"")))
    signature = content[at : at + SIGNATURE_BYTES]
    if len(manifest) < length or len(signature) < SIGNATURE_BYTES:
        raise CatalogFileError(path, "is cut off")
    return _Torn(manifest, signature, at + SIGNATURE_BYTES)


def _checked_parts(path: Path, content: bytes, torn: _Torn, manifest: Manifest) -> list[PackedPart]:
    """Return the packed parts, after every byte of the file was found to be what the manifest makes it."""
    found: list[PackedPart] = []
    at = torn.rest_at
    for part in manifest.parts:
        at += len(local_head(PackedPart(part.name, b"", 0, 0)))
        packed = content[at : at + part.packed_length]
        if len(packed) < part.packed_length or _sha256(packed) != part.packed_sha256:
            raise CatalogFileError(path, f"is damaged in its part “{part.name}”")
        found.append(PackedPart(part.name, packed, part.length, part.crc32))
        at += part.packed_length
    seal = (stored(_MANIFEST, torn.manifest), stored(_SIGNATURE, torn.signature))
    if zip_bytes((*seal, *found)) != content:
        raise CatalogFileError(path, "holds something between its parts that does not belong there")
    return found


def _unpacked(path: Path, manifest: Manifest, packed: Sequence[PackedPart], progress: Progress) -> CatalogCells:
    unpacking, reading = stretches(progress, *_WEIGHTS)
    with _folder_of_our_own() as folder:
        for place, (part, one) in enumerate(zip(manifest.parts, packed, strict=True)):
            unpacking.step(place, len(packed))
            content = inflated(one.content, size=part.length)
            if content is None or _sha256(content) != part.sha256:
                raise CatalogFileError(path, f"unpacks to another “{part.name}” than was signed")
            (folder / part.name).write_bytes(content)
        try:
            return read_package_cells(folder, reading)
        except DamagedCatalogError as error:
            first, more = error.problems[0], len(error.problems) - 1
            others = f" and {more} more" if more else ""
            raise CatalogFileError(path, f"has a fault in {first}{others}", "ask the supplier for another") from error
        except CatalogFolderError as error:
            raise CatalogFileError(path, error.found, "ask the supplier for another") from error


@contextmanager
def _folder_of_our_own() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="xref-catalog-") as folder:
        yield Path(folder)


def _refuse_contradiction(path: Path, manifest: Manifest, cells: CatalogCells) -> None:
    brought = {str(entry_id) for entry_id, *_rest in cells["entries"]}
    both = sorted(brought & set(manifest.withdrawn))
    if both:
        found = f"both brings and withdraws “{both[0]}”"
        raise CatalogFileError(path, found, "ask the supplier for another")


def _sha256(content: bytes) -> str:
    return sha256(content).hexdigest()
