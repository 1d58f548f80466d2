"""In sight: what was done last, the way back and the targets stay on the screen; signing out leaves no page behind."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import pytest
import segno
from playwright.sync_api import BrowserContext, Page, expect

from waney.yard.book.days import came_off
from waney.yard.names import Name
from waney.yard.services.logs import NewLog, add_log
from waney.yard.tag_codes import content

from .conftest import EXAMPLES, NAMED, PHONE, Launch, Yard
from .test_sawing_day import at_the_mill, day_of, held, pieces_told, ready, saw_to_piece, signed_in

SMALL = {"width": 360, "height": 640}
TALL_ENOUGH = (PHONE, SMALL)
NARROW = (360, 195, 180)
"""a small phone, and two phones zoomed to twice their size"""
INSIDE = """(one) => {
  const box = one.getBoundingClientRect();
  return box.height > 0 && box.top >= 0 && box.bottom <= innerHeight + 1;
}"""


def out_of_sight(page: Page, ids: tuple[str, ...]) -> list[str]:
    """What does not lie wholly on the screen, the page scrolled to its top, on phones."""
    missed = []
    for size in TALL_ENOUGH:
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.evaluate("scrollTo(0, 0)")
        missed += [f"{one} at {size['width']}" for one in ids if not page.locator(f"#{one}").evaluate(INSIDE)]
    return missed


def covered(page: Page) -> list[int]:
    """Phones on which what stays under the thumb lies over the height of the next cut."""
    wrong = []
    for size in TALL_ENOUGH:
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.evaluate("scrollTo(0, 0)")
        height, thumb = (page.locator(one).bounding_box() for one in ("#height", ".under-thumb"))
        if height is None or thumb is None or height["y"] + height["height"] > thumb["y"]:
            wrong.append(size["width"])
    return wrong


def after(page: Page, miss: str) -> str:
    """What the next cut is said to be once a piece was missed."""
    page.click("#came-off")
    page.click(f"#ask button >> text='{miss}'")
    expect(page.locator("#last")).to_contain_text(miss.split()[-1])
    return re.sub(r"\s+", " ", page.inner_text("#next"))


def too_wide(page: Page) -> list[int]:
    """Widths at which something must be pushed aside to be seen."""
    wrong = []
    for width in NARROW:
        page.set_viewport_size({"width": width, "height": 640})
        if page.evaluate("document.documentElement.scrollWidth") > width + 1:
            wrong.append(width)
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    return wrong


def test_at_the_mill_and_on_the_page_taken_along(yard: Yard, launch: Launch, tmp_path: Path) -> None:
    log, served = yard.with_log(), yard.serve()
    browser = launch()
    page = signed_in(browser.new_context(viewport=PHONE, accept_downloads=True), served.address("localhost"))
    at_the_mill(page, served.address("localhost"), log)
    saw_to_piece(page, 1)
    assert page.locator("#height .fraction, #height .figure").count() > 0
    page.click("text=Seen")
    assert out_of_sight(page, ("height", "sawn", "came-off", "stop", "last", "undo")) == []
    assert covered(page) == []
    assert too_wide(page) == []
    assert "Comes 2 15/16" in after(page, "1/8 in thin")
    assert out_of_sight(page, ("height", "sawn", "came-off", "stop", "last", "undo")) == [] and covered(page) == []
    with page.expect_download() as download:
        page.click("text=Take this page along")
    file = tmp_path / "along.html"
    download.value.save_as(file)
    phone = browser.new_context(viewport=PHONE)
    alone = opened_from(file, phone)
    held(alone)
    expect(alone.locator("#to-tally")).to_have_text("Tally: 1 kept here")
    assert "1/8 in less than planned" in after(alone, "1/8 in thick"), "on a scale of eighths such a miss is let be"
    thick = [one["act"]["thickness_m"] for one in json.loads(alone.input_value("#tally"))["commands"]]
    assert round(thick[0] / 0.0254, 5) == 2.90625, (
        "as it was to come after the thin one, on a scale of eighths with 3/32 in of kerf"
    )
    alone.click("#undo")
    assert out_of_sight(alone, ("sawn", "came-off", "stop", "last", "undo", "to-tally")) == []
    assert too_wide(alone) == []
    closed_and_opened_again(alone, file, phone)


def opened_from(file: Path, phone: BrowserContext) -> Page:
    page = phone.new_page()
    page.goto(file.as_uri())
    ready(page)
    return page


def closed_and_opened_again(alone: Page, file: Path, phone: BrowserContext) -> None:
    """The page that was taken along, on a phone that keeps things: what was told stands there again, and goes on from there."""
    saw_to_piece(alone, pieces_told(alone) + 1)
    saw_to_piece(alone, pieces_told(alone) + 1)
    told, last, next_up = alone.input_value("#tally"), alone.inner_text("#last"), alone.inner_text("#next")
    asked: list[str] = []
    alone.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept())[1])
    with alone.expect_event("close"):
        alone.close(run_before_unload=True)
    assert asked == [], "what this phone keeps need not be asked about"
    again = opened_from(file, phone)
    assert (again.input_value("#tally"), again.inner_text("#last"), again.inner_text("#next")) == (told, last, next_up)
    saw_to_piece(again, pieces_told(again) + 1)
    before, after = json.loads(told)["commands"], json.loads(again.input_value("#tally"))["commands"]
    assert after[: len(before)] == before and len(after) == len(before) + 1
    gone = {command["act"]["command"] for command in after if command["act"]["kind"] == "taken-back"}
    off = [command for command in after if command["act"]["kind"] == "came-off" and command["id"] not in gone]
    names = [command["act"]["name"] for command in off]
    assert len(names) == len(set(names)) == len(after) - 2 * len(gone), "each press a piece, and no name is given twice"


def test_without_a_plan_too(yard: Yard, launch: Launch) -> None:
    log = add_log(yard.hand, NewLog((EXAMPLES / "log-rough.toml").read_text("utf-8"), code="K")).id
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    page.goto(f"{served.address('localhost')}/logs/{log}")
    page.click("text=Saw it now")
    page.wait_for_selector("html[data-ready=yes]")
    page.locator("#thicknesses button").first.click()
    expect(page.locator("#last")).to_contain_text("K-1-")
    assert out_of_sight(page, ("last", "undo")) == []


def test_who_signs_out_leaves_no_page_behind_and_loses_nothing_that_was_done(yard: Yard, launch: Launch) -> None:
    log, served = yard.with_log(), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    mill = at_the_mill(page, served.address("localhost"), log)
    expect(page.locator("#opens")).to_have_text("This page opens without a signal.", timeout=15_000)
    saw_to_piece(page, 1)
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=20_000)
    kept = "caches.open('pages').then((pages) => pages.keys()).then((all) => all.length)"
    assert page.evaluate(kept) > 0
    page.context.set_offline(True)
    saw_to_piece(page, 2)
    expect(page.locator("#kept")).to_contain_text("1 kept here", timeout=20_000)
    page.context.set_offline(False)
    page.click("text=Sign out")
    page.wait_for_selector("text=Sign in")
    assert page.evaluate(kept) == 0
    again = signed_in(page.context, served.address("localhost"))
    again.goto(mill)
    ready(again)
    expect(again.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)
    assert pieces_told(again) == 2
    assert len(came_off(yard.book, day_of(mill), log)) == 2


def test_a_tag_is_read_in_the_page_where_no_worker_can_be(yard: Yard, launch: Launch) -> None:
    """On a plain origin, with the server gone: nothing but the file is asked for."""
    name = Name("AB", 12)
    out = BytesIO()
    segno.make_qr(content(name)).save(out, kind="png", scale=8)
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address(NAMED))
    page.goto(f"{served.address(NAMED)}/tags/bind")
    page.wait_for_selector("[data-qr][data-started]")
    page.set_input_files("#tag", {"name": "tag.png", "mimeType": "image/png", "buffer": out.getvalue()})
    expect(page.locator("#name")).to_have_value(str(name))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_out_in_the_sun(yard: Yard, launch: Launch, scheme: str) -> None:
    """Seven to one at the mill (WCAG 2.2, 1.4.6), more than elsewhere."""
    from axe_playwright_python.sync_playwright import Axe

    log, served = yard.with_log(), yard.serve()
    context = launch().new_context(viewport=PHONE, bypass_csp=True, color_scheme=scheme)  # type: ignore[arg-type]
    page = signed_in(context, served.address("localhost"))
    at_the_mill(page, served.address("localhost"), log)
    found = Axe().run(
        page, options={"runOnly": ["color-contrast-enhanced"], "rules": {"color-contrast-enhanced": {"enabled": True}}}
    )
    assert [one["nodes"][0]["html"] for one in found.response["violations"]] == []
