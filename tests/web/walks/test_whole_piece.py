"""A live-edge slab, walked: on its photo with two targets its corners are tapped, the line follows the edge between them, a knot
and a crack are tapped; its page shows area, widths, what was marked and the rectangle that keeps off the crack."""

from __future__ import annotations

import io
from uuid import uuid4

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect
from tests.pieces.photo_scene import SIZE, Scene, scene

from waney.pieces.outline import Outline
from waney.units.length import parse_length
from waney.yard.acts.pieces import PieceCounted
from waney.yard.services.pieces import count_piece

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import PATIENCE_MS, signed_in

CORNERS = (0, 49, 50, 99)
"""of the hundred places round the piece"""
FLOOR, WOOD = (112, 112, 110), (176, 140, 100)
SQUARE_FOOT = 0.09290304
KNOT_M, CRACK_M = (0.30, 0.05), ((0.55, 0.02), (0.95, 0.03))
"""on the face, along and across"""


def photo_of(seen: Scene) -> bytes:
    """The piece, brown and grained, on a floor, with its targets."""
    rng = np.random.default_rng(1)
    small = (SIZE[0] // 4, SIZE[1] // 4)
    stains = Image.fromarray(rng.normal(128, 10, small[::-1]).clip(0, 255).astype(np.uint8)).resize(SIZE)
    mask = Image.new("L", SIZE, 0)
    ImageDraw.Draw(mask).polygon([(float(u), float(v)) for u, v in seen.edge_px], fill=255)
    plain = Image.composite(Image.new("RGB", SIZE, WOOD), Image.new("RGB", SIZE, FLOOR), mask)
    picture = Image.blend(plain, Image.merge("RGB", [stains] * 3), 0.3)
    marks = Image.fromarray(seen.grey(rng)).convert("RGB")
    for each in seen.marks_px:
        for u, v in each:
            box = (round(u) - 24, round(v) - 24, round(u) + 25, round(v) + 25)
            picture.paste(marks.crop(box), box)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=90)
    return out.getvalue()


def tap(page: Page, u: float, v: float) -> None:
    box = page.locator("[data-whole] .photo").bounding_box()
    assert box is not None
    at = {"x": u / SIZE[0] * box["width"], "y": v / SIZE[1] * box["height"]}
    page.locator("[data-whole] .photo").click(position=at)


def tap_on_face(page: Page, seen: Scene, place: tuple[float, float]) -> None:
    ((u, v),) = seen.shown(np.array([[*place, 0.0]]))
    tap(page, u, v)


def handle_at(page: Page, which: int) -> tuple[float, float]:
    """The middle of a point that can be dragged, on the screen."""
    box = page.locator("[data-whole] .catch").nth(which).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag_by_finger(page: Page, which: int, right: int, down: int) -> None:
    """In small steps, as a finger moves: a page that scrolled instead would end it on the way."""
    (x, y), finger = handle_at(page, which), page.context.new_cdp_session(page)
    finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for k in range(1, 7):
        finger.send(
            "Input.dispatchTouchEvent",
            {"type": "touchMove", "touchPoints": [{"x": x + right * k / 6, "y": y + down * k / 6}]},
        )
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def told(page: Page, what: str) -> str:
    return page.locator(f"dl.facts dt:text-is('{what}') + dd").inner_text()


def true_rectangle(seen: Scene, wide: float) -> float:
    """Of the true outline, free of the true crack [m2]."""
    (x0, y0), (x1, y1) = CRACK_M
    low, high = min(y0, y1) - wide / 2, max(y0, y1) + wide / 2
    found = Outline(seen.edge_m).rectangle([np.array([(x0, low), (x1, low), (x1, high), (x0, high)])])
    return found.length_m * found.width_m


def test_a_piece_is_traced_along_its_edge_and_marked_on_its_photo(yard: Yard, launch: Launch) -> None:
    piece = str(uuid4())
    count_piece(yard.hand, PieceCounted(piece, "walnut_black", thickness_m=0.054))
    seen, served = scene(11, tapping=0.0), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE, bypass_csp=True, has_touch=True), served.address("localhost"))
    page.goto(f"{served.address('localhost')}/pieces/{piece}")
    page.click("text=Measured as it lies")
    page.set_input_files("#photo", {"name": "piece.jpg", "mimeType": "image/jpeg", "buffer": photo_of(seen)})
    expect(page.locator("[data-whole] img")).to_have_js_property("naturalWidth", SIZE[0])
    for marks in seen.marks_px:
        for number in (1, 3, 12, 10):
            tap(page, *marks[number - 1])
    for at in (*CORNERS, CORNERS[0]):
        tap(page, *seen.edge_px[at])
    expect(page.locator("[data-whole] [role=status]")).to_have_text("Traced; it is sent with the form.")
    page.locator("[data-whole] .photo").scroll_into_view_if_needed()
    before = handle_at(page, 2)
    drag_by_finger(page, 2, -36, 24)
    assert handle_at(page, 2) == pytest.approx((before[0] - 36, before[1] + 24), abs=1.5)
    page.click("text='Take back'")
    assert handle_at(page, 2) == pytest.approx(before, abs=1.5)
    page.click("text='Marks'")
    tap_on_face(page, seen, KNOT_M)
    page.locator("[data-whole] select").select_option("crack")
    page.click("text='Through'")
    for end in CRACK_M:
        tap_on_face(page, seen, end)
    expect(page.locator("[data-whole] [role=status]")).to_have_text("Traced; it is sent with the form.")
    assert [one["id"] for one in Axe().run(page).response["violations"]] == []
    page.fill("#long_row", "225 mm")
    assert page.locator("#lies").input_value() == "not looked at"
    page.select_option("#lies", "on the face")
    page.click("text=Measure it >> nth=0")
    page.click("text=Look at it", timeout=PATIENCE_MS)
    # four corners alone: what lies between them was followed on the photo
    assert float(told(page, "Upper face").split()[0]) * SQUARE_FOOT == pytest.approx(seen.area, rel=0.01)
    assert told(page, "Marked") == "knot, face A; crack, both faces"
    long, wide = (parse_length(side, None) for side in told(page, "Usable rectangle").split(" by "))
    assert long * wide == pytest.approx(true_rectangle(seen, 0.006), rel=0.04)  # a tap on a phone is off by up to 5 mm here
    assert "widest" in page.locator("main").inner_text()
    expect(page.locator("[data-whole] [role=status]")).to_have_text("Traced; it is sent with the form.")  # to go on with
