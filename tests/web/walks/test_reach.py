"""Reach: axe finds nothing on any page, in light and dark; nothing is wider than a phone, at 200 % too; keys are enough."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import at_the_mill, signed_in

PAGES = (
    *("/", "/offered", "/logs", "/logs/new", "/day", "/take-in", "/pieces", "/pieces/count", "/spots", "/settings", "/sources"),
    *("/sign-in", "/no-such-page"),
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(yard: Yard, launch: Launch, scheme: str) -> None:
    log, served = yard.with_log(), yard.serve()
    address = served.address("localhost")
    context = launch().new_context(viewport=PHONE, color_scheme=scheme, bypass_csp=True)  # type: ignore[arg-type]
    page = signed_in(context, address)
    mill = at_the_mill(page, address, log)
    day = mill.split("/at/")[0].removeprefix(address)
    found = []
    for path in (*PAGES, f"/logs/{log}", day, f"{day}/beside", mill.removeprefix(address)):
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
