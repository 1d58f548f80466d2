"""Metal and defects put on a drawing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from .conftest import Opened

ROW = '<p data-row><input name="metal_distance" data-field="distance"><input name="metal_clock" data-field="clock"></p>'
PLACING = (
    f'<div id="rows">{ROW}</div>'
    f'<div data-placing="unrolled" data-rows="#rows" data-length="120" data-grain="1"><template>{ROW}</template></div>'
)


def test_metal_is_put_on_the_unrolled_log(opened: Opened) -> None:
    page = opened(PLACING, "placing.js")
    sheet = page.locator("[data-placing] svg")
    box = sheet.bounding_box()
    assert box is not None
    scale = box["width"] / 688  # 600 and two margins of 44
    for share, clock in ((0.25, 3), (0.75, 9)):
        sheet.click(position={"x": (44 + 600 * share) * scale, "y": (44 + 300 * clock / 12) * scale})
    assert [field.input_value() for field in page.locator("[name=metal_distance]").all()] == ["30", "90"]
    assert [field.input_value() for field in page.locator("[name=metal_clock]").all()] == ["3", "9"]
    assert page.locator(".spot").count() == 2


TWO = (
    '<div id="rows"><p data-row><input name="d" data-field="distance"><input name="c" data-field="clock">'
    '<input name="t" data-field="depth"></p></div><input id="long">'
    '<div data-placing="unrolled" data-rows="#rows" data-unit="in" data-length-from="#long" data-grain="1"></div>'
    '<div data-placing="butt" data-rows="#rows" data-unit="in" data-across="20" data-grain="1"></div>'
)


def tap_drawing(page: Page, which: str, right: float, down: float) -> None:
    """In steps of the drawing, from its corner without the margin."""
    sheet = page.locator(f"[data-placing={which}] svg")
    sheet.scroll_into_view_if_needed()
    box = sheet.bounding_box()
    assert box is not None
    sheet.click(position={"x": (44 + right) * box["width"] / 688, "y": (44 + down) * box["width"] / 688})


def test_a_nail_gets_its_place_on_one_drawing_and_its_depth_on_the_other(opened: Opened) -> None:
    page = opened(TWO, "placing.js")
    tap_drawing(page, "unrolled", 150, 75)
    assert page.locator("[name=d]").input_value() == ""  # the length is not known yet
    assert page.locator("[data-placing=unrolled]").get_by_text("Write the length first").count() == 1
    page.fill("#long", "10 ft")
    tap_drawing(page, "unrolled", 150, 75)
    tap_drawing(page, "butt", 300 + 240, 300)  # 3 o'clock, 8 of 10 inches from the middle
    assert [page.locator(f"[name={name}]").input_value() for name in "dct"] == ["30", "3", "2"]
    assert page.locator(".spot").count() == 2


def test_a_pith_on_the_top_end_reads_the_butts_clock(opened: Opened) -> None:
    row = '<p id="pith" data-row><input name="m" data-field="from_middle"><input name="c" data-field="clock"></p>'
    page = opened(
        f'<div id="r">{row}</div><div data-placing="top" data-rows="#r" data-across="20" data-grain="1"></div>', "placing.js"
    )
    sheet = page.locator("[data-placing] svg")
    box = sheet.bounding_box()
    assert box is not None
    scale = box["width"] / 688
    sheet.click(position={"x": (44 + 300 - 90) * scale, "y": (44 + 300) * scale})  # left of the middle, 3/10 of the radius
    assert page.locator("[name=c]").input_value() == "3"
    assert float(page.locator("[name=m]").input_value()) == pytest.approx(3.0, abs=0.26)
