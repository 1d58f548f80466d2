"""Put right, walked: two pieces swapped and repaired, a paper tally typed in, tags printed and read back from the print."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from waney.yard.acts.mill import CameOff
from waney.yard.book.looking import pieces
from waney.yard.book.stories import log_story, piece_story
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import open_day, take_off
from waney.yard.services.pictures import names_seen

from .conftest import PHONE, Launch, Yard, demo, reopened
from .test_sawing_day import signed_in


@pytest.fixture
def boule(yard: Yard) -> tuple[str, list[str]]:
    """A log and four pieces off it, named and in order."""
    log = add_log(yard.hand, NewLog(demo("log"), code="W")).id
    off = [yard.hand.new_id() for _ in range(4)]
    for n, piece in enumerate(off, 1):
        take_off(yard.hand, CameOff(piece, log=log, order=n, thickness_m=0.05))
    return log, off


@pytest.fixture
def page(yard: Yard, launch: Launch) -> Page:
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE, accept_downloads=True), served.address())
    page.goto(served.address())
    return page


def test_two_pieces_that_were_swapped_are_found_by_their_widths_and_repaired(
    yard: Yard, boule: tuple[str, list[str]], page: Page
) -> None:
    log, off = boule
    names = {one.id: one.name for one in pieces(yard.book, log)}
    base = page.url.rstrip("/")
    page.goto(f"{base}/logs/{log}")
    page.click("text=Mixed up?")
    # the second and the third hang in each other's place: their faces do not fit their neighbours
    for piece, (one, other) in zip(off, (("8", "12"), ("15", "16 1/2"), ("12 1/8", "14 7/8"), ("16 5/8", "17")), strict=True):
        page.fill(f"#first-{piece}", one)
        page.fill(f"#second-{piece}", other)
    page.click("text=Find the order by the widths")
    expect(page.locator("[role=status] ol li")).to_have_count(4)
    found = [text.split(",")[0] for text in page.locator("[role=status] ol li").all_inner_texts()]
    right = [names[off[n]] for n in (0, 2, 1, 3)]
    assert found in (right, right[::-1])
    # so the tags of the two were swapped: they change names, and the boule is in order again
    page.click("summary:has-text('Two names were exchanged')")
    page.select_option("#one", off[1])
    page.select_option("#other", off[2])
    page.click("text=Exchange their names")
    page.goto(f"{base}/pieces/{off[1]}")
    expect(page.locator("h1")).to_have_text(f"Piece {names[off[2]]}")
    expect(page.locator("main")).to_contain_text("names were exchanged")
    book = reopened(yard)
    assert {one.id: one.name for one in pieces(book, log)} == names | {off[1]: names[off[2]], off[2]: names[off[1]]}
    book.close()


def test_a_paper_tally_is_typed_in_with_keys_alone(yard: Yard, boule: tuple[str, list[str]], page: Page) -> None:
    log, _ = boule
    today, base = open_day(yard.hand, "2026-05-04").id, page.url.rstrip("/")
    page.goto(f"{base}/day/{today}")
    page.click("text=Type in a paper tally")
    page.set_viewport_size({"width": 360, "height": 740})
    expect(page.locator("text=Write it down")).to_be_in_viewport()  # at the foot of the screen, not of twelve lines
    line = page.locator("ol.sheet li").first.bounding_box()
    assert line is not None and line["height"] < 230, "a line is two rows of fields on a phone"
    page.select_option("#log", log)
    page.focus("#name-1")
    for words in ("", "2 1/8", "12", "11 1/2", "8 ft", "curly"):
        page.keyboard.type(words)
        page.keyboard.press("Tab")
    page.fill("#thick-2", "two")
    page.click("text=Write it down")
    expect(page.locator("[role=alert]")).to_have_count(1)
    expect(page.locator("#remark-1")).to_have_value("curly")
    page.fill("#thick-2", "2 1/8")
    page.keyboard.press("Enter")
    expect(page.locator("[role=status]")).to_contain_text("Written.")
    book = reopened(yard)
    assert len(log_story(book, log).pieces) == 6
    book.close()


def test_tags_printed_ahead_are_read_back_from_the_print_and_bound(yard: Yard, page: Page, tmp_path: Path) -> None:
    base = page.url.rstrip("/")
    piece = yard.hand.new_id()
    take_off(yard.hand, CameOff(piece, species="elm", thickness_m=0.05))
    page.goto(f"{base}/papers")
    page.fill("#count", "6")
    with page.expect_response(lambda answer: "/papers/tags.pdf" in answer.url) as answered:
        page.locator("form[action='/papers/tags'] button").click()
    printed = tmp_path / "tags.pdf"
    printed.write_bytes(page.context.request.get(answered.value.url).body())
    subprocess.run(["pdftoppm", "-png", "-r", "200", "-f", "1", "-l", "1", str(printed), str(tmp_path / "page")], check=True)
    (picture,) = tmp_path.glob("page*.png")
    names = [seen.name for seen in names_seen(picture.read_bytes())]
    assert len(set(names)) == len(names) == 6, "every tag of the sheet reads, no name twice"
    page.goto(f"{base}/pieces/{piece}")
    page.fill("#name", str(names[0]).replace("-", "").lower())
    page.click("text=Write it down >> visible=true")
    expect(page.locator("h1")).to_have_text(f"Piece {names[0]}")
    book = reopened(yard)
    assert [one.name for one in (piece_story(book, piece).piece,)] == [str(names[0])]
    book.close()
