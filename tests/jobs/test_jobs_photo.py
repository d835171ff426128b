"""Photos: known by what they are, turned upright, made smaller, told nothing of their taking."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from PIL import Image

from swapwright.base.errors import InputError
from swapwright.jobs.photo import LONGEST_SIDE, MOST_BYTES, photo_of

pytestmark = pytest.mark.arithmetic


def as_file(image: Image.Image, kind: str, **options: object) -> bytes:
    made = io.BytesIO()
    image.save(made, kind, **options)
    return made.getvalue()


def png_of_size(width: int, height: int) -> bytes:
    """Return the head of a PNG that claims a size, with next to nothing in it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0"))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF"])
def test_a_photo_of_any_usual_kind_is_kept_as_jpeg(kind):
    made = photo_of(as_file(Image.new("RGB", (60, 40), (10, 120, 200)), kind))
    kept = Image.open(io.BytesIO(made.content))
    assert (kept.format, kept.size, (made.width, made.height)) == ("JPEG", (60, 40), (60, 40))


def test_it_is_turned_upright_as_the_camera_says_and_says_nothing_more_of_the_camera():
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x0110] = "a camera"
    exif[0x8825] = {1: "N"}
    image = Image.new("RGB", (60, 40), (0, 0, 0))
    image.paste((255, 255, 255), (0, 0, 60, 10))
    made = photo_of(as_file(image, "JPEG", exif=exif, quality=95))
    kept = Image.open(io.BytesIO(made.content))
    assert kept.size == (40, 60)
    assert kept.getpixel((35, 30))[0] > 200, "what was at the top is at the right"
    assert not dict(kept.getexif())
    assert b"a camera" not in made.content


def test_a_large_photo_is_made_smaller_and_keeps_its_shape():
    made = photo_of(as_file(Image.new("RGB", (4000, 3000)), "JPEG"))
    assert (made.width, made.height) == (LONGEST_SIDE, LONGEST_SIDE * 3 // 4)


def test_a_picture_with_clear_parts_and_one_in_a_palette_are_taken():
    clear = photo_of(as_file(Image.new("RGBA", (20, 20), (255, 0, 0, 0)), "PNG"))
    palette = photo_of(as_file(Image.new("P", (20, 20)), "GIF"))
    assert (clear.width, palette.width) == (20, 20)


@pytest.mark.parametrize("size", [(100_000, 100_000), (8_000, 7_000), (50_001, 1_000)])
def test_a_small_file_that_unpacks_to_a_huge_picture_is_refused_before_it_is_unpacked(size):
    data = png_of_size(*size)
    assert len(data) < 200
    with pytest.raises(InputError, match="photo"):
        photo_of(data)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"GIF89a",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"%PDF-1.7",
        b"\xff\xd8\xff\xe0" + b"\0" * 50,
        png_of_size(10, 10)[:-20],
        b"\0" * 1000,
    ],
)
def test_what_is_no_photo_is_refused_whatever_it_is_called(data):
    with pytest.raises(InputError, match="no photo that can be read"):
        photo_of(data)


def test_a_file_past_the_limit_is_refused_unread():
    with pytest.raises(InputError, match="too large"):
        photo_of(b"\xff\xd8" + b"\0" * MOST_BYTES)
