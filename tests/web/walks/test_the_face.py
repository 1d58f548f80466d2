"""The face of the cut, walked: metal keeps its place, a photo waits for a signal, pieces go where they are told."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image
from playwright.sync_api import expect
from sqlalchemy import select

from waney.yard.book import models
from waney.yard.book.engine import reading
from waney.yard.book.looking import pieces
from waney.yard.book.stories import log_story
from waney.yard.services.mill import carry_to
from waney.yard.services.pieces import name_spot

from .conftest import PHONE, Launch, Yard, reopened
from .test_sawing_day import at_the_mill, held, saw_to_piece, signed_in


def face() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "tan").save(out, "JPEG")
    return out.getvalue()


def test_metal_a_photo_and_where_pieces_go(yard: Yard, launch: Launch, tmp_path: Path) -> None:
    log, rack = yard.with_log(), name_spot(yard.hand, "Rack by the door").id
    served = yard.serve()
    context = launch().new_context(viewport=PHONE)
    page = signed_in(context, served.address())
    address = at_the_mill(page, served.address(), log)
    day = address.split("/day/")[1].split("/")[0]
    carry_to(yard.hand, day, rack)
    page.reload()
    page.wait_for_selector("html[data-ready=yes]")
    held(page)  # it is rolled on

    page.click("text=Something else")
    page.click("#elses >> text=Found metal")
    page.click("#ask >> text='2 ft'")
    page.click("#ask >> text='3'")
    expect(page.locator("#last")).to_contain_text("found metal")

    context.set_offline(True)
    page.set_input_files("#elses input.taken", {"name": "face.jpg", "mimeType": "image/jpeg", "buffer": face()})
    expect(page.locator("#kept")).to_contain_text("1 photo kept here", timeout=20_000)
    context.set_offline(False)
    expect(page.locator("#kept")).not_to_contain_text("photo kept here", timeout=30_000)
    saw_to_piece(page, 1)
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)

    beside = context.new_page()
    beside.goto(f"{served.address()}/day/{day}/beside")
    expect(beside.locator("#beside")).to_contain_text("It goes to Rack by the door")

    book = reopened(yard)
    with reading(book.engine) as at:
        found = at.execute(select(models.happening).where(models.happening.c.what == "found metal")).mappings().one()
    assert (round(found["along_m"], 4), found["clock"], found["log"]) == (0.6096, 3.0, log)
    assert [photo.shows.split(",")[0] for photo in log_story(book, log).photos] == ["a face"]
    assert [one.spot for one in pieces(book, log)] == [rack]
    book.close()
