"""What comes out of a picture file is the picture, upright, and nothing else; everything else is refused in words.

Outside sources: ITU-T T.81 for the segments of a JPEG, Exif 2.3 (CIPA DC-008) for its tags, Pillow to write the input.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from xref_app.exchange.photo_file import MAX_BYTES, MAX_PIXELS, PhotoFileError, clean_photo

SECRETS = (b"Quillhaven", b"SECRET", b"Exif", b"http://ns.adobe.com", b"ICC_PROFILE", b"2019:")

# Exif 2.3, table of attributes: GPSLatitudeRef 1, GPSLatitude 2, ImageDescription 0x10E, DateTime 0x132.
GPS_IFD, ORIENTATION, DESCRIPTION, DATE = 0x8825, 0x0112, 0x010E, 0x0132


def picture(size: tuple[int, int] = (90, 60)) -> Image.Image:
    """Return a picture whose upper left quarter is red and whose rest is blue."""
    made = Image.new("RGB", size, (0, 0, 255))
    made.paste((255, 0, 0), (0, 0, size[0] // 2, size[1] // 2))
    return made


def told_everything(orientation: int = 1) -> Image.Exif:
    exif = Image.Exif()
    exif[DESCRIPTION], exif[DATE], exif[ORIENTATION] = "SECRET note", "2019:01:01 10:00:00", orientation
    gps = exif.get_ifd(GPS_IFD)
    gps[1], gps[2] = "N", (12.0, 34.0, 56.0)
    return exif


def segments(jpeg: bytes) -> list[int]:
    """Return the markers up to the picture's data (T.81, B.1.1: FF, marker, two bytes of length)."""
    assert jpeg[:2] == b"\xff\xd8"
    found, at = [], 2
    while True:
        assert jpeg[at] == 0xFF
        marker = jpeg[at + 1]
        found.append(marker)
        if marker == 0xDA:
            return found
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")


def saved(path: Path, made: Image.Image, kind: str, **options: object) -> Path:
    made.save(path, kind, **options)
    return path


def test_place_time_profile_comment_and_thumbnail_are_gone(tmp_path: Path) -> None:
    path = saved(
        tmp_path / "a.jpg",
        picture(),
        "JPEG",
        exif=told_everything(),
        comment=b"SECRET",
        icc_profile=b"Quillhaven" * 20,
        xmp=b"<x>SECRET</x>",
    )
    given = path.read_bytes()
    assert sum(one in given for one in SECRETS) >= 4  # the input did carry them
    with Image.open(path) as read:
        assert read.getexif().get_ifd(GPS_IFD)
    clean = clean_photo(path)
    assert not [one for one in SECRETS if one in clean.jpeg]
    # Only JFIF's own APP0, tables, frame, scan: no APP1-APP15 and no comment (FE).
    assert set(segments(clean.jpeg)) <= {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
    again = Image.open(BytesIO(clean.jpeg))
    assert (dict(again.getexif()), again.format, again.size) == ({}, "JPEG", (clean.width_px, clean.height_px))


def test_texts_of_a_png_are_gone_and_nothing_stands_behind_the_end(tmp_path: Path) -> None:
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", "SECRET")
    path = saved(tmp_path / "a.png", picture(), "PNG", pnginfo=info)
    with path.open("ab") as file:
        file.write(b"SECRET behind the end")
    clean = clean_photo(path)
    assert b"SECRET" not in clean.jpeg
    assert clean.jpeg[-2:] == b"\xff\xd9"


@pytest.mark.parametrize(
    ("orientation", "red_at"),
    # Exif 2.3, tag Orientation: where the 0th row and the 0th column are; the red corner is at row 0, column 0.
    [(1, (0, 0)), (2, (1, 0)), (3, (1, 1)), (4, (0, 1)), (5, (0, 0)), (6, (1, 0)), (7, (1, 1)), (8, (0, 1))],
)
def test_the_picture_stands_upright(tmp_path: Path, orientation: int, red_at: tuple[int, int]) -> None:
    clean = clean_photo(saved(tmp_path / "a.jpg", picture(), "JPEG", exif=told_everything(orientation), quality=95))
    assert (clean.width_px, clean.height_px) == ((60, 90) if orientation >= 5 else (90, 60))
    shown = Image.open(BytesIO(clean.jpeg))
    for right, low in ((0, 0), (1, 0), (0, 1), (1, 1)):
        at = (int(clean.width_px * (0.25 + 0.5 * right)), int(clean.height_px * (0.25 + 0.5 * low)))
        red, _green, blue = shown.getpixel(at)  # type: ignore[misc]  # RGB, so three
        assert (red > blue) == ((right, low) == red_at), at


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16", "CMYK"])
def test_every_kind_of_colours_comes_out_as_rgb(tmp_path: Path, mode: str) -> None:
    grey = Image.new("L", (40, 30), 128)
    made = Image.new("I;16", (40, 30), 0x8080) if mode == "I;16" else grey.convert(mode)
    path = saved(tmp_path / "a", made, "JPEG" if mode == "CMYK" else "PNG")
    shown = Image.open(BytesIO(clean_photo(path).jpeg))
    assert shown.mode == "RGB"
    middle = sum(shown.convert("L").resize((1, 1)).tobytes())
    assert mode == "1" or abs(middle - 128) <= 3


def test_what_is_transparent_becomes_white(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", Image.new("RGBA", (20, 20), (0, 0, 0, 0)), "PNG")
    assert Image.open(BytesIO(clean_photo(path).jpeg)).getpixel((9, 9)) == (255, 255, 255)


def test_of_a_phones_double_picture_the_first_is_taken(tmp_path: Path) -> None:
    """CIPA DC-007: a JPEG with further pictures behind it."""
    path = saved(tmp_path / "a.jpg", picture(), "MPO", save_all=True, append_images=[picture((30, 30))])
    with Image.open(path) as read:
        assert read.format == "MPO"
    clean = clean_photo(path)
    assert (clean.width_px, clean.height_px, clean.jpeg.count(b"\xff\xd8\xff")) == (90, 60, 1)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "BMP", "GIF"])
def test_the_same_file_gives_the_same_bytes(tmp_path: Path, kind: str) -> None:
    path = saved(tmp_path / "a", picture(), kind)
    assert clean_photo(path) == clean_photo(path)


def folder(path: Path) -> None:
    path.mkdir()


def link(path: Path) -> None:
    target = saved(path.with_name("real.png"), picture(), "PNG")
    path.symlink_to(target)


def pipe(path: Path) -> None:
    os.mkfifo(path)


def nothing(path: Path) -> None:
    assert not path.exists()


def empty(path: Path) -> None:
    path.write_bytes(b"")


def words(path: Path) -> None:
    path.write_text("no picture")


def torn(path: Path) -> None:
    whole = saved(path, picture((600, 400)), "PNG").read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def large(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(MAX_BYTES + 1)


def many_pixels(path: Path) -> None:
    saved(path, Image.new("1", (MAX_PIXELS // 8000 + 1, 8000)), "PNG")


def bomb(path: Path) -> None:
    """300 million pixels in a few kilobytes: refused by the header, before anything is unpacked."""
    saved(path, Image.new("1", (30_000, 10_000)), "PNG")


def too_long(path: Path) -> None:
    saved(path, Image.new("1", (65_501, 2)), "PNG")


def other_format(path: Path) -> None:
    saved(path, picture(), "TIFF")


NO_PICTURE = "is no picture that can be read, or is torn; give a JPEG, PNG, WebP, BMP or GIF file."
REFUSED: list[tuple[Callable[[Path], None], str]] = [
    (folder, "is a folder or a device; give a picture file."),
    (link, "is a link; give the picture file itself."),
    (pipe, "is a folder or a device; give a picture file."),
    (nothing, "cannot be opened; give the picture file itself."),
    (empty, NO_PICTURE),
    (words, NO_PICTURE),
    (torn, NO_PICTURE),
    (other_format, NO_PICTURE),
    (large, "is larger than 50 megabytes; save it smaller first."),
    (many_pixels, "has more than 40 million pixels; save it smaller first."),
    (bomb, "has more than 40 million pixels; save it smaller first."),
    (too_long, "is longer than 65500 pixels; cut it first."),
]


@pytest.mark.parametrize(("make", "said"), REFUSED, ids=lambda one: getattr(one, "__name__", ""))
def test_what_is_no_photo_is_refused_in_one_sentence(tmp_path: Path, make: Callable[[Path], None], said: str) -> None:
    path = tmp_path / "a.jpg"
    make(path)
    with pytest.raises(PhotoFileError) as caught:
        clean_photo(path)
    assert str(caught.value) == f"“a.jpg” {said}"


def test_forty_million_pixels_are_taken(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", Image.new("1", (MAX_PIXELS // 8000, 8000)), "PNG")
    assert clean_photo(path).width_px == MAX_PIXELS // 8000


def test_a_name_that_no_terminal_can_print_is_said_without_it(tmp_path: Path) -> None:
    path = tmp_path / os.fsdecode(b"a\xff\n\x1b[31m.jpg")
    path.write_bytes(b"no picture")
    with pytest.raises(PhotoFileError) as caught:
        clean_photo(path)
    assert str(caught.value).startswith("“a???[31m.jpg” is no picture")


def test_a_device_of_the_system_is_refused_without_reading_it() -> None:
    with pytest.raises(PhotoFileError, match="is a folder or a device"):
        clean_photo(Path("/dev/zero"))


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow remarks on torn metadata and goes on
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "BMP", "GIF"])
def test_damaged_files_are_refused_or_still_clean(tmp_path: Path, kind: str) -> None:
    """300 files with bytes changed or cut: a sentence or a picture, never another fault."""
    options = {"exif": told_everything()} if kind in {"JPEG", "PNG", "WEBP"} else {}
    whole = saved(tmp_path / "whole", picture(), kind, **options).read_bytes()
    rng = random.Random(kind)
    path = tmp_path / "hit"
    refused = taken = 0
    for _ in range(300):
        hit = bytearray(whole[: rng.choice((len(whole), rng.randrange(len(whole))))])
        for _ in range(rng.randint(1, 6)):
            if hit:
                hit[rng.randrange(len(hit)) if rng.random() < 0.5 else rng.randrange(min(64, len(hit)))] = (
                    rng.randrange(256)
                )
        path.write_bytes(hit)
        try:
            clean = clean_photo(path)
        except PhotoFileError:
            refused += 1
            continue
        taken += 1
        assert set(segments(clean.jpeg)) <= {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
    assert refused > 5
    assert taken > 0
