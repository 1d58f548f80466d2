"""A tree that is offered, walked: a stick and the end beside it are tapped on a photo, the offer has its sizes."""

from __future__ import annotations

import io
import re
from uuid import uuid4

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

from waney.yard.acts.offers import TreeOffered
from waney.yard.book.offered import tree_at
from waney.yard.services.offers import note_offer

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import PATIENCE_MS, signed_in

SIZE = (2000, 1500)
END, ROUND, STICK = (1000, 650), 375, ((750, 1200), (1250, 1200))
"""the middle of the end and its radius; a foot of stick below it"""


def end_with_a_stick() -> bytes:
    picture = Image.new("RGB", SIZE, (120, 122, 118))
    draw = ImageDraw.Draw(picture)
    for inset in range(0, ROUND, 25):
        box = (END[0] - ROUND + inset, END[1] - ROUND + inset, END[0] + ROUND - inset, END[1] + ROUND - inset)
        draw.ellipse(box, fill=(60, 45, 35) if inset == 0 else (190 - inset // 8, 150, 105), outline=(150, 110, 75))
    draw.rectangle((*STICK[0], STICK[1][0], STICK[1][1] + 24), fill=(240, 236, 220))
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=88)
    return out.getvalue()


def tap(page: Page, *places: tuple[float, float]) -> None:
    photo = page.locator("[data-sized] .photo")
    for u, v in places:
        box = photo.bounding_box()
        assert box is not None
        photo.click(position={"x": u / SIZE[0] * box["width"], "y": v / SIZE[1] * box["height"]})


def test_an_offer_with_only_a_photo_is_read_by_four_taps(yard: Yard, launch: Launch) -> None:
    """A foot of stick is 500 pixels, the end 750: 18 in across, 56.5 in round."""
    tree, served = str(uuid4()), yard.serve()
    note_offer(yard.hand, TreeOffered(tree, species="white ash", where="Mill Lane"))
    address = f"{served.address('localhost')}/offered/{tree}"
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    page.goto(address)
    page.click("text=Read its sizes off a photo")
    page.set_input_files("#photo", {"name": "end.jpg", "mimeType": "image/jpeg", "buffer": end_with_a_stick()})
    page.click("[data-sized] >> text=Larger")
    page.click("[data-sized] >> text=Smaller")
    tap(page, *STICK)
    status = page.locator("[data-sized] [role=status]")
    expect(status).to_contain_text("Tap both sides of the wood")
    tap(page, (END[0] - ROUND, END[1]), (END[0] + ROUND, END[1]))
    expect(status).to_contain_text("it is sent with the form")
    page.click("text=Read it >> nth=-1")
    expect(page.locator("main [role=alert]")).to_contain_text("how long the known thing is")
    assert tree_at(yard.book, tree).girth_m is None
    expect(status).to_contain_text("it is sent with the form")  # the photo and the taps are there still
    page.fill("#known_length", "12 in")
    page.click("text=Read it >> nth=-1")
    expect(page.locator("dl.facts")).to_contain_text(re.compile(r"off a photo, give or take \d+ %"), timeout=PATIENCE_MS)
    girth = tree_at(yard.book, tree).girth_m
    assert girth == pytest.approx(18 * 0.0254 * 3.14159, rel=0.06)
    page.goto(f"{address}/photo")
    page.wait_for_function("document.querySelector('[data-sized] img').naturalWidth > 0")
    assert page.locator("[data-sized] .catch").count() == 2, "the taps stand there again, the known length first"
    expect(status).to_contain_text("it is sent with the form")
