"""The page at the mill in engines of other makers: without its server, closed and opened again, and taken along as a file."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from waney.yard.book.looking import pieces

from .conftest import PHONE, WORDS, Launch, Served, Yard
from .engines import Engine, Gecko, WebKit
from .test_sawing_day import PATIENCE_MS, at_the_mill, signed_in

READY = "document.documentElement.dataset.ready === 'yes' && Boolean(document.querySelector('#sawn[value=sawn]'))"
SHORT_MS = 60


@pytest.fixture(params=[Gecko, WebKit])
def engine(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    kind: type[Gecko] | type[WebKit] = request.param
    if kind.lacks():
        pytest.skip(f"{kind.lacks()}: the page at the mill was not looked at in it")
    folder = tmp_path / "browser"
    folder.mkdir()
    found = kind(folder)
    yield found
    found.close()


def sawn(engine: Engine, times: int) -> None:
    for _ in range(times):
        before = engine.text("#last")
        engine.press("#sawn", SHORT_MS)
        time.sleep(0.3)
        assert engine.text("#last") == before, "a raindrop saws nothing"
        engine.press("#sawn")
        engine.wait(f"document.querySelector('#last').textContent.trim() !== {json.dumps(before)}")


def begun(engine: Engine, served: Served, log: str) -> str:
    """The address of the page at the mill, for one who signed in and opened it."""
    address = served.address("localhost")
    engine.go(f"{address}/sign-in")
    engine.ask("document.querySelector('#called').value = 'Ada'")
    engine.ask("document.querySelector('#password').value = arguments[0]", WORDS)
    engine.press("main button")
    engine.wait("!location.pathname.startsWith('/sign-in')")
    engine.go(f"{address}/logs/{log}")
    engine.ask("[...document.querySelectorAll('button')].find((one) => one.textContent.includes('Saw it now')).click()")
    engine.wait(READY, PATIENCE_MS / 1000)  # by the steps of the plan, once they are worked out
    return str(engine.ask("location.href"))


def test_the_server_is_out_of_reach_the_page_is_opened_again_and_nothing_is_lost(yard: Yard, engine: Engine) -> None:
    log, served = yard.with_log(), yard.serve()
    page = begun(engine, served, log)
    engine.wait("document.querySelector('#opens').textContent.includes('opens without a signal')")
    sawn(engine, 3)  # laid on the bed, the outside slab, a piece
    engine.ask("document.querySelector('#sawn').focus()")
    engine.key(" ")  # one piece: as it goes down, and not once more as it comes up
    engine.wait("document.querySelector('#last').textContent.includes('-2-')")
    engine.wait("document.querySelector('#kept').textContent.includes('All of it is in the book')")
    served.kill()
    sawn(engine, 2)
    assert "2 kept here" in engine.text("#kept")
    engine.go(page)
    engine.wait(READY)
    sawn(engine, 1)
    served.start()
    engine.wait("document.querySelector('#kept').textContent.includes('All of it is in the book')")
    assert len(pieces(yard.book)) == 5


def along(page: Page, file: Path) -> None:
    with page.expect_download() as download:
        page.click("text=Take this page along")
    download.value.save_as(file)


def test_the_page_that_is_taken_along_runs_and_gives_its_tally(
    yard: Yard, launch: Launch, engine: Engine, tmp_path: Path
) -> None:
    log, served = yard.with_log(), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE, accept_downloads=True), served.address("localhost"))
    at_the_mill(page, served.address("localhost"), log)
    file = tmp_path / "along.html"
    along(page, file)
    served.kill()
    engine.go(file.as_uri())
    engine.wait(READY)
    sawn(engine, 3)
    kinds = [
        command["act"]["kind"] for command in json.loads(str(engine.ask("document.querySelector('#tally').value")))["commands"]
    ]
    assert kinds == ["at-the-mill", "at-the-mill", "came-off"]
    engine.ask("document.querySelector('#show-codes').click()")
    engine.wait("document.querySelectorAll('#codes figure').length > 1")
