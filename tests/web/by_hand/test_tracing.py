"""An end traced on its photograph."""

from __future__ import annotations

import json

import numpy as np
import pytest
from playwright.sync_api import Page, expect

from waney.logs.trace import End, Picture, scale_by_distance, traced_end

from .conftest import Opened, a_photo

OUTLINE = (
    '<form><div data-outline data-end="butt"><img src="/end.png" alt="The butt end">'
    '<input type="hidden" name="butt_outline"></div></form>'
)


def picture_there(page: Page) -> None:
    """The drawing over the picture counts in the picture's own pixels once that is loaded."""
    expect(page.locator(".photo svg")).to_have_attribute("viewBox", "0 0 1200 900")


def tap(page: Page, x: float, y: float) -> None:
    """A tap on a point of the picture, in its own pixels."""
    page.locator(".photo").scroll_into_view_if_needed()
    box = page.locator(".photo").bounding_box()
    assert box is not None
    page.locator(".photo").click(position={"x": x / 1200 * box["width"], "y": y / 900 * box["height"]})


def traced(page: Page) -> dict[str, object] | None:
    value = page.locator("input[name=butt_outline]").input_value()
    return json.loads(value) if value else None


def trace_round(page: Page, radius: float, n: int = 10) -> None:
    for i in range(n):
        angle = 2 * np.pi * i / n
        tap(page, 600 + radius * np.cos(angle), 400 + radius * np.sin(angle))


def test_an_end_is_traced_by_tapping(opened: Opened) -> None:
    page = opened(OUTLINE, "outline.js", {"/end.png": a_photo()})
    page.wait_for_selector(".board")
    picture_there(page)
    tap(page, 300, 790)
    tap(page, 900, 790)
    page.get_by_label("Known length").fill("60 cm")
    page.get_by_role("button", name="Wood").click()
    trace_round(page, 300)
    page.get_by_role("button", name="Pith").click()
    tap(page, 610, 390)
    outline = traced(page)
    assert outline is not None
    assert outline["scale"]["length"] == "60 cm"  # type: ignore[index]
    points = np.array(outline["points"])
    assert np.hypot(points[:, 0] - 600, points[:, 1] - 400) == pytest.approx(
        300, abs=2
    )  # a screen's pixel is 1.4 of the picture's
    assert outline["pith"] == pytest.approx([610, 390], abs=2)
    scale = outline["scale"]
    picture = Picture(End.BUTT, scale_by_distance(scale["from"], scale["to"], 0.6))  # type: ignore[index]
    end = traced_end(picture, outline["points"], (outline["pith"],))  # type: ignore[arg-type]
    # ten corners on a round of 0.6 m, one pixel of the screen is 1.4 mm
    assert end.diameter_m == pytest.approx(0.6 * np.sqrt(np.sin(2 * np.pi / 10) * 10 / (2 * np.pi)), abs=0.003)
    assert end.piths_m[0] == pytest.approx((-0.01, 0.01), abs=0.003)  # up and to the right: between 12 and 3 o'clock


def test_a_tap_is_taken_back_and_a_point_is_dragged(opened: Opened) -> None:
    page = opened(OUTLINE, "outline.js", {"/end.png": a_photo()})
    picture_there(page)
    page.get_by_role("button", name="Bark").click()
    trace_round(page, 330, 9)
    tap(page, 100, 100)
    page.get_by_role("button", name="Take back").click()
    before = traced(page)
    assert before is not None
    assert (before["over"], len(before["points"])) == ("bark", 9)  # type: ignore[arg-type]
    box = page.locator(".photo").bounding_box()
    assert box is not None
    at = (box["x"] + 930 / 1200 * box["width"], box["y"] + 400 / 900 * box["height"])
    page.mouse.move(*at)
    page.mouse.down()
    page.mouse.move(at[0] + 30, at[1], steps=3)
    assert page.locator(".loupe").is_visible()
    page.mouse.up()
    after = traced(page)
    assert after is not None
    assert after["points"][0][0] == pytest.approx(930 + 30 * 1200 / box["width"], abs=3)  # type: ignore[index]
    assert after["points"][1:] == before["points"][1:]  # type: ignore[index]


def test_an_end_can_be_traced_with_keys_alone(opened: Opened) -> None:
    page = opened(OUTLINE, "outline.js", {"/end.png": a_photo()})
    picture_there(page)
    page.get_by_role("button", name="Wood").press("Enter")
    board = page.locator(".board")
    for move in ("ArrowUp", "ArrowUp", "ArrowRight", "ArrowRight", "ArrowDown", "ArrowDown", "ArrowDown", "ArrowLeft"):
        for _ in range(4):
            board.press(move)
        board.press("Enter")
    outline = traced(page)
    assert outline is not None
    assert len(outline["points"]) == 8  # type: ignore[arg-type]
