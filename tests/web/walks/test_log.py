"""A log, walked: by the form, by a traced photo, by a scan; planned, chosen, its height card opened; offered before that."""

from __future__ import annotations

import io
import json
import math

import laspy
import numpy as np
import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

from waney.logs.sheet import log_sheet
from waney.yard.acts.settings import Setting
from waney.yard.book.chosen import chosen_plan
from waney.yard.book.logs_seen import logs
from waney.yard.book.offered import trees
from waney.yard.book.stories import log_story
from waney.yard.services.settings import settle_for_shop

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import PATIENCE_MS, signed_in

WIDE, HIGH = 1200, 900
DESK = {"width": 1280, "height": 900}


def end_photo() -> bytes:
    """A round end of 600 pixels across with a rule of the same length below it, drawn."""
    picture = Image.new("RGB", (WIDE, HIGH), (120, 120, 110))
    pen = ImageDraw.Draw(picture)
    pen.ellipse((300, 100, 900, 700), fill=(225, 200, 160))
    pen.rectangle((300, 780, 900, 800), fill=(250, 240, 90))
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def tap(page: Page, x: float, y: float) -> None:
    photo = page.locator("[data-end=butt] .photo")
    photo.scroll_into_view_if_needed()
    box = photo.bounding_box()
    assert box is not None
    photo.click(position={"x": x / WIDE * box["width"], "y": y / HIGH * box["height"]})


def test_a_tree_is_offered_answered_fetched_and_becomes_a_log(yard: Yard, launch: Launch) -> None:
    for sheet in (Setting.MILL, Setting.WANTS):
        settle_for_shop(yard.hand, sheet, "")  # by the scale alone: the saw arithmetic need not be made ready for it
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    page.goto(served.address("localhost") + "/settings/costs")
    for name, text in (("currency", "USD"), ("driving", "0.70"), ("hourly", "25"), ("loading", "0"), ("board_foot", "2 to 4")):
        page.fill(f"#{name}", text)
    page.click("main button:has-text('Settle')")
    page.click("nav >> text=Offered")
    told = {"species": "red oak", "girth": "70", "length": "16.5 ft", "where": "by the mill pond", "way": "12", "hours": "2"}
    for name, text in told.items():
        page.fill(f"#{name}", text)
    page.click("main button:has-text('Write it down')")
    expect(page.locator("#answer .lead")).to_contain_text("Fetch.", timeout=PATIENCE_MS)  # it came by itself
    expect(page.locator("#answer")).to_contain_text("Left at that price")
    page.click("button:has-text('Fetch')")
    (tree,) = trees(yard.book)
    assert (tree.reply, tree.where, len(tree.money_cents)) == ("fetch", "by the mill pond", 3)
    page.click("button:has-text('It lies in the yard')")
    expect(page.locator("#answer")).to_contain_text("8 ft + 8 ft", timeout=PATIENCE_MS)
    page.fill("#lengths", "8 ft + 8 ft")
    page.click("button:has-text('Book the logs in')")
    expect(page.locator("main")).to_contain_text("Cut from it")
    butt, top = logs(yard.book)
    assert (butt.from_butt_m, top.from_butt_m) == (0.0, pytest.approx(8 * 0.3048 + 0.01)) and butt.stem == top.stem != ""
    page.click("nav >> text=Logs")
    expect(page.locator("#answer")).not_to_contain_text("not worked out yet", timeout=PATIENCE_MS)
    assert sideways(page) == 0


def sideways(page: Page) -> int:
    """By how much the page is wider than the phone."""
    return int(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


def trace(page: Page) -> None:
    """The photo of the butt, its known length, and sixteen points round the wood."""
    page.set_input_files("#butt_photo", {"name": "end.png", "mimeType": "image/png", "buffer": end_photo()})
    within = page.locator("[data-end=butt]")
    expect(within.locator(".photo svg")).to_have_attribute("viewBox", f"0 0 {WIDE} {HIGH}")
    tap(page, 300, 790)
    tap(page, 900, 790)
    within.get_by_label("Known length").fill("60 cm")
    within.get_by_role("button", name="Wood").click()
    for i in range(16):
        angle = 2 * math.pi * i / 16
        tap(page, 600 + 300 * math.cos(angle), 400 + 300 * math.sin(angle))


def test_a_log_by_a_traced_photo(yard: Yard, launch: Launch) -> None:
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=DESK), served.address("localhost"))
    page.goto(served.address("localhost") + "/logs/new")
    page.fill("#species", "black walnut")
    page.fill("#length", "8 ft")
    page.click("text=Or trace a photo of the butt end")
    trace(page)
    page.get_by_role("button", name="Book it in", exact=True).click()
    expect(page.locator("h1")).to_contain_text("Log A-0-")
    (log,) = logs(yard.book)
    (butt,) = (one for one in log_sheet(log.sheet).log.rounds if one.at_m == 0)
    # sixteen corners on a round of 0.6 m have 0.974 of its area; a pixel of the screen is 1 to 2 mm here
    area = 0.5 * 16 * math.sin(2 * math.pi / 16) * 0.3**2
    assert abs(_area(butt.trace_m)) == pytest.approx(area, rel=0.02)
    assert [one.shows for one in log_story(yard.book, log.id).photos] == ["butt end"]


def _area(trace: object) -> float:
    x, y = np.asarray(trace, dtype=float).T
    return float(0.5 * (x @ np.roll(y, -1) - y @ np.roll(x, -1)))


def tap_drawing(page: Page, which: str, right: float, down: float) -> None:
    """Shares of the drawing without its margin of 44 of 688 steps."""
    sheet = page.locator(f"[data-placing={which}] svg")
    sheet.scroll_into_view_if_needed()
    box = sheet.bounding_box()
    assert box is not None
    tall = 300 if which == "unrolled" else 600
    scale = box["width"] / 688
    sheet.click(position={"x": (44 + 600 * right) * scale, "y": (44 + tall * down) * scale})


def planned(page: Page) -> None:
    """Wait until the plans of a log are there, and look at the first."""
    page.wait_for_selector("figure[data-log3d], a.button:has-text('Look at it'), [role=alert]", timeout=PATIENCE_MS)
    if page.locator("a.button:has-text('Look at it')").count():
        page.click("a.button:has-text('Look at it')")
    page.locator("figure[data-log3d]").first.scroll_into_view_if_needed()  # it is drawn when it is about to be seen
    page.wait_for_selector("figure[data-drawn]", timeout=PATIENCE_MS)


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_a_nail_tapped_at_3_o_clock_is_at_3_o_clock_in_sheet_plan_and_three_dimensions(
    yard: Yard, launch: Launch, viewport: dict[str, int]
) -> None:
    """Design section 4. Booked in with a nail tapped at 3 o'clock; another at 9, tapped later on the log's page."""
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=viewport), served.address("localhost"))  # type: ignore[arg-type]
    page.goto(served.address("localhost") + "/logs/new")
    for field, text in (("species", "white oak"), ("length", "10 ft"), ("butt_diameter", "20"), ("top_diameter", "18")):
        page.fill(f"#{field}", text)
    tap_drawing(page, "unrolled", 0.5, 3 / 12)
    expect(page.locator("[name=found_distance]")).to_have_value("60")
    expect(page.locator("[name=found_clock]")).to_have_value("3")
    page.get_by_role("button", name="Book it in", exact=True).click()
    expect(page.locator("h1")).to_contain_text("Log A-0-")
    tap_drawing(page, "unrolled", 0.25, 9 / 12)
    tap_drawing(page, "butt", 0.1, 0.5)  # 9 o'clock, 2 of 10 inches deep
    expect(page.locator("[name=found_depth]").first).to_have_value("2")
    page.click("text=Add it to the sheet")
    expect(page.locator("#found ~ .wide tbody tr").first).to_be_visible()
    (log,) = logs(yard.book)
    inch = 0.0254
    nails = [(one.clock_h, one.middle_m, one.depth_m) for one in log_sheet(log.sheet).log.hidden]
    assert nails == [(3.0, pytest.approx(60 * inch), 0.0), (9.0, pytest.approx(30 * inch), pytest.approx(2 * inch))]
    page.goto(f"{served.address('localhost')}/logs/{log.id}/plans")
    planned(page)
    spots = json.loads(page.locator("figure[data-log3d] script").first.inner_text())["spots"]
    assert [one["words"] for one in spots] == ["metal at 3:00", "metal at 9:00"]
    # seen from the butt x runs to the left: 3 o'clock is on the right
    assert spots[0]["x_m"] < -0.1 < 0.1 < spots[1]["x_m"]
    butt = page.locator("details.whole svg").first
    middle = float(str(butt.locator("text", has_text="12").first.get_attribute("x")))
    left, right = sorted(float(str(one.get_attribute("x"))) for one in butt.locator(":scope > text", has_text="metal").all())
    assert left < middle - 20
    assert right > middle + 20


def test_an_end_of_a_log_in_the_book_is_traced(yard: Yard, launch: Launch) -> None:
    log, served = yard.with_log(), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))  # type: ignore[arg-type]
    page.goto(f"{served.address('localhost')}/logs/{log}")
    page.click("text=The butt end, on a photo")
    trace(page)
    page.click("text=Add what was traced to the sheet")
    expect(page.locator(".wrong", has_text="earlier sheet")).to_be_visible()  # the chosen plan does not know of it
    story = log_story(yard.book, log)
    (butt,) = (one for one in log_sheet(story.log.sheet).log.rounds if one.at_m == 0)
    area = 0.5 * 16 * math.sin(2 * math.pi / 16) * 0.3**2
    assert abs(_area(butt.trace_m)) == pytest.approx(area, rel=0.04)  # a pixel of a phone's screen is 3 to 4 mm here
    assert [one.shows for one in story.photos] == ["butt end"]
    page.click("text=The butt end, on a photo")
    expect(page.locator("[data-end=butt] img")).to_be_visible()  # the photo stays, to be traced anew


def test_a_log_by_a_scan_is_planned_and_a_plan_chosen(yard: Yard, launch: Launch) -> None:
    served = yard.serve()
    page = signed_in(launch().new_context(viewport={"width": 360, "height": 740}), served.address("localhost"))
    page.goto(served.address("localhost") + "/logs/new")
    page.fill("#species", "northern red oak")
    page.click("text=Or a scan of it")
    page.set_input_files("#scan", {"name": "scan", "mimeType": "application/octet-stream", "buffer": b"no points"})
    page.click("text='Book it in'")
    expect(page.locator("[role=alert]").first).to_contain_text("no scan that can be read")
    page.set_input_files("#scan", {"name": "scan", "mimeType": "application/octet-stream", "buffer": a_scan()})
    page.click("text='Book it in'")
    expect(page.locator("h1")).to_contain_text("Log A-0-")
    expect(page.locator("#scanned + p")).to_contain_text("scan.las")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.click("text=Plan how to saw it")
    planned(page)
    page.click("button:has-text('Choose through')")
    expect(page.locator("strong:has-text('chosen')")).to_be_visible()
    (log,) = logs(yard.book)
    chosen = chosen_plan(yard.book, log.id)
    assert chosen is not None
    assert chosen.pattern == "through"
    card = page.request.get(served.address("localhost") + str(page.locator("text=Height card").first.get_attribute("href")))
    assert card.body().startswith(b"%PDF")


def a_scan() -> bytes:
    """A round log of 8 ft, 16 in at the butt and 14 in at the top, with its ends, as points."""
    rng = np.random.default_rng(1)
    z, angle = rng.uniform(0, 2.44, 40_000), rng.uniform(0, 2 * math.pi, 40_000)
    radius = 0.2032 - 0.0254 * z / 2.44
    sides = np.column_stack([z, radius * np.cos(angle), radius * np.sin(angle)])
    ends = [_disc(rng, height, r) for height, r in ((0.0, 0.2032), (2.44, 0.1778))]
    header = laspy.LasHeader(point_format=0, version="1.2")
    header.scales = np.array([1e-4, 1e-4, 1e-4])
    las = laspy.LasData(header)
    las.x, las.y, las.z = np.concatenate([sides, *ends]).T
    out = io.BytesIO()
    las.write(out)
    return out.getvalue()


def _disc(rng: np.random.Generator, height: float, radius: float) -> np.ndarray:
    r, angle = radius * np.sqrt(rng.uniform(0, 1, 6000)), rng.uniform(0, 2 * math.pi, 6000)
    return np.column_stack([np.full(6000, height), r * np.cos(angle), r * np.sin(angle)])
