"""What a hand draws or turns, in a real browser: on pages as bare as can be, with nothing but the built modules."""

from __future__ import annotations

import io
import json
import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import numpy as np
import pytest
import segno
from PIL import Image, ImageDraw
from playwright.sync_api import Browser, Page, expect, sync_playwright
from tests.papers.conftest import half_turn_case

import waney.web
from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.logs.trace import End, Picture, scale_by_distance, traced_end
from waney.papers.apart import apart_drawings
from waney.papers.ink import SCREEN
from waney.papers.solid import Solid, SolidCut, SolidPart, bare_solid, solid, solid_json
from waney.papers.subject import Subject
from waney.papers.words import INCHES

BUILT = Path(waney.web.__file__).parent / "built"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
WEBGL = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
POLICY = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:"
TYPES = {".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".woff2": "font/woff2"}

pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="NOT TESTED: no Chromium on PATH, so no page was opened"),
    pytest.mark.skipif(not (BUILT / "manifest.json").is_file(), reason="NOT TESTED: the client is not built"),
]

Opened = Callable[..., Page]


@pytest.fixture(scope="module")
def browsers() -> Iterator[Callable[[bool], Browser]]:
    made: dict[bool, Browser] = {}
    with sync_playwright() as playwright:

        def browser(webgl: bool) -> Browser:
            if webgl not in made:
                extra = WEBGL if webgl else ["--disable-3d-apis"]
                made[webgl] = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", *extra])
            return made[webgl]

        yield browser
        for one in made.values():
            one.close()


@contextmanager
def served(body: str, module: str, files: dict[str, bytes]) -> Iterator[str]:
    """A page with one module, and files beside it, on loopback."""
    manifest = json.loads((BUILT / "manifest.json").read_text(encoding="utf-8"))
    page = (
        '<!doctype html><html lang="en"><meta charset="utf-8"><title>Bare page</title>'
        f'<link rel="stylesheet" href="/built/{manifest["drawn.css"]}"><main>{body}</main>'
        f'<script type="module" src="/built/{manifest[module]}"></script></html>'
    ).encode()

    class Answer(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            name = self.path.removeprefix("/built/")
            if self.path.startswith("/built/") and (BUILT / name).is_file():
                content, kind = (BUILT / name).read_bytes(), TYPES[Path(name).suffix]
            else:
                content, kind = files.get(self.path, page if self.path == "/" else b""), "image/png"
                kind = "text/html" if self.path == "/" else kind
            self.send_response(200)
            self.send_header("content-type", kind)
            self.send_header("content-security-policy", POLICY)
            self.end_headers()
            self.wfile.write(content)

        def log_message(self, *_: object) -> None: ...

    server = ThreadingHTTPServer(("127.0.0.1", 0), Answer)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield "http:" + f"//127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()


@pytest.fixture
def opened(browsers: Callable[[bool], Browser]) -> Iterator[Opened]:
    """Opens a bare page; afterwards nothing may have gone wrong in it."""
    wrong: list[str] = []
    closing = []

    def open_page(body: str, module: str, files: dict[str, bytes] | None = None, webgl: bool = True) -> Page:
        serving = served(body, module, files or {})
        address = serving.__enter__()
        closing.append(serving)
        page = browsers(webgl).new_page(viewport={"width": 900, "height": 900}, reduced_motion="reduce")
        closing.append(page)
        page.on("pageerror", lambda fault: wrong.append(str(fault)))
        page.goto(address)
        return page

    yield open_page
    for one in reversed(closing):
        one.close() if isinstance(one, Page) else one.__exit__(None, None, None)
    assert not wrong


# the log in three dimensions


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


# an end traced on its photograph


def a_photo() -> bytes:
    """An end as a disc of 300 px radius with bark of 30 px, and a rule of 600 px below it. Invented."""
    picture = Image.new("RGB", (1200, 900), (120, 130, 110))
    pen = ImageDraw.Draw(picture)
    pen.ellipse((270, 70, 930, 730), fill=(90, 70, 55))
    pen.ellipse((300, 100, 900, 700), fill=(225, 200, 160))
    pen.rectangle((300, 780, 900, 800), fill=(250, 240, 90))
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


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


# metal and defects put on a drawing

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


# a tag on a photograph


def a_tag(words: str) -> bytes:
    code = io.BytesIO()
    segno.make(words, error="m", micro=False).save(code, kind="png", scale=6)
    code.seek(0)
    photo = Image.new("RGB", (1600, 1200), (170, 140, 105))
    photo.paste(Image.open(code).convert("RGB").rotate(17, expand=True, fillcolor=(255, 255, 255)), (700, 500))
    out = io.BytesIO()
    photo.save(out, "JPEG", quality=70)
    return out.getvalue()


READER = '<div data-qr data-into="#name"><input type="file" accept="image/*"></div><input id="name">'


def test_a_tag_is_read_from_a_photograph(opened: Opened) -> None:
    page = opened(READER, "tag.js")
    page.wait_for_selector("[data-started]")
    page.locator("input[type=file]").set_input_files({"name": "tag.jpg", "mimeType": "image/jpeg", "buffer": a_tag("AB-12-P")})
    expect(page.locator("#name")).to_have_value("AB-12-P", timeout=20000)
    assert page.get_by_role("status").inner_text() == "Read: AB-12-P"


def test_a_photograph_without_a_tag_is_answered_with_a_sentence(opened: Opened) -> None:
    page = opened(READER, "tag.js")
    page.wait_for_selector("[data-started]")
    page.locator("input[type=file]").set_input_files({"name": "end.png", "mimeType": "image/png", "buffer": a_photo()})
    expect(page.get_by_role("status")).to_contain_text("No tag was read", timeout=20000)
    assert page.locator("#name").input_value() == ""
