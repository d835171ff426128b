"""Photos: taken in by what they are, not by what they are called, and made anew before kept."""

from __future__ import annotations

import io
import threading
from dataclasses import dataclass

from swapwright.base.errors import InputError, Problem

MOST_BYTES = 20_000_000
MOST_PIXELS = 25_000_000
LONGEST_SIDE = 2_400
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
"""What is decoded; a drawing that can hold programs or links is none of these."""
_TURNS = threading.Semaphore(2)
ALLOWED = "a photo: JPEG, PNG, WebP, GIF, BMP or TIFF, up to 20 MB and 25 million pixels"


@dataclass(frozen=True)
class Photo:
    """A photo as it is kept: JPEG, and its size in pixels."""

    content: bytes
    width: int
    height: int


def photo_of(data: bytes) -> Photo:
    """Return a photo made anew from bytes that were sent.

    It is turned upright and made smaller; where, when and with what it was taken is left out.
    Raises InputError for what is no image, or one that is too large to be unpacked.
    """
    from PIL import Image, ImageOps

    if len(data) > MOST_BYTES:
        raise _refused("this photo is too large", f"{len(data)} bytes")
    try:
        # Few are unpacked at once: each may take as much memory as its pixels.
        with _TURNS, Image.open(io.BytesIO(data), formats=FORMATS) as opened:
            # A small file that unpacks to a huge picture is told before it is unpacked.
            if opened.width * opened.height > MOST_PIXELS:
                raise _refused("this photo is too large", f"{opened.width} x {opened.height}")
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            opened.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    except InputError:
        raise
    except (OSError, ValueError, SyntaxError, EOFError, Warning, Image.DecompressionBombError):
        raise _refused("this is no photo that can be read") from None
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    made = io.BytesIO()
    clean.save(made, "JPEG", quality=QUALITY)
    return Photo(made.getvalue(), clean.width, clean.height)


def _refused(words: str, given: str = "") -> InputError:
    return InputError(Problem("", "photo", words, given, ALLOWED))
