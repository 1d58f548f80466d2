"""The log in three dimensions and the flat drawings beside it, turned and taken apart by hand and by keys."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page
from tests.papers.conftest import half_turn_case

from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.papers.apart import apart_drawings
from waney.papers.ink import SCREEN
from waney.papers.solid import Solid, SolidCut, SolidPart, bare_solid, solid, solid_json
from waney.papers.subject import Subject
from waney.papers.words import INCHES

from .conftest import Opened


def a_cylinder() -> Solid:
    """A log of 0.4 m and 3 m with a nail at 3 o'clock, and two cuts from above."""
    z, m = np.array([0.0, 1.5, 3.0]), 48
    x, y = clock_to_xy(3, 0.15)
    rings = RingField(z[[0, -1]], np.zeros((1, 2, 2)), np.full((1, 2, m), 0.2))
    shape = LogShape(
        z, np.zeros((3, 2)), np.full((3, m), 0.2), np.full((3, m), 0.01), rings, (Zone(Hidden.METAL, 0.0, 0.2, x, y, 0.02),)
    )
    bare = bare_solid("T1", shape)
    cuts = tuple(SolidCut(0, height, height + 0.003, f"bed height {height}") for height in (0.36, 0.3))
    parts = (
        SolidPart("", "", "an outside slab", False),
        SolidPart("T1-1", "1", "T1-1, 57 mm", True),
        SolidPart("T1-2", "2", "T1-2", True),
    )
    return Solid(bare.format, bare.log, bare.shape, bare.rings, bare.lies, cuts, parts, (), bare.spots)


def log_body() -> str:
    figures = f'<script type="application/json">{solid_json(a_cylinder())}</script>'
    return f'<figure data-log3d>{figures}<p id="flat">the flat drawing</p></figure>'


def shot(page: Page) -> Image.Image:
    page.wait_for_timeout(400)
    return Image.open(io.BytesIO(page.locator(".stage canvas").screenshot())).convert("L")


def test_without_webgl_the_flat_drawings_stay(opened: Opened) -> None:
    page = opened(log_body(), "log3d.js", webgl=False)
    page.wait_for_selector("figure[data-drawn=flat]")
    assert page.locator("#flat").is_visible()
    assert page.locator("canvas").count() == 0
    assert page.get_by_label("Taken apart, cut by cut").count() == 1


def test_the_log_is_taken_apart_cut_by_cut(opened: Opened) -> None:
    page = opened(log_body(), "log3d.js")
    page.wait_for_selector("figure[data-drawn='3d']")
    assert page.locator("output").inner_text() == "Whole: 2 cuts to come"
    whole = shot(page)
    page.get_by_label("Taken apart, cut by cut").press("ArrowRight")
    assert page.locator("output").inner_text() == "Cut 1 of 2: bed height 0.36; off comes an outside slab"
    page.get_by_role("button", name="Next step").click()
    assert page.locator("output").inner_text() == "Cut 2 of 2: bed height 0.3; off comes T1-1, 57 mm"
    assert page.get_by_label("Taken apart, cut by cut").get_attribute("aria-valuetext") == page.locator("output").inner_text()
    assert shot(page).tobytes() != whole.tobytes()


def a_turned_log() -> str:
    """Four cuts from one side, a half turn, the rest from the other: with each lie flat beside it."""
    case = half_turn_case()
    subject = Subject(case.plan, case.shape, case.mill, INCHES)
    flats = "".join(f'<div data-lie="{i}">{svg}</div>' for i, svg in enumerate(apart_drawings(subject, SCREEN, 110.0)))
    figures = f'<script type="application/json">{solid_json(solid(subject))}</script>'
    return f'<figure data-log3d>{figures}<div class="flats" hidden>{flats}</div></figure>'


def flat_state(page: Page) -> dict[str, object]:
    """What the flat drawings show: lies, parts that came off and how far up they slid, cuts to come."""
    found: dict[str, object] = page.evaluate("""() => {
        const lies = [...document.querySelectorAll('.flats [data-lie]')].filter((one) => !one.hidden);
        const seen = (name) => lies.flatMap((lie) => [...lie.querySelectorAll(`[data-${name}]`)])
            .filter((one) => one.style.display !== 'none');
        const up = (one) => -Number(/ (-?[0-9.]+)/.exec(one.getAttribute('transform'))[1]);
        return {
            lies: lies.map((lie) => Number(lie.dataset.lie)),
            off: seen('part').filter((one) => one.classList.contains('off')).map((one) => [Number(one.dataset.part), up(one)]),
            ahead: seen('ahead').map((one) => Number(one.dataset.ahead)),
            left: seen('left').map((one) => Number(one.dataset.left)),
        };
    }""")
    return found


def said(page: Page) -> str:
    return page.locator("output").inner_text()


@pytest.mark.parametrize("webgl", [True, False], ids=["webgl", "no-webgl"])
def test_flat_drawings_and_the_log_in_three_dimensions_are_in_the_same_state(opened: Opened, webgl: bool) -> None:
    cuts = [cut.lie for cut in solid(_turned_subject()).cuts]
    first = cuts.count(0)
    page = opened(a_turned_log(), "log3d.js", webgl=webgl)
    page.wait_for_selector(f"figure[data-drawn='{'3d' if webgl else 'flat'}']")
    figure, forward = page.locator("figure"), page.get_by_role("button", name="Next step")
    assert flat_state(page) == {"lies": [0], "off": [], "ahead": list(range(1, first + 1)), "left": [0]}
    for made in range(1, first + 1):
        forward.click()
        assert figure.get_attribute("data-cuts") == str(made)
        slid = [[number, 4 * (made - number + 1)] for number in range(1, made + 1)]
        assert flat_state(page) == {"lies": [0], "off": slid, "ahead": list(range(made + 1, first + 1)), "left": [made]}
    page.get_by_label("Taken apart, cut by cut").press("ArrowRight")
    assert said(page) == "Turned: a half turn, onto the sawn face"
    assert (figure.get_attribute("data-lie"), figure.get_attribute("data-cuts")) == ("1", str(first))
    assert flat_state(page) == {"lies": [1], "off": [], "ahead": list(range(first + 1, len(cuts) + 1)), "left": [first]}
    page.get_by_label("Taken apart, cut by cut").press("PageDown")
    assert said(page).startswith(f"Cut {first + 1} of {len(cuts)}: ")
    assert flat_state(page)["off"] == [[first + 1, 4]]
    page.get_by_label("Taken apart, cut by cut").press("End")
    assert said(page) == "All cut"
    assert flat_state(page)["lies"] == [0, 1]
    page.get_by_role("button", name="One step back").click()
    page.get_by_label("Taken apart, cut by cut").press("Home")
    assert flat_state(page)["left"] == [0]


def _turned_subject() -> Subject:
    case = half_turn_case()
    return Subject(case.plan, case.shape, case.mill, INCHES)


def test_after_a_half_turn_the_log_lies_on_its_sawn_face(opened: Opened) -> None:
    """What is left is flat below and round above after the turn, and the other way about before it."""
    page = opened(a_turned_log(), "log3d.js")
    page.wait_for_selector("figure[data-drawn='3d']")
    page.get_by_role("button", name="From the butt").click()
    first = [cut.lie for cut in solid(_turned_subject()).cuts].count(0)
    page.get_by_label("Taken apart, cut by cut").fill(str(first + 1))
    below, above = widths_of_what_is_drawn(page)
    assert below > 1.3 * above
    assert "Turned" in said(page)


def widths_of_what_is_drawn(page: Page) -> tuple[float, float]:
    """How wide the log stands a tenth above its lowest and a tenth below its highest point; its shadow is paler."""
    dark = np.asarray(shot(page)) < 200
    rows = np.flatnonzero(dark.any(axis=1))
    tenth = (rows[-1] - rows[0]) // 10
    return float(dark[rows[-1] - tenth].sum()), float(dark[rows[0] + tenth].sum())


def test_the_log_is_turned_by_keys_and_by_hand(opened: Opened) -> None:
    page = opened(log_body(), "log3d.js")
    page.wait_for_selector("figure[data-drawn='3d']")
    seen = [shot(page).tobytes()]
    page.locator(".stage").press("ArrowLeft")
    seen.append(shot(page).tobytes())
    box = page.locator(".stage").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 300, box["y"] + 200)
    page.mouse.down()
    page.mouse.move(box["x"] + 420, box["y"] + 200, steps=4)
    page.mouse.up()
    seen.append(shot(page).tobytes())
    assert len(set(seen)) == 3


def test_a_nail_at_3_o_clock_is_drawn_at_3_o_clock(opened: Opened) -> None:
    """On the butt it is dark on the right, from the top end it would be on the left, where nothing reaches through."""
    page = opened(log_body(), "log3d.js")
    page.wait_for_selector("figure[data-drawn='3d']")
    page.get_by_role("button", name="From the butt").click()
    picture = np.asarray(shot(page)).astype(float)
    ink = np.argwhere(picture < 60)  # the hatching; bark and rings are lighter
    drawn = np.argwhere(picture < 235)
    assert len(ink) > 20
    lit = np.argwhere(picture > 150) if not len(drawn) else drawn
    assert ink[:, 1].mean() > lit[:, 1].mean() + 20  # right of the middle
