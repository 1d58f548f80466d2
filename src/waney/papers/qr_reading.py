"""QR reading: the names on a picture of tags, however it was held. Decision 10 says why this decoder."""

from __future__ import annotations

import io
from dataclasses import dataclass

import zxingcpp
from PIL import Image, ImageOps

from waney.figures.problem import Problem
from waney.papers.qr import name_in
from waney.yard.names import Name

MOST_PIXELS = 120_000_000
"""More than any phone takes; a small file that unfolds to more is refused before it does."""
LONGEST_PX = 4000
"""A larger picture is made smaller: a code that needs more is too far away."""
ONLY = zxingcpp.barcode_formats_from_str("QRCode")
FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP")


class BadPicture(Problem):
    """What was handed over as a picture is none, or too large."""


@dataclass(frozen=True)
class Seen:
    """A name on a picture; where its code is, as shares of width and height from the top left (the picture upright)."""

    name: Name
    x: float
    y: float


def names_seen(picture: bytes) -> tuple[Seen, ...]:
    """All names whose codes can be read on a picture, from the top down, each once. Codes that are not ours are passed over.

    Raises BadPicture. The picture is looked at twice, the second time with its contrast stretched and, if it is small, larger.
    """
    grey = _opened(picture)
    found: dict[Name, Seen] = {}
    for looked_at in _looks(grey):
        for code in zxingcpp.read_barcodes(looked_at, formats=ONLY):
            name = name_in(code.text)
            if name is not None and name not in found:
                found[name] = Seen(name, *_middle(code.position, looked_at.size))
    return tuple(sorted(found.values(), key=lambda seen: (seen.y, seen.x)))


def _looks(grey: Image.Image) -> list[Image.Image]:
    larger = max(1.0, min(2.0, LONGEST_PX / max(grey.size)))
    size = (round(grey.width * larger), round(grey.height * larger))
    return [grey, ImageOps.autocontrast(grey, cutoff=1).resize(size, Image.Resampling.BICUBIC)]


def _middle(at: zxingcpp.Position, size: tuple[int, int]) -> tuple[float, float]:
    corners = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
    return sum(spot.x for spot in corners) / 4 / size[0], sum(spot.y for spot in corners) / 4 / size[1]


def _opened(picture: bytes) -> Image.Image:
    """The picture in shades of grey, upright, at most LONGEST_PX long."""
    try:
        opened = Image.open(io.BytesIO(picture), formats=FORMATS)
        if opened.width * opened.height > MOST_PIXELS:
            raise BadPicture(f"The picture has {opened.width} x {opened.height} points, too many to look at; hand over a photo.")
        opened.draft("L", (LONGEST_PX, LONGEST_PX))
        grey = _on_white(ImageOps.exif_transpose(opened))
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as fault:
        raise BadPicture(f"That is no picture that can be read; hand over a photo as {', '.join(FORMATS[:3])}.") from fault
    grey.thumbnail((LONGEST_PX, LONGEST_PX))
    return grey


def _on_white(picture: Image.Image) -> Image.Image:
    """In shades of grey; what is see-through lies on white."""
    if "A" not in picture.getbands():
        return picture.convert("L")
    white = Image.new("RGBA", picture.size, "white")
    white.alpha_composite(picture.convert("RGBA"))
    return white.convert("L")
