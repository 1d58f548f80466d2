"""Reach: axe finds nothing on any page, in light and dark; nothing is wider than a phone, at 200 % too; keys are enough."""

from __future__ import annotations

from uuid import uuid4

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from waney.logs.sheet_text import with_entry
from waney.yard.acts.mill import CameOff
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book.stories import log_story
from waney.yard.services.logs import add_to_sheet
from waney.yard.services.pieces import name_spot
from waney.yard.services.stacks import build_stack

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import PATIENCE_MS, at_the_mill, signed_in

PAGES = (
    *("/", "/offered", "/logs", "/logs/new", "/day", "/take-in", "/pieces", "/pieces/count", "/spots", "/settings", "/sources"),
    *("/sign-in", "/no-such-page"),
)


def a_board(yard: Yard, log: str) -> str:
    """A piece that came off by the plan of a log."""
    piece, plan = str(uuid4()), log_story(yard.book, log).plans[0].id
    yard.hand.write(CameOff(piece, "", log, plan, cut=3, thickness_m=0.05, length_m=2.4, widths_m=(0.2, 0.3)))
    return piece


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(yard: Yard, launch: Launch, scheme: str) -> None:
    log = yard.with_log()
    piece, served = a_board(yard, log), yard.serve()
    add_to_sheet(yard.hand, log, lambda text: with_entry(text, "metal", ("distance = 30", "clock = 3")))
    address = served.address("localhost")
    context = launch().new_context(viewport=PHONE, color_scheme=scheme, bypass_csp=True)  # type: ignore[arg-type]
    page = signed_in(context, address)
    mill = at_the_mill(page, address, log)
    day = mill.split("/at/")[0].removeprefix(address)
    found = []
    page.goto(f"{address}/pieces/{piece}")
    page.wait_for_selector("figure.place, a.button:has-text('Look at it')", timeout=PATIENCE_MS)
    for path in (*PAGES, f"/logs/{log}", f"/pieces/{piece}", day, f"{day}/beside", mill.removeprefix(address)):
        page.goto(address + path)
        found += [(path, one["id"], one["nodes"][0]["html"]) for one in Axe().run(page).response["violations"]]
    assert found == []


def test_no_page_is_wider_than_a_phone_even_at_200_percent(yard: Yard, launch: Launch) -> None:
    log, served = yard.with_log(), yard.serve()
    address = served.address("localhost")
    page = signed_in(launch().new_context(viewport={"width": 390 // 2, "height": 844 // 2}), address)  # what 200 % leaves of it
    wider = []
    for path in (*PAGES, f"/logs/{log}"):
        page.goto(address + path)
        if page.evaluate("document.documentElement.scrollWidth > innerWidth + 1"):
            wider.append(path)
    assert wider == []


@pytest.mark.parametrize("wide", [390, 195], ids=["phone", "zoomed to twice its size"])
def test_tables_are_read_on_a_phone_without_pushing_them_aside(yard: Yard, launch: Launch, wide: int) -> None:
    log = yard.with_log()
    a_board(yard, log)
    shed = name_spot(yard.hand, "Long shed by the road").id
    build_stack(yard.hand, StackBuilt(str(uuid4()), "by the road", shed))
    served = yard.serve()
    address = served.address("localhost")
    page = signed_in(launch().new_context(viewport={"width": wide, "height": 844}), address)
    for path in ("/logs", "/pieces", "/spots", "/stacks", f"/logs/{log}"):
        page.goto(address + path)
        table = page.locator("table.lines").first
        assert table.evaluate("(one) => one.parentElement.scrollWidth <= one.parentElement.clientWidth"), path
        cell = table.locator("tbody td[data-word]").first
        word = cell.evaluate("(one) => getComputedStyle(one, '::before').content")
        assert word == f'"{cell.get_attribute("data-word")}"', path


def test_a_log_is_booked_in_with_keys_alone(yard: Yard, launch: Launch) -> None:
    served = yard.serve()
    page = signed_in(launch().new_context(viewport={"width": 1280, "height": 900}), served.address("localhost"))
    page.goto(served.address("localhost") + "/logs/new")
    page.focus("#species")
    page.keyboard.type("black walnut")
    for field, text in (("length", "8 ft"), ("top_diameter", "16")):
        for _ in range(40):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.id") == field:
                break
        page.keyboard.type(text)
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_contain_text("Log ")
