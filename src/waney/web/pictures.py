"""Pictures: what may be kept of a photo that somebody sends, and what of it is taken away (where it was made)."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import datetime

from PIL import Image, ImageOps, UnidentifiedImageError

from waney.figures.problem import Problem

FORMATS = ("JPEG", "PNG", "WEBP")
MOST_PIXELS = 80_000_000
LONGEST_SIDE = 2400
TAKEN_AT = 36867
"""EXIF's DateTimeOriginal"""
QUALITY = 88


class BadPicture(Problem):
    """What was sent is no picture that can be kept."""


@dataclass(frozen=True)
class Photo:
    """A picture as it is kept: turned upright, at most 2400 pixels long, with nothing said of where it was made."""

    content: bytes
    taken_at: str
    """by the camera's own clock, as a moment without a place taken as UTC; empty when it does not say"""


def checked_photo(content: bytes) -> Photo:
    """A photo that may be kept. Raises BadPicture."""
    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise BadPicture("This picture has more than 80 million pixels; send a smaller one.")
            taken = _taken_at(picture)
            upright = ImageOps.exif_transpose(picture).convert("RGB")
            upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    except BadPicture:
        raise
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        raise BadPicture("This is no photo in JPEG, PNG or WebP, or it is damaged; send it as one of these.") from None
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=QUALITY)
    return Photo(out.getvalue(), taken)


def _taken_at(picture: Image.Image) -> str:
    told = picture.getexif().get_ifd(34665).get(TAKEN_AT, "")
    try:
        return datetime.strptime(str(told).strip("\0 "), "%Y:%m:%d %H:%M:%S").isoformat() + "+00:00"
    except ValueError:
        return ""
