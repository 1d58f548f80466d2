"""A tag read from a photograph."""

from __future__ import annotations

import io

import segno
from PIL import Image
from playwright.sync_api import expect

from .conftest import Opened, a_photo


def a_tag(words: str) -> bytes:
    code = io.BytesIO()
    segno.make(words, error="m", micro=False).save(code, kind="png", scale=6)
    code.seek(0)
    photo = Image.new("RGB", (1600, 1200), (170, 140, 105))
    photo.paste(Image.open(code).convert("RGB").rotate(17, expand=True, fillcolor=(255, 255, 255)), (700, 500))
    out = io.BytesIO()
    photo.save(out, "JPEG", quality=70)
    return out.getvalue()


READER = '<div data-qr data-into="#name"><input type="file" accept="image/*"></div><input id="name">'


def test_a_tag_is_read_from_a_photograph(opened: Opened) -> None:
    page = opened(READER, "tag.js")
    page.wait_for_selector("[data-started]")
    page.locator("input[type=file]").set_input_files({"name": "tag.jpg", "mimeType": "image/jpeg", "buffer": a_tag("AB-12-P")})
    expect(page.locator("#name")).to_have_value("AB-12-P", timeout=20000)
    assert page.get_by_role("status").inner_text() == "Read: AB-12-P"


def test_a_photograph_without_a_tag_is_answered_with_a_sentence(opened: Opened) -> None:
    page = opened(READER, "tag.js")
    page.wait_for_selector("[data-started]")
    page.locator("input[type=file]").set_input_files({"name": "end.png", "mimeType": "image/png", "buffer": a_photo()})
    expect(page.get_by_role("status")).to_contain_text("No tag was read", timeout=20000)
    assert page.locator("#name").input_value() == ""
