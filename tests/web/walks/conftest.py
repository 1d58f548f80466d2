"""Walks: the real server, the real browser of the distribution, and somebody who taps."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, Playwright, sync_playwright

import waney.web
from waney.sawing.plan_file import write_plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern
from waney.web.access.members import Members, Role
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book, make_book, open_book
from waney.yard.book.engine import in_folder
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.pieces import add_person
from waney.yard.services.settings import settle_for_shop

ROOT = Path(__file__).parents[3]
EXAMPLES = ROOT / "docs" / "examples"
BUILT = Path(waney.web.__file__).parent / "built"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
WORDS = "four short words"
STARTS_S = 240.0
QUIET = ("--no-sandbox", "--disable-quic", "--disable-background-networking", "--disable-component-update", "--disable-sync")
WEBGL = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
NAMED = "yard.test"
"""a name that is not loopback for a browser (RFC 6761 keeps .test for tests); it is led to loopback"""
PHONE = {"width": 390, "height": 844}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            if CHROMIUM is None:
                item.add_marker(pytest.mark.skip(reason="NOT TESTED: no Chromium on PATH, so nobody walked through the app"))
            elif not (BUILT / "manifest.json").is_file():
                item.add_marker(pytest.mark.skip(reason="NOT TESTED: the client is not built"))


def demo(sheet: str) -> str:
    """A sheet of the demo yard."""
    return (ROOT / "src" / "waney" / "data" / "demo" / f"{sheet}.toml").read_text("utf-8")


@cache
def demo_plan() -> str:
    """The best through-and-through plan of the demo log, searched once a run."""
    prepared = ready({name: demo(name) for name in ("log", "mill", "wants")})
    (plan,) = plans(prepared.bench, (Pattern.THROUGH,), map)
    return write_plan(plan, {name: demo(name) for name in ("log", "mill", "wants")})


@dataclass
class Served:
    """The yard's own program, in a process that can be killed."""

    folder: Path
    port: int
    more: tuple[str, ...] = ()
    process: subprocess.Popen[bytes] | None = None
    scheme: str = "http"

    def start(self) -> None:
        words = [sys.executable, "-m", "waney.web", str(self.folder), "--port", str(self.port), *self.more]
        self.process = subprocess.Popen(words, cwd=ROOT, env=os.environ | {"PYTHONPATH": str(ROOT / "src")})
        until = time.monotonic() + STARTS_S
        while not self._answers():
            assert self.process.poll() is None, "the server ended by itself"
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.1)

    def _answers(self) -> bool:
        with socket.socket() as probe:
            return probe.connect_ex(("127.0.0.1", self.port)) == 0

    def kill(self) -> None:
        """As when the battery dies."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def stop(self) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.terminate()
            self.process.wait(20)

    def address(self, host: str = "127.0.0.1") -> str:
        return f"{self.scheme}://{host}:{self.port}"


@dataclass
class Yard:
    """A yard with an owner, its mill and wants; with a planned log where it is asked for."""

    folder: Path
    book: Book
    hand: Hand
    log: str = ""
    kept: list[Served] = field(default_factory=list)

    def with_log(self) -> str:
        """A log with a chosen plan."""
        log = add_log(self.hand, NewLog(demo("log"), code="W")).id
        plan = keep_plan(self.hand, log, 1, demo_plan()).id
        choose_plan(self.hand, log, plan, 1)
        return log

    def serve(self, *more: str, scheme: str = "http") -> Served:
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        served = Served(self.folder, port, more, scheme=scheme)
        self.kept.append(served)  # before it starts: one that does not start is stopped as well
        served.start()
        return served


@pytest.fixture
def yard(tmp_path: Path) -> Iterator[Yard]:
    folder = tmp_path / "yard"
    book = make_book(in_folder(folder), datetime.now(UTC))
    ada = str(uuid4())
    Members.of(folder / "members.json").let_in(ada, "Ada", Role.OWNER, WORDS)
    hand = Hand(book, str(uuid4()), ada, lambda: datetime.now(UTC), lambda: str(uuid4()))
    add_person(hand, "Ada", ada)
    settle_for_shop(hand, Setting.YARD, "Alder Hollow")
    for what, file in ((Setting.MILL, "mill"), (Setting.WANTS, "wants")):
        settle_for_shop(hand, what, demo(file))
    yard = Yard(folder, book, hand)
    yield yard
    for served in yard.kept:
        served.stop()
    book.close()


def reopened(yard: Yard) -> Book:
    return open_book(in_folder(yard.folder))


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as playwright:
        yield playwright


Launch = Callable[..., Browser]


@pytest.fixture
def launch(playwright: Playwright, tmp_path: Path) -> Iterator[Launch]:
    """A browser of its own; home: the folder in which it looks for authorities that it trusts."""
    made: list[Browser] = []

    def launched(*more: str, home: Path | None = None) -> Browser:
        environment = os.environ | {"HOME": str(home or tmp_path)}
        args = [*QUIET, *WEBGL, f"--host-resolver-rules=MAP {NAMED} 127.0.0.1", *more]
        made.append(playwright.chromium.launch(executable_path=CHROMIUM, args=args, env=dict(environment)))
        return made[-1]

    yield launched
    for browser in made:
        browser.close()
