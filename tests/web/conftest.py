"""A yard that is served, without a network: pages asked for in this process, by somebody signed in or not."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from anyio.from_thread import BlockingPortal, start_blocking_portal
from starlette.applications import Starlette
from starlette.routing import Match, Route
from starlette.testclient import TestClient

from waney.web.access import passwords
from waney.web.access.members import Members, Role
from waney.web.access.tries import Tries
from waney.web.app import make_app
from waney.web.built import Built
from waney.web.once import Once
from waney.web.shop import Shop
from waney.yard.book.book import Book, make_book, open_book
from waney.yard.book.engine import in_folder
from waney.yard.book.looking import last_event
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import add_person

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)
WORDS = "four short words"
BUILT = (
    *(
        "letters.css",
        "look.css",
        "drawn.css",
        "base.js",
        "mill.js",
        "log3d.js",
        "outline.js",
        "sized.js",
        "whole.js",
        "placing.js",
        "tag.js",
        "along.js",
        "chart.js",
        "chart.css",
        "round.js",
        "market.js",
        "count.js",
    ),
)


class Clock:
    """Time that only tests move on."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now

    def seconds(self) -> float:
        return (self.now - NOW).total_seconds()

    def wait(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(autouse=True)
def whole_sums(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages wait for sums of the whole book, however busy the machine is."""
    monkeypatch.setattr("waney.web.reckoned.PATIENCE_S", 60.0)


@pytest.fixture
def quick_passwords(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hashing a password takes a tenth of a second on purpose, which hundreds of tests need not wait for.

    In test_access they are hashed as the program does it; so they are by the servers of the walks.
    """
    monkeypatch.setattr(passwords, "COST", 2)


@pytest.fixture(scope="session")
def plain_files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What stands in for the bundled files: pages only need their names."""
    folder = tmp_path_factory.mktemp("built")
    names = {}
    for name in BUILT:
        (folder / name).write_text(f"/* {name} */", encoding="utf-8")
        names[name] = name
    (folder / "worker.js").write_text("/* worker */", encoding="utf-8")
    (folder / "manifest.json").write_text(json.dumps(names), encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def empty_yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("empty")
    make_book(in_folder(folder), NOW).close()
    return folder


@pytest.fixture
def book(empty_yard: Path, tmp_path: Path) -> Iterator[Book]:
    shutil.copytree(empty_yard, tmp_path / "yard")
    book = open_book(in_folder(tmp_path / "yard"))
    yield book
    book.close()


@pytest.fixture
def shop(book: Book, plain_files: Path, tmp_path: Path, clock: Clock, quick_passwords: None) -> Shop:
    members = Members.of(tmp_path / "yard" / "members.json")
    return Shop(book, members, Built(plain_files), now=clock, tries=Tries(clock.seconds))


@pytest.fixture
def hand(shop: Shop) -> Hand:
    """Somebody who writes beside the pages."""
    return shop.hand("")


SENT_TWICE: set[tuple[str, str]] = set()
"""routes of which some test here has sent a form twice, with what it had to do"""
NOT_ALIKE = ("/day/{day}/at/{log}", "/day/{day}/at/{log}/tag", "/members/{person}")
"""at the mill the page says that nothing was written the second time; after a new password of one's own one signs in anew"""
WHO_IT_IS = ("/first", "/sign-in", "/sign-out")
"""they write nothing into the book, and after them a form of before is nobody's"""


def kept(file: Any) -> Any:
    """The content of a file that can be sent again."""
    return file.read() if hasattr(file, "read") else file


def writes_nothing_more(shop: Shop, post: Callable[[], Any], first: Any) -> None:
    """A form that comes twice is answered the same and written once, also where nobody remembers that it came."""
    path, stands = first.request.url.path, (last_event(shop.book), shop.members.all)
    again = post()
    if not any(re.fullmatch(re.sub("{[a-z]+}", "[^/]+", route), path) for route in NOT_ALIKE):
        assert (again.status_code, again.headers.get("location")) == (first.status_code, first.headers.get("location")), path
    assert (last_event(shop.book), shop.members.all) == stands, f"{path} sent twice wrote twice"
    object.__setattr__(shop, "once", Once())  # as after a new start
    assert post().status_code in (200, 303, 401, 409, 422), path
    assert (last_event(shop.book), shop.members.all) == stands, f"{path} sent twice, with a new start between, wrote twice"


class Person:
    """Somebody with a browser. It follows no redirect by itself and keeps its cookies."""

    def __init__(self, client: TestClient) -> None:
        self.client = client

    def token(self, page: str = "/sign-in") -> str:
        found = re.search(r'name="waney-token" content="([0-9a-f]+)"', self.get(page).text)
        assert found is not None
        return found[1]

    def get(self, page: str) -> Any:
        return self.client.get(page, follow_redirects=True)

    def send(self, page: str, fields: dict[str, Any] | None = None, files: Any = None, token: str | None = None) -> Any:
        """Send a form as it stands on a page; the first that a route takes (of each `do`) is sent twice, as over a slow line."""
        told = {"token": self.token() if token is None else token, "blank": str(uuid4()), **(fields or {})}
        files = {name: (file[0], kept(file[1]), *file[2:]) for name, file in files.items()} if isinstance(files, dict) else files

        def post() -> Any:
            return self.client.post(page, data=told, files=files, follow_redirects=False)

        answer = post()
        shop: Shop = self.client.app.state.shop  # type: ignore[attr-defined]
        route = (self._route(page), str(told.get("do")))
        if answer.status_code < 400 and route[0] not in WHO_IT_IS and route not in SENT_TWICE:
            SENT_TWICE.add(route)
            writes_nothing_more(shop, post, answer)
        return answer

    def _route(self, page: str) -> str:
        scope = {"type": "http", "path": page.partition("?")[0], "method": "POST"}
        there = (one.path for one in self.client.app.routes if isinstance(one, Route) and one.matches(scope)[0] is Match.FULL)  # type: ignore[attr-defined]
        return next(there, page)

    def signs_in(self, called: str, password: str = WORDS) -> Any:
        return self.send("/sign-in", {"called": called, "password": password})


@pytest.fixture(scope="session")
def portal() -> Iterator[BlockingPortal]:
    """A thread with a loop in which requests are answered; a client starts and ends one for each request where it has none."""
    with start_blocking_portal() as portal:
        yield portal


def asking(app: Starlette, portal: BlockingPortal) -> TestClient:
    """Somebody who asks an app; jobs are not worked on."""
    client = TestClient(app, raise_server_exceptions=False)
    client.portal = portal
    return client


@pytest.fixture
def browser(shop: Shop, portal: BlockingPortal) -> Callable[[], Person]:
    """A new browser at each call."""
    app = make_app(shop)
    return lambda: Person(asking(app, portal))


def let_in(shop: Shop, called: str, role: Role) -> str:
    ident = shop.new_id()
    shop.members.let_in(ident, called, role, WORDS)
    add_person(shop.hand(""), called, ident)
    return ident


@pytest.fixture
def owner(shop: Shop, browser: Callable[[], Person]) -> Person:
    let_in(shop, "Ada", Role.OWNER)
    person = browser()
    person.signs_in("Ada")
    return person


@pytest.fixture
def helper(shop: Shop, owner: Person, browser: Callable[[], Person]) -> Person:
    let_in(shop, "Jo", Role.HELPER)
    person = browser()
    person.signs_in("Jo")
    return person


@pytest.fixture
def anybody(owner: Person, browser: Callable[[], Person]) -> Person:
    """Somebody who has not signed in, in a yard that has an owner."""
    return browser()
