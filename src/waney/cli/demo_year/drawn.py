"""Photos that nobody took: a log's end and a tree, drawn with a few lines and a drawn grain."""

from __future__ import annotations

import io
from math import cos, pi, sin
from random import Random

from PIL import Image, ImageDraw, ImageFilter

SIZE = (800, 600)
GRASS, SKY, BARK, PALE, DARK = (122, 132, 84), (202, 212, 216), (84, 70, 56), (214, 184, 138), (160, 118, 74)
QUALITY = 82


def end_of_log(seed: str) -> bytes:
    """The butt end of a log on the grass, with its rings, its pith and a check or two, as a JPEG."""
    draw_from = Random(seed)
    picture = Image.new("RGB", SIZE, GRASS)
    at = ImageDraw.Draw(picture)
    middle, radius = (400 + draw_from.randint(-20, 20), 310), 235
    lobes = [(draw_from.uniform(0.01, 0.035), draw_from.uniform(0, 2 * pi)) for _ in range(2, 6)]
    at.polygon(_round(middle, radius + 18, lobes), fill=BARK)
    rings = draw_from.randint(38, 52)
    for ring in range(rings, 0, -1):
        share = ring / rings
        heart = share < 0.72
        base = DARK if heart else PALE
        shade = draw_from.randint(-9, 9) - (14 if ring % 2 else 0)
        at.polygon(_round(middle, radius * share, lobes), fill=(base[0] + shade, base[1] + shade, base[2] + shade))
    for _ in range(draw_from.randint(1, 3)):
        turn, far = draw_from.uniform(0, 2 * pi), draw_from.uniform(0.2, 0.5) * radius
        tip = (middle[0] + far * cos(turn), middle[1] + far * sin(turn))
        at.line([middle, tip], fill=(70, 48, 30), width=3)
    return _photo(picture, draw_from)


def standing_tree(seed: str) -> bytes:
    """A tree on a slope, as a JPEG."""
    draw_from = Random(seed)
    picture = Image.new("RGB", SIZE, SKY)
    at = ImageDraw.Draw(picture)
    at.polygon([(0, 430), (800, 380), (800, 600), (0, 600)], fill=GRASS)
    foot = 400 + draw_from.randint(-60, 60)
    at.polygon([(foot - 44, 470), (foot + 44, 468), (foot + 22, 120), (foot - 20, 120)], fill=BARK)
    for _ in range(70):
        x, y, wide = foot + draw_from.gauss(0, 105), 150 + draw_from.gauss(0, 70), draw_from.randint(28, 62)
        green = draw_from.randint(78, 132)
        at.ellipse([x - wide, y - wide * 0.7, x + wide, y + wide * 0.7], fill=(green - 18, green, green // 2))
    return _photo(picture, draw_from)


def _round(middle: tuple[int, int], radius: float, lobes: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """An outline that is nearly round."""
    turns = [2 * pi * step / 90 for step in range(90)]
    radii = [
        radius * (1 + sum(height * cos(times * turn + phase) for times, (height, phase) in enumerate(lobes, 2))) for turn in turns
    ]
    return [(middle[0] + far * cos(turn), middle[1] + far * sin(turn)) for far, turn in zip(radii, turns, strict=True)]


def _photo(picture: Image.Image, draw_from: Random) -> bytes:
    """Softened and grained a little."""
    width, height = SIZE[0] // 2, SIZE[1] // 2
    grain = Image.frombytes("L", (width, height), draw_from.randbytes(width * height)).resize(SIZE).convert("RGB")
    out = io.BytesIO()
    Image.blend(picture.filter(ImageFilter.GaussianBlur(1.2)), grain, 0.07).save(out, "JPEG", quality=QUALITY)
    return out.getvalue()
