"""Keys that sign catalog files: the public pair of a supplier, its fingerprint, a signature held against it.

A supplier has two keys: one that signs, and a spare that lies elsewhere and signs when the first is lost.

Source: Ed25519, RFC 8032.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
    load_pem_public_key,
)

from xref_app.core.errors import XrefError

SIGNATURE_BYTES: Final = 64
KEYS_OF_A_SUPPLIER: Final = 2
# What is signed begins with this, so that no signature made for anything else can ever count here.
_PURPOSE: Final = b"xref_app catalog manifest 1\n"
# House rule: a PEM file of two keys has some 230 bytes.
_MOST_BYTES: Final = 16_384
_PEM_END: Final = b"-----END PUBLIC KEY-----"


class KeyFileError(XrefError):
    """A file that holds no key of the kind that is wanted."""

    def __init__(self, path: Path, found: str, advice: str) -> None:
        super().__init__(f"The key file “{path.name}” {found}: {advice}.")
        self.path = path


@dataclass(frozen=True, slots=True)
class Supplier:
    """Somebody whose catalog files the shop takes; ``keys``: two public ones of 32 bytes, the signing one first."""

    name: str
    keys: tuple[bytes, ...]

    @property
    def fingerprint(self) -> str:
        """Return the SHA-256 over both keys in groups of four: what two people compare over the telephone."""
        digits = sha256(b"".join(self.keys)).hexdigest()
        return " ".join(digits[at : at + 4] for at in range(0, len(digits), 4))


def key_id(public: bytes) -> str:
    """Return the 16 hexadecimal digits by which a manifest names the key that signed it."""
    return sha256(public).hexdigest()[:16]


@dataclass(frozen=True, slots=True)
class SigningKey:
    """A private key, held for as long as a file is made."""

    private: Ed25519PrivateKey

    @property
    def public(self) -> bytes:
        """Return the public half, 32 bytes."""
        return self.private.public_key().public_bytes_raw()

    def sign(self, manifest: bytes) -> bytes:
        """Return the signature of ``manifest``, 64 bytes."""
        return self.private.sign(_PURPOSE + manifest)


def new_key_files(folder: Path) -> tuple[Path, Path, Path]:
    """Make two key pairs in ``folder``: the signing key, the spare (to be kept elsewhere), and what the shops get.

    Raises:
        KeyFileError: a file of that name is there already, or the folder cannot be written.
    """
    files = (folder / "signing.key", folder / "spare.key", folder / "public.pem")
    pair = (Ed25519PrivateKey.generate(), Ed25519PrivateKey.generate())
    contents = [one.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()) for one in pair]
    shared = b"".join(one.public_key().public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo) for one in pair)
    for file, content in zip(files, (*contents, shared), strict=True):
        _write_private(file, content)
    return files


def load_signing_key(path: Path) -> SigningKey:
    """Return the private key in ``path`` (PEM, PKCS 8, without a password).

    Raises:
        KeyFileError: it holds none.
    """
    try:
        found = load_pem_private_key(_content(path), password=None)
    except (ValueError, TypeError, UnsupportedAlgorithm) as error:
        raise KeyFileError(path, "holds no private key that can be read", "give the signing.key") from error
    if not isinstance(found, Ed25519PrivateKey):
        raise KeyFileError(path, "holds a key of another kind", "give an Ed25519 key")
    return SigningKey(found)


def load_supplier(path: Path, name: str) -> Supplier:
    """Return the two public keys in ``path`` (PEM, one after the other).

    Raises:
        KeyFileError: it holds others, or not two of them.
    """
    blocks = [block + _PEM_END for block in _content(path).split(_PEM_END)[:-1]]
    try:
        found = [load_pem_public_key(block) for block in blocks]
    except (ValueError, UnsupportedAlgorithm) as error:
        raise KeyFileError(path, "holds a key that cannot be read", "ask the supplier for it again") from error
    keys = [one.public_bytes_raw() for one in found if isinstance(one, Ed25519PublicKey)]
    if len(keys) != KEYS_OF_A_SUPPLIER or len(set(keys)) != len(found):
        raise KeyFileError(path, "does not hold two Ed25519 keys", "give the supplier's public.pem")
    return Supplier(name, tuple(keys))


def signer_of(manifest: bytes, signature: bytes, suppliers: Sequence[Supplier]) -> tuple[Supplier, bytes] | None:
    """Return whose signature this is, and with which key; None where it is nobody's whom the shop knows."""
    for supplier in suppliers:
        for public in supplier.keys:
            try:
                Ed25519PublicKey.from_public_bytes(public).verify(signature, _PURPOSE + manifest)
            except InvalidSignature:
                continue
            return supplier, public
    return None


def _content(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(_MOST_BYTES)
    except OSError as error:
        raise KeyFileError(path, f"cannot be read ({error.strerror})", "check its name") from error


def _write_private(path: Path, content: bytes) -> None:
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        path.touch(mode=0o600, exist_ok=False)
        path.write_bytes(content)
    except FileExistsError:
        raise KeyFileError(path, "is there already", "give a folder without keys; a lost key is lost") from None
    except OSError as error:
        raise KeyFileError(path, f"cannot be written ({error.strerror})", "give another folder") from error
