"""Pictures: what one shows of itself (when, a tag), and the same picture without where it was taken."""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, tzinfo

from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

from waney.yard.names import Name
from waney.yard.problems import BadPicture
from waney.yard.tag_codes import Seen, names_on

FORMATS = ("JPEG", "PNG", "WEBP")
MOST_PIXELS = 120_000_000
"""More than any phone takes; a small file that unfolds to more is refused before it does."""
SMALL_PX = 640
ORIENTATION = ExifTags.Base.Orientation
ICC = b"ICC_PROFILE\0"
START_OF_SCAN, END, APP0, APP1, APP2, APP14, COMMENT = 0xDA, 0xD9, 0xE0, 0xE1, 0xE2, 0xEE, 0xFE


@dataclass(frozen=True)
class Picture:
    """A picture that may be kept. content: without place, names of people or devices; taken_at: empty where it does not say."""

    content: bytes
    taken_at: str
    tags: tuple[Name, ...]


@contextmanager
def opened(content: bytes) -> Iterator[Image.Image]:
    """A picture that somebody sent, while it is looked at; its points are read when they are asked for. Raises BadPicture."""
    try:
        with warnings.catch_warnings(), Image.open(io.BytesIO(content), formats=FORMATS) as image:
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            if image.width * image.height > MOST_PIXELS:
                raise BadPicture(f"This picture has {image.width} x {image.height} points; send it smaller.")
            yield image
    except BadPicture:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError, EOFError, KeyError):
        raise BadPicture("This is no picture that can be read, or it was cut off; send it as JPEG, PNG or WebP.") from None


def picture(content: bytes, zone: tzinfo) -> Picture:
    """Look at a picture. zone: of the camera's clock where it does not say. Raises BadPicture for what is none."""
    with opened(content) as image:
        image.load()
        tags = names_on(ImageOps.exif_transpose(image))
        return Picture(_bare(image, content), _taken_at(image, zone), tuple(seen.name for seen in tags))


def names_seen(content: bytes) -> tuple[Seen, ...]:
    """All names whose codes can be read on a picture, from the top down, each once. Raises BadPicture."""
    with opened(content) as image:
        return names_on(ImageOps.exif_transpose(image))


def small(content: bytes) -> bytes:
    """A picture that is kept, upright and at most 640 points long, as JPEG: for a page with many. Raises BadPicture."""
    with opened(content) as image:
        image.draft("RGB", (SMALL_PX, SMALL_PX))
        upright = ImageOps.exif_transpose(image).convert("RGB")
        upright.thumbnail((SMALL_PX, SMALL_PX))
        out = io.BytesIO()
        upright.info.clear()  # nothing that was written beside the picture goes along
        upright.save(out, "JPEG", quality=80)
        return out.getvalue()


def _taken_at(image: Image.Image, zone: tzinfo) -> str:
    """When the camera says that it was taken, with the distance from UTC."""
    told = image.getexif().get_ifd(ExifTags.IFD.Exif)
    try:
        when = datetime.strptime(str(told.get(ExifTags.Base.DateTimeOriginal, "")).strip("\0 "), "%Y:%m:%d %H:%M:%S")
        offset = str(told.get(ExifTags.Base.OffsetTimeOriginal, "")).strip("\0 ")
        return (datetime.fromisoformat(f"{when.isoformat()}{offset}") if offset else when.replace(tzinfo=zone)).isoformat()
    except ValueError:
        return ""


def _bare(image: Image.Image, content: bytes) -> bytes:
    """The same picture with nothing beside it but which way up it is; a JPEG is not compressed anew."""
    exif = Image.Exif()
    exif[ORIENTATION] = image.getexif().get(ORIENTATION, 1)
    if image.format == "JPEG":
        return b"\xff\xd8" + _segment(APP1, exif.tobytes()) + b"".join(_needed(content))
    out = io.BytesIO()
    icc = image.info.get("icc_profile")
    image.save(out, image.format, exif=exif.tobytes(), **({"icc_profile": icc} if icc else {}), **_quality(image))
    return out.getvalue()


def _quality(image: Image.Image) -> dict[str, int]:
    return {"quality": 92} if image.format == "WEBP" else {}


def _segment(marker: int, body: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(body) + 2).to_bytes(2, "big") + body


def _needed(jpeg: bytes) -> Iterator[bytes]:
    """The parts of a JPEG that make the picture, up to its end; what programs and cameras wrote beside it is left out."""
    at = 2
    while at + 4 <= len(jpeg):
        if jpeg[at] != 0xFF:
            raise BadPicture("This JPEG is damaged; send it again.")
        marker = jpeg[at + 1]
        if marker == 0xFF:  # a byte to fill up
            at += 1
            continue
        end = at + 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
        if _makes_the_picture(marker, jpeg[at + 4 : end]):
            yield jpeg[at:end]
        at = end
        if marker == START_OF_SCAN:
            at = _end_of_scan(jpeg, end)
            yield jpeg[end:at]
        if jpeg[at : at + 2] == bytes((0xFF, END)):
            break
    yield bytes((0xFF, END))


def _makes_the_picture(marker: int, body: bytes) -> bool:
    if marker == APP2:
        return body.startswith(ICC)
    return marker != COMMENT and not (APP0 < marker <= 0xEF and marker != APP14)


def _end_of_scan(jpeg: bytes, at: int) -> int:
    """The next marker that is no part of the points: not a stuffed FF 00, not a restart."""
    while True:
        at = jpeg.find(b"\xff", at)
        if at < 0 or at + 1 >= len(jpeg):
            return len(jpeg)
        if jpeg[at + 1] not in (0x00, *range(0xD0, 0xD8), 0xFF):
            return at
        at += 1 if jpeg[at + 1] == 0xFF else 2
