"""Times the app over the yard book that `book.py` draws: from the start to the first page, every page, and pieces looked for.

The server is a process of its own, asked over loopback by one who is signed in; what is measured is what the
browser waits for, drawing not counted. Writes its part of docs/performance.md.
"""

from __future__ import annotations

import http.client
import os
import platform
import random
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlencode

from book import EVENTS, LOGS, PIECES, SPECIES, Drawn, make
from pages import write_served
from starlette.responses import Response

from waney.web.access.members import Members, Role
from waney.web.access.sessions import begun, keep_session
from waney.web.addresses import paths
from waney.yard.book.book import open_book
from waney.yard.book.days import latest_days
from waney.yard.book.engine import in_folder
from waney.yard.book.finding import Order, State
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import add_person

HOST = "127.0.0.1"
LOADS, QUERIES, STARTS = 20, 200, 5
CALLED, PASSWORD = "Ada", "only to be timed here"


def with_owner(folder: Path) -> str:
    """Let somebody in who may look and write; the cookie of a session."""
    book, ids = open_book(in_folder(folder)), iter(Drawn().id, "")
    members = Members.of(folder / "members.json")
    member = members.let_in(next(ids), CALLED, Role.OWNER, PASSWORD)
    add_person(Hand(book, next(ids), "", lambda: datetime.now(UTC), lambda: next(ids)), CALLED, member.person)
    book.close()
    answer = Response()
    keep_session(answer, begun(member, members), members, secure=False)
    return answer.headers["set-cookie"].partition(";")[0]


@contextmanager
def served(folder: Path) -> Iterator[tuple[int, float]]:
    """The port of a server that answered its first page, and how long that took from its start [s]."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        port = int(probe.getsockname()[1])
    command = [sys.executable, "-m", "waney.web", str(folder), "--port", str(port)]
    begun_at = time.perf_counter()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as server:
        try:
            while not answers(port):
                time.sleep(0.005)
            yield port, time.perf_counter() - begun_at
        finally:
            server.terminate()


def answers(port: int) -> bool:
    """Whether a whole page came."""
    try:
        return ask(port, "/sign-in", "")[0] == 200
    except OSError:
        return False


def ask(port: int, address: str, cookie: str) -> tuple[int, float]:
    """The status of a page, and how long its last byte took [ms]."""
    connection = http.client.HTTPConnection(HOST, port, timeout=60)
    try:
        begun_at = time.perf_counter()
        connection.request("GET", address, headers={"cookie": cookie} if cookie else {})
        answer = connection.getresponse()
        answer.read()
        return answer.status, (time.perf_counter() - begun_at) * 1e3
    finally:
        connection.close()


def filled(path: str, folder: Path, draw: random.Random) -> str:
    """A path with an id of the drawn yard in place of each name."""
    drawn, book = Drawn(), open_book(in_folder(folder))
    days = [day.id for day in latest_days(book, 50)]
    book.close()
    for name, ids in (("log", drawn.logs), ("piece", drawn.pieces), ("day", days)):
        path = path.replace(f"{{{name}}}", draw.choice(ids))
    return path


def query(draw: random.Random) -> str:
    """What somebody might look for, as the page of pieces asks it."""
    words = draw.choice(["", "", "curly", "oak", "rack 7", "AB-1", "17", "table walnut", "spalted", "nothing like it"])
    asked = {"words": words, "species": draw.choice(["", "", *SPECIES]), "thinnest": draw.choice(["", "", "1 1/4"]),
             "length": draw.choice(["", "8 ft"]), "width": draw.choice(["", "", "12"]), "state": draw.choice(list(State)),
             "order": draw.choice(list(Order))}  # fmt: skip
    return "/pieces?" + urlencode({name: value for name, value in asked.items() if value})


def pages(port: int, folder: Path, cookie: str) -> Iterator[tuple[str, list[float]]]:
    """Every page with how long some loads took [ms]; one before is not counted."""
    draw = random.Random(3)
    for path in paths():
        addresses = [filled(path, folder, draw) for _ in range(LOADS + 1)]
        if "{" in addresses[0]:
            continue
        took = [ask(port, address, cookie) for address in addresses]
        statuses = {status for status, _ in took}
        assert statuses <= {200, 303}, (path, statuses)
        yield f"`{path}`", sorted(ms for _, ms in took[1:])
    took = [ask(port, query(draw), cookie) for _ in range(QUERIES + 1)]
    assert {status for status, _ in took} == {200}
    yield f"`/pieces?...`, {QUERIES} drawn queries", sorted(ms for _, ms in took[1:])


def main() -> None:
    """Measure and write the part."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        make(folder)
        cookie = with_owner(folder)
        starts = []
        for _ in range(STARTS):
            with served(folder) as (_, took):
                starts.append(took)
        with served(folder) as (port, _):
            rows = [
                f"| {what} | {statistics.median(ms):.0f} ms | {ms[int(len(ms) * 0.95) - 1]:.0f} ms | {ms[-1]:.0f} ms |"
                for what, ms in pages(port, folder, cookie)
            ]
    machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}, {platform.system()}"
    text = f"""Written by `python3 dev.py prove served.py` on {time.strftime("%Y-%m-%d")} ({machine}; other work shared the machine). The drawn yard of
the part before: {LOGS} logs, {PIECES} pieces, {EVENTS} events. One asks at a time, over loopback; the browser's own drawing is not in it.

From the start of the program to the last byte of its first page: {min(starts):.2f} s, the longest of {STARTS} starts {max(starts):.2f} s (asked: under 1.5 s).

Asked: every page under 100 ms; pieces looked for, 95 % under 150 ms. Each address with {LOADS} loads of drawn logs, pieces and days.

| page | median | 95 % of all under | longest |
|---|---|---|---|
""" + "\n".join(rows)
    write_served(text)
    print(text)


if __name__ == "__main__":
    main()
