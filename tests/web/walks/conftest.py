"""Walks: the real server, the real browser of the distribution, and somebody who taps."""

from __future__ import annotations

import io
import json
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
import segno
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
from waney.yard.names import read_name
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.pieces import add_person
from waney.yard.services.settings import settle_for_shop
from waney.yard.tag_codes import content

ROOT = Path(__file__).parents[3]
EXAMPLES = ROOT / "docs" / "examples"
BUILT = Path(waney.web.__file__).parent / "built"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
WORDS = "four short words"
STARTS_S, ENDS_S = 240.0, 20.0
QUIET = ("--no-sandbox", "--disable-quic", "--disable-background-networking", "--disable-component-update", "--disable-sync")
WEBGL = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
FLAT = ("--disable-gpu-rasterization", "--disable-gpu-compositing")
"""pages are painted without a graphics card, which would only be imitated here; what draws in three dimensions still is"""
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


class Program:
    """The program, loaded once for all walks of this run: it forks into servers (see `loaded`)."""

    def __init__(self) -> None:
        words = [sys.executable, "-m", "tests.web.walks.loaded"]
        paths = os.pathsep.join((str(ROOT / "src"), str(ROOT)))
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
        self._loaded = subprocess.Popen(words, cwd=ROOT, env=os.environ | {"PYTHONPATH": paths}, text=True, **pipes)  # type: ignore[call-overload]

    def ask(self, what: list[str] | int) -> int:
        self._loaded.stdin.write(json.dumps(what) + "\n")
        self._loaded.stdin.flush()
        return int(json.loads(self._loaded.stdout.readline()))

    def close(self) -> None:
        self._loaded.communicate(timeout=ENDS_S)


@dataclass
class Served:
    """The yard's own program, in a process that can be killed."""

    program: Program
    folder: Path
    port: int
    more: tuple[str, ...] = ()
    process: int = 0
    scheme: str = "http"

    def start(self) -> None:
        self.process = self.program.ask([str(self.folder), "--port", str(self.port), *self.more])
        until = time.monotonic() + STARTS_S
        while not self._answers():
            assert not self._ended(), "the server ended by itself"
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.05)

    def _answers(self) -> bool:
        with socket.socket() as probe:
            return probe.connect_ex(("127.0.0.1", self.port)) == 0

    def _ended(self) -> bool:
        return bool(self.program.ask(self.process))

    def kill(self) -> None:
        """As when the battery dies."""
        self._end(signal.SIGKILL)

    def stop(self) -> None:
        if self.process and not self._ended():
            self._end(signal.SIGTERM)

    def _end(self, how: signal.Signals) -> None:
        os.kill(self.process, how)
        until = time.monotonic() + ENDS_S
        while not self._ended():
            assert time.monotonic() < until, "the server did not end"
            time.sleep(0.02)

    def address(self, host: str = "127.0.0.1") -> str:
        return f"{self.scheme}://{host}:{self.port}"


@dataclass
class Yard:
    """A yard with an owner, its mill and wants; with a planned log where it is asked for."""

    folder: Path
    book: Book
    hand: Hand
    program: Program
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
        served = Served(self.program, self.folder, port, more, scheme=scheme)
        self.kept.append(served)  # before it starts: one that does not start is stopped as well
        served.start()
        return served


@pytest.fixture(scope="session")
def program() -> Iterator[Program]:
    program = Program()
    yield program
    program.close()


@dataclass(frozen=True)
class Begun:
    """A yard that others are copied from: making one takes longer than copying it."""

    folder: Path
    ada: str


@pytest.fixture(scope="session")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Begun:
    folder, ada = tmp_path_factory.mktemp("begun") / "yard", str(uuid4())
    book = make_book(in_folder(folder), datetime.now(UTC))
    Members.of(folder / "members.json").let_in(ada, "Ada", Role.OWNER, WORDS)
    hand = hand_of(book, ada)
    add_person(hand, "Ada", ada)
    settle_for_shop(hand, Setting.YARD, "Alder Hollow")
    for what, file in ((Setting.MILL, "mill"), (Setting.WANTS, "wants")):
        settle_for_shop(hand, what, demo(file))
    book.close()
    return Begun(folder, ada)


def hand_of(book: Book, person: str) -> Hand:
    return Hand(book, str(uuid4()), person, lambda: datetime.now(UTC), lambda: str(uuid4()))


@pytest.fixture
def yard(begun: Begun, program: Program, tmp_path: Path) -> Iterator[Yard]:
    folder = tmp_path / "yard"
    shutil.copytree(begun.folder, folder)
    book = open_book(in_folder(folder))
    yard = Yard(folder, book, hand_of(book, begun.ada), program)
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


def tag_of(name: str) -> bytes:
    """A photo of nothing but the code on a tag."""
    code = io.BytesIO()
    segno.make(content(read_name(name)), error="q", micro=False).save(code, kind="png", scale=6)
    return code.getvalue()


Launch = Callable[..., Browser]


def started(playwright: Playwright, home: Path) -> Browser:
    """home: the folder in which it looks for authorities that it trusts."""
    args = [*QUIET, *WEBGL, *FLAT, f"--host-resolver-rules=MAP {NAMED} 127.0.0.1"]
    environment = dict(os.environ | {"HOME": str(home)})
    return playwright.chromium.launch(executable_path=CHROMIUM, args=args, env=environment)


@pytest.fixture(scope="session")
def browser(playwright: Playwright, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """One for all walks: what it keeps lies in contexts, and each walk has its own."""
    browser = started(playwright, tmp_path_factory.mktemp("home"))
    yield browser
    browser.close()


@pytest.fixture
def launch(playwright: Playwright, browser: Browser) -> Iterator[Launch]:
    """A browser without anything in it; one of its own for a home with authorities that it trusts."""
    own: list[Browser] = []

    def launched(home: Path | None = None) -> Browser:
        if home is None:
            return browser
        own.append(started(playwright, home))
        return own[-1]

    yield launched
    for context in browser.contexts:
        context.close()
    for another in own:
        another.close()
