"""What a signed catalog file says of itself: every part with its length and SHA-256, the number, who signed, what went.

One manifest has one spelling, so that a signature over its bytes is one over its meaning.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from xref_app.core.fields.table_schemas import TABLES
from xref_app.exchange.data_package_writing import DESCRIPTOR
from xref_app.exchange.zip_limits import MOST_PARTS, MOST_TIMES_PACKED, MOST_UNPACKED_BYTES

FORMAT: Final = 1
# House rules, against files made to fill memory or disk.
MOST_MANIFEST_BYTES: Final = 4 * 1024 * 1024
MOST_SERIAL: Final = 10**12
# A small part may pack better than any ratio says and harms nobody (house rule).
_ALWAYS_SMALL_BYTES: Final = 1024 * 1024

# Nothing else is in a catalog: so no name leads out of a folder, names a device or differs in its capitals only.
PART_NAMES: Final = frozenset({DESCRIPTOR, *(f"{table}.csv" for table in TABLES)})
_ENTRY_ID: Final = re.compile(r"[A-Z][A-Z0-9-]{2,23}")
_TITLE: Final = re.compile(r"[^\x00-\x1f\x7f]{1,200}")
_SHA256: Final = re.compile(r"[0-9a-f]{64}")
_KEY_ID: Final = re.compile(r"[0-9a-f]{16}")


class ManifestError(ValueError):
    """A manifest that breaks a rule; the text says which, and follows “The catalog file”."""


@dataclass(frozen=True, slots=True)
class ManifestPart:
    """One file: its full length and SHA-256, and the same of how it lies packed; ``crc32`` is the zip's own."""

    name: str
    length: int
    sha256: str
    packed_length: int
    packed_sha256: str
    crc32: int


@dataclass(frozen=True, slots=True)
class Manifest:
    """``serial`` rises from file to file of one supplier; ``withdrawn`` are entries that do not stand any more."""

    serial: int
    title: str
    key_id: str
    withdrawn: tuple[str, ...]
    parts: tuple[ManifestPart, ...]


def manifest_bytes(manifest: Manifest) -> bytes:
    """Return the one spelling of ``manifest``."""
    told = {
        "format": FORMAT,
        "key": manifest.key_id,
        "parts": [{name: getattr(one, name) for name in ManifestPart.__slots__} for one in manifest.parts],
        "serial": manifest.serial,
        "title": manifest.title,
        "withdrawn": list(manifest.withdrawn),
    }
    return json.dumps(told, sort_keys=True, separators=(",", ":"), ensure_ascii=True).encode()


def read_manifest(spelled: bytes) -> Manifest:
    """Return the manifest spelled so; only for bytes whose signature holds.

    Raises:
        ManifestError: it breaks a rule, or is spelled in another way.
    """
    try:
        told = json.loads(spelled.decode("ascii"))
        manifest = _manifest(told)
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise ManifestError("has a manifest that cannot be read") from error
    if told["format"] != FORMAT:
        raise ManifestError("is of a format that this version does not know")
    if manifest_bytes(manifest) != spelled:
        raise ManifestError("has a manifest that is not spelled as it must be")
    _check(manifest)
    return manifest


def _manifest(told: Mapping[str, Any]) -> Manifest:  # Any: JSON, compared with its only spelling afterwards
    parts = tuple(ManifestPart(**one) for one in told["parts"])
    return Manifest(told["serial"], told["title"], told["key"], tuple(told["withdrawn"]), parts)


def _check(manifest: Manifest) -> None:
    if not _is_count(manifest.serial, MOST_SERIAL) or manifest.serial == 0:
        raise ManifestError("has no number that counts up")
    if not _spelled(_TITLE, manifest.title):
        raise ManifestError("has no title")
    if not _spelled(_KEY_ID, manifest.key_id) or not all(_spelled(_ENTRY_ID, one) for one in manifest.withdrawn):
        raise ManifestError("names a key or an entry by what is no name of one")
    if tuple(sorted(set(manifest.withdrawn))) != manifest.withdrawn:
        raise ManifestError("lists what was withdrawn twice or out of order")
    _check_parts(manifest)


def _check_parts(manifest: Manifest) -> None:
    if len(manifest.parts) > MOST_PARTS:
        raise ManifestError(f"has more than {MOST_PARTS} parts")
    names = [one.name for one in manifest.parts]
    for name in names:
        if name not in PART_NAMES:
            raise ManifestError(f"has a part “{str(name)[:60]}”, which is no part of a catalog")
    if len(set(names)) != len(names):
        raise ManifestError("has a part twice")
    for part in manifest.parts:
        _check_part(part)
    if sum(one.length for one in manifest.parts) > MOST_UNPACKED_BYTES:
        raise ManifestError("would unpack to more than 300 megabytes")


def _check_part(part: ManifestPart) -> None:
    counts = (part.length, part.packed_length, part.crc32)
    if not all(_is_count(one, 0xFFFF_FFFF) for one in counts):
        raise ManifestError(f"gives a length of “{part.name}” that is none")
    if not (_spelled(_SHA256, part.sha256) and _spelled(_SHA256, part.packed_sha256)):
        raise ManifestError(f"gives a check sum of “{part.name}” that is none")
    if part.length > _ALWAYS_SMALL_BYTES and part.length > MOST_TIMES_PACKED * part.packed_length:
        raise ManifestError(f"would unpack “{part.name}” to more than {MOST_TIMES_PACKED} times its size")


def _is_count(value: object, most: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= most


def _spelled(pattern: re.Pattern[str], value: object) -> bool:
    return isinstance(value, str) and pattern.fullmatch(value) is not None
