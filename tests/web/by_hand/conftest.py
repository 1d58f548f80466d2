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

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Browser, Page, sync_playwright

import waney.web

BUILT = Path(waney.web.__file__).parent / "built"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
WEBGL = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
POLICY = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:"
TYPES = {".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".woff2": "font/woff2"}

Opened = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            if CHROMIUM is None:
                item.add_marker(pytest.mark.skip(reason="NOT TESTED: no Chromium on PATH, so no page was opened"))
            elif not (BUILT / "manifest.json").is_file():
                item.add_marker(pytest.mark.skip(reason="NOT TESTED: the client is not built"))


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
