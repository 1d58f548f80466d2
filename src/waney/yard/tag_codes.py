"""The code beside a name on a tag: what it holds, and whose it is. It holds `WANEY:` and the name as it is written.

A phone that knows nothing of Waney shows the name. Capitals, digits, colon and dash are all of QR's own small alphabet, so the
squares stay large. It is no address: a tag outlives every server.
"""

from __future__ import annotations

from dataclasses import dataclass

import zxingcpp
from PIL import Image, ImageOps

from waney.yard.names import MARK, Name, read_name
from waney.yard.problems import BadName

LONGEST_PX = 4000
"""A larger picture is made smaller: a code that needs more is too far away."""
ONLY = zxingcpp.barcode_formats_from_str("QRCode")


@dataclass(frozen=True)
class Seen:
    """A name on a picture; where its code is, as shares of width and height from the top left (the picture upright)."""

    name: Name
    x: float
    y: float


def content(name: Name) -> str:
    """What the code of a name holds.

    >>> content(Name("AB", 12))
    'WANEY:AB-12-P'
    """
    return f"{MARK}{name}"


def name_in(held: str) -> Name | None:
    """The name that a code holds; None for a code that is not ours or whose check character does not fit."""
    if not held.startswith(MARK):
        return None
    try:
        name = read_name(held.removeprefix(MARK))
    except BadName:
        return None
    return name if content(name) == held else None


def names_on(picture: Image.Image) -> tuple[Seen, ...]:
    """All names whose codes can be read on an upright picture, from the top down, each once; other codes are passed over.

    It is looked at twice, the second time with its contrast stretched and, if it is small, larger (decision 10).
    """
    grey = _on_white(picture)
    grey.thumbnail((LONGEST_PX, LONGEST_PX))
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


def _on_white(picture: Image.Image) -> Image.Image:
    """In shades of grey; what is see-through lies on white."""
    if "A" not in picture.getbands():
        return picture.convert("L")
    white = Image.new("RGBA", picture.size, "white")
    white.alpha_composite(picture.convert("RGBA"))
    return white.convert("L")
