"""A picture file from a camera or a stick, made harmless: decoded, turned upright, written anew with nothing else."""

from __future__ import annotations

import os
import stat
import struct
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Final

from PIL import Image
from PIL.Image import Transpose

from xref_app.core.errors import XrefError

# House rules.
MAX_PIXELS: Final = 40_000_000
MAX_BYTES: Final = 50 * 1024 * 1024
JPEG_QUALITY: Final = 88

# The encoder's own limit (libjpeg, JPEG_MAX_DIMENSION).
MAX_SIDE_PX: Final = 65_500

# A link is not followed, and a pipe not waited for (where the system knows these).
_NO_LINK: Final = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)

# What cameras, phones and screens write; fewer decoders, fewer faults to be reached by a file.
FORMATS: Final = ("JPEG", "PNG", "WEBP", "BMP", "GIF")

_TOO_MANY: Final = (Image.DecompressionBombError, Image.DecompressionBombWarning)
# What Pillow's decoders raise for a file that is none or is torn.
_TORN: Final = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    EOFError,
    ArithmeticError,
    AttributeError,
    struct.error,
    zlib.error,
)

# Exif 2.3 (CIPA DC-008), tag Orientation: what to do to the picture so that it stands upright.
_ORIENTATION: Final = 0x0112
_TURNS: Final[Mapping[object, Transpose]] = {
    2: Transpose.FLIP_LEFT_RIGHT,
    3: Transpose.ROTATE_180,
    4: Transpose.FLIP_TOP_BOTTOM,
    5: Transpose.TRANSPOSE,
    6: Transpose.ROTATE_270,
    7: Transpose.TRANSVERSE,
    8: Transpose.ROTATE_90,
}


class PhotoFileError(XrefError):
    """A file that cannot become a photo: one sentence saying what was found and what to do."""

    def __init__(self, name: str, found: str, advice: str) -> None:
        super().__init__(f"“{name}” {found}; {advice}.")
        self.name = name
        self.found = found
        self.advice = advice


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A picture as a JPEG file with nothing in it but the picture, upright."""

    jpeg: bytes
    width_px: int
    height_px: int


def clean_photo(path: Path) -> CleanPhoto:
    """Return the picture in ``path`` as a new JPEG: upright, and without place, time, camera or any other metadata.

    Raises:
        PhotoFileError: it is no plain file, no picture, torn, above 50 megabytes or above 40 million pixels.
    """
    name = "".join(one if one.isprintable() else "?" for one in path.name[:80])
    picture = _decoded(name, _read(name, path))
    # A new picture: what hangs on the old one (comment, profile, EXIF) cannot be written along by an encoder.
    bare = Image.new("RGB", picture.size, "white")
    bare.paste(picture, mask=picture.getchannel("A") if picture.mode == "RGBA" else None)
    written = BytesIO()
    bare.save(written, "JPEG", quality=JPEG_QUALITY)
    return CleanPhoto(written.getvalue(), *bare.size)


def _read(name: str, path: Path) -> bytes:
    try:
        handle = os.open(path, os.O_RDONLY | _NO_LINK)
    except (OSError, ValueError) as error:
        why = "is a link" if path.is_symlink() else "cannot be opened"
        raise PhotoFileError(name, why, "give the picture file itself") from error
    try:
        _refuse_other_than_plain(name, os.fstat(handle))
        with os.fdopen(handle, "rb", closefd=False) as file:
            content = file.read(MAX_BYTES + 1)
    except OSError as error:
        raise PhotoFileError(name, "cannot be read", "copy it to this machine and try again") from error
    finally:
        os.close(handle)
    if len(content) > MAX_BYTES:
        raise _too_large(name)
    return content


def _refuse_other_than_plain(name: str, found: os.stat_result) -> None:
    if not stat.S_ISREG(found.st_mode):
        raise PhotoFileError(name, "is a folder or a device", "give a picture file")
    if found.st_size > MAX_BYTES:
        raise _too_large(name)


def _too_large(name: str) -> PhotoFileError:
    return PhotoFileError(name, f"is larger than {MAX_BYTES // 1024**2} megabytes", "save it smaller first")


def _decoded(name: str, content: bytes) -> Image.Image:
    try:
        with Image.open(BytesIO(content), formats=FORMATS) as picture:
            _refuse_large(name, picture.size)
            picture.load()
            turn = _TURNS.get(_orientation(picture))
            return _in_plain_colours(picture if turn is None else picture.transpose(turn))
    except _TOO_MANY as error:
        raise _too_many_pixels(name) from error
    except _TORN as error:
        found = "is no picture that can be read, or is torn"
        raise PhotoFileError(name, found, "give a JPEG, PNG, WebP, BMP or GIF file") from error


def _orientation(picture: Image.Image) -> object:
    """Return how the camera was held; torn metadata tells nothing and does not spoil the picture."""
    try:
        return picture.getexif().get(_ORIENTATION)
    except _TORN:
        return None


def _refuse_large(name: str, size: tuple[int, int]) -> None:
    if size[0] * size[1] > MAX_PIXELS:
        raise _too_many_pixels(name)
    if max(size) > MAX_SIDE_PX:
        raise PhotoFileError(name, f"is longer than {MAX_SIDE_PX} pixels", "cut it first")


def _too_many_pixels(name: str) -> PhotoFileError:
    return PhotoFileError(name, f"has more than {MAX_PIXELS // 10**6} million pixels", "save it smaller first")


def _in_plain_colours(picture: Image.Image) -> Image.Image:
    """Return ``picture`` as RGB, or as RGBA where parts of it are transparent."""
    if picture.mode.startswith("I"):  # 16 bits a pixel: the upper eight
        return picture.convert("I").point(lambda value: value * (1 / 256)).convert("L").convert("RGB")
    return picture.convert("RGBA" if picture.has_transparency_data else "RGB")
