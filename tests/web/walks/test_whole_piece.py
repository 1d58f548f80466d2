"""A live-edge slab, walked: its photo with two targets on it is tapped, and its page shows area, widths and board feet."""

from __future__ import annotations

import io
from uuid import uuid4

import numpy as np
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect
from tests.pieces.photo_scene import SIZE, Scene, scene

from waney.yard.acts.pieces import PieceCounted
from waney.yard.services.pieces import count_piece

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import PATIENCE_MS, signed_in

TAPPED = (*range(0, 49, 7), 49, *range(50, 99, 7), 99)
"""of the hundred places round the piece, its four corners among them"""


def photo_of(seen: Scene) -> bytes:
    """The piece, brown, with its targets."""
    picture = Image.new("L", SIZE, 90)
    ImageDraw.Draw(picture).polygon([(float(u), float(v)) for u, v in seen.edge_px], fill=150)
    marks = Image.fromarray(seen.grey(np.random.default_rng(1)))
    for each in seen.marks_px:
        for u, v in each:
            box = (round(u) - 24, round(v) - 24, round(u) + 25, round(v) + 25)
            picture.paste(marks.crop(box), box)
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def tap(page: Page, u: float, v: float) -> None:
    box = page.locator("[data-whole] .photo").bounding_box()
    assert box is not None
    at = {"x": u / SIZE[0] * box["width"], "y": v / SIZE[1] * box["height"]}
    page.locator("[data-whole] .photo").click(position=at)


def test_a_piece_is_traced_by_tapping_and_shows_its_area(yard: Yard, launch: Launch) -> None:
    piece = str(uuid4())
    count_piece(yard.hand, PieceCounted(piece, "walnut_black", thickness_m=0.054))
    seen, served = scene(11, tapping=0.0), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    page.goto(f"{served.address('localhost')}/pieces/{piece}")
    page.click("text=Measured as it lies")
    page.set_input_files("#photo", {"name": "piece.png", "mimeType": "image/png", "buffer": photo_of(seen)})
    expect(page.locator("[data-whole] img")).to_have_js_property("naturalWidth", SIZE[0])
    for marks in seen.marks_px:
        for number in (1, 3, 12, 10):
            tap(page, *marks[number - 1])
    for at in TAPPED:
        tap(page, *seen.edge_px[at])
    expect(page.locator("[data-whole] [role=status]")).to_have_text("Traced; it is sent with the form.")
    page.fill("#long_row", "225 mm")
    page.click("text=Measure it >> nth=0")
    page.click("text=Look at it", timeout=PATIENCE_MS)
    said = page.locator("dl.facts").inner_text()
    area = float(said.split("Upper face")[1].split()[0]) * 0.09290304
    assert abs(area / seen.area - 1) < 0.02  # a tap on a phone's picture is a pixel of the screen: ten of the photo
    assert "widest" in page.locator("main").inner_text()
