"""At the mill with a phone on which no script runs: every tap is a form."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from waney.yard.book.days import came_off, happened
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import names_for_paper, open_day

from .conftest import PHONE, Launch, Yard, demo
from .test_sawing_day import signed_in


def opened(page: Page, words: str) -> None:
    page.locator("noscript summary", has_text=re.compile(f"^{words}$")).click()


def test_a_log_is_sawn_by_eye_where_no_script_runs(yard: Yard, launch: Launch) -> None:
    log, day, served = add_log(yard.hand, NewLog(demo("log"), code="W")).id, open_day(yard.hand, "2026-05-04").id, yard.serve()
    address = served.address("localhost")
    page = signed_in(launch().new_context(viewport=PHONE, java_script_enabled=False), address)  # type: ignore[arg-type]
    page.goto(f"{address}/day/{day}/at/{log}")
    for dead in (".needs-module", "#elses"):
        assert not any(one.is_visible() for one in page.locator(dead).all())
    last = page.locator("#last")
    page.select_option("#how", "wedge")
    page.locator("#thicknesses button", has_text="2").nth(-1).click()
    expect(last).to_contain_text("wedge")
    tag = names_for_paper(yard.hand, 9, "BACK")[3]
    opened(page, "Tag stapled on")
    page.fill("#tag-name", f"ck-4-{str(tag)[-1]}")
    page.click("form[action$='/tag'] button")
    expect(last).to_contain_text(f"{tag} tag stapled on")
    page.select_option("#how", label="1/4 in too thick")
    page.locator("#thicknesses button", has_text="2").nth(-1).click()
    expect(last).to_contain_text("thick")
    page.locator("#thicknesses button").first.click()
    expect(last).to_contain_text("as meant")
    opened(page, "Stop and look")
    page.select_option("#clock", "4")
    page.click("button[value='found metal']")  # texts inside of noscript are not looked for
    expect(last).to_contain_text("found metal")
    page.click("#undo")
    expect(last).to_contain_text("as meant")
    opened(page, "Something else")
    page.click("button[value='kept as a cant']")
    expect(last).to_contain_text("kept as a cant")
    assert came_off(yard.book, day)[0].name == str(tag)
    off = came_off(yard.book, day)
    assert [one.how for one in off] == ["wedge", "thick", "as meant", "kept as a cant"]
    assert [round((one.thickness_m or 0) / 0.0254, 2) for one in off[:2]] == [2.5, 2.25]
    assert happened(yard.book, day, log) == ()
