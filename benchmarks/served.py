"""Times the app over the yard book that `book.py` draws: from the start to the first page, every page, and pieces looked for.

The server is a process of its own, asked over loopback by one who is signed in; what is measured is what the
browser waits for, drawing not counted. Writes its part of docs/performance.md.
"""

from __future__ import annotations

import http.client
import os
import platform
import random
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import uuid4

from book import BEGAN, EVENTS, LOGS, PIECES, SHEET, Drawn, make
from pages import write_served
from starlette.responses import Response

from waney.figures.scenarios import Scenarios
from waney.papers.offered import offered
from waney.sawing.plan_file import write_plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import ready
from waney.web.access.members import Members, Role
from waney.web.access.sessions import begun, keep_session
from waney.web.addresses import paths
from waney.web.device import DEVICE
from waney.yard.acts.mill import CameOff
from waney.yard.acts.offers import StemFelled, TreeOffered
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book.book import open_book
from waney.yard.book.days import latest_days
from waney.yard.book.engine import in_folder
from waney.yard.book.finding import Wanted, find_pieces
from waney.yard.services.counting import begin_count, end_count, see_tag
from waney.yard.services.custom import ask_custom
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.mill import open_day, take_off
from waney.yard.services.offers import fell_stem, note_offer
from waney.yard.services.pieces import add_person
from waney.yard.services.quotes import quote_for
from waney.yard.services.selling import add_buyer, price_piece, take_along
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack, load_kiln

HOST = "127.0.0.1"
LOADS, STARTS = 20, 5
CALLED, PASSWORD = "Ada", "only to be timed here"
QUERIES = Path(__file__).parent / "pieces_looked_for.txt"
"""what somebody might look for, as the page of pieces asks it: drawn once, 200 lines"""
PAGE_MS, FOUND_MS, START_S = 100.0, 150.0, 1.5
"""what is asked: a page at the median, pieces looked for at 95 %, from the start to the first page"""

AT_THE_MILL = ("/at/", "/beside", "/rough/")
"""pages of a log on the bed: plans of the drawn years are mere names, so these are asked for a log and a day of their own"""
WITH_DRAWINGS = ("/logs/{log}", "/logs/{log}/plans", "/logs/{log}/cuts", "/logs/{log}/earned", "/day/{day}/at/{log}", "/pieces/{piece}",
                 "/pieces/{piece}/cut")  # fmt: skip
"""pages that show more of a log whose plan is a real one"""
SHEETS = {name: (Path(__file__).parent / "sheets" / f"{name}.toml").read_text("utf-8") for name in ("log", "mill", "wants")}
WAITS_S = 300.0


def new_id() -> str:
    """An id."""
    return str(uuid4())


@dataclass(frozen=True)
class Ready:
    """A book that may be served: the cookie of somebody signed in, and ids for the names in addresses, in general, at the mill
    and of a log that has a real plan.

    device: the browser that has the lease."""

    cookie: str
    ids: Mapping[str, Sequence[str]]
    at_mill: Mapping[str, Sequence[str]]
    planned: Mapping[str, Sequence[str]]
    device: str

    @property
    def with_lease(self) -> str:
        """The cookies of that browser."""
        return f"{self.cookie}; {DEVICE}={self.device}"


def made_ready(folder: Path) -> Ready:
    """Let somebody in; add what the drawn years lack: a log on the bed, a stack, a load of the kiln, a tree and its stem, prices,
    a market day, a stock count, a customer's log."""
    book, drawn = open_book(in_folder(folder)), Drawn()
    hand = Hand(book, new_id(), "", lambda: datetime.now(UTC), new_id)
    members = Members.of(folder / "members.json")
    member = members.let_in(new_id(), CALLED, Role.OWNER, PASSWORD)
    add_person(hand, CALLED, member.person)
    log, day, stack = add_log(hand, NewLog(SHEET)).id, open_day(hand, BEGAN.date().isoformat()).id, new_id()
    for order in range(1, 11):
        take_off(hand, CameOff(new_id(), day, log, order=order, thickness_m=0.054))
    there = tuple(piece.id for piece in find_pieces(book, Wanted(), 60).rows)
    build_stack(hand, StackBuilt(stack, "stack 1", layers=(there[:20], there[20:40], there[40:])))
    load, tree, stem = load_kiln(hand, "kiln", (stack,)).id, new_id(), new_id()
    note_offer(hand, TreeOffered(tree, "black walnut", girth_m=1.6, length_m=3.0))
    fell_stem(hand, StemFelled(stem, tree, "black walnut", 6.0))
    days = tuple(day.id for day in latest_days(book, 50))
    free = [piece.id for piece in find_pieces(book, Wanted(), 200).rows[60:]]
    for piece in free:
        price_piece(hand, piece, 120_00)
    lease = take_along(hand, free[:40], date.today().isoformat()).id
    over, count, buyer = begin_count(hand), begin_count(hand), add_buyer(hand, "Bo").id
    for seen in find_pieces(book, Wanted(), 200).rows:
        see_tag(hand, over, seen.name)
    end_count(hand, over)
    quote = quote_for(hand, [PricedPiece(free[-1], 140_00)], "Di", "2100-01-01", "", keep=False, breaks_set=True)
    custom = ask_custom(hand, "Cy", [add_log(hand, NewLog(SHEET)).id]).id
    planned = really_planned(hand)
    book.close()
    answer = Response()
    keep_session(answer, begun(member, members), members, secure=False)
    ids = {
        "log": drawn.logs,
        "piece": drawn.pieces,
        "day": days,
        "stack": (stack,),
        "load": (load,),
        "tree": (tree,),
        "stem": (stem,),
        "lease": (lease,),
        "count": (count, over),
        "quote": (quote,),
        "buyer": (buyer,),
        "custom": (custom,),
    }
    return Ready(answer.headers["set-cookie"].partition(";")[0], ids, {"log": (log,), "day": (day,)}, planned, hand.device)


def really_planned(hand: Hand) -> dict[str, Sequence[str]]:
    """A log with a plan that was searched and chosen, on a day of its own, one of its pieces off; their ids."""
    settle_for_shop(hand, Setting.MILL, SHEETS["mill"])
    settle_for_shop(hand, Setting.WANTS, SHEETS["wants"])
    prepared = ready(SHEETS)
    best = offered(prepared, plans(prepared.bench, prepared.bench.wants.patterns), Scenarios(seed=1, n=64), full=False).best.plan
    log, day, piece = add_log(hand, NewLog(SHEET)).id, open_day(hand, BEGAN.date().isoformat()).id, new_id()
    plan = keep_plan(hand, log, 1, write_plan(best, SHEETS)).id
    choose_plan(hand, log, plan, 1)
    take_off(hand, CameOff(piece, day, log, plan, cut=1, order=1, thickness_m=0.054))
    return {"log": (log,), "day": (day,), "piece": (piece,)}


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
    status, _, took = got(port, address, cookie)
    return status, took


def got(port: int, address: str, cookie: str) -> tuple[int, bytes, float]:
    """The status of a page, what it is, and how long its last byte took [ms]."""
    connection = http.client.HTTPConnection(HOST, port, timeout=60)
    try:
        begun_at = time.perf_counter()
        connection.request("GET", address, headers={"cookie": cookie} if cookie else {})
        answer = connection.getresponse()
        content = answer.read()
        return answer.status, content, (time.perf_counter() - begun_at) * 1e3
    finally:
        connection.close()


def filled(path: str, ready: Ready, draw: random.Random) -> str:
    """A path with an id in place of each name."""
    ids = ready.at_mill if any(part in path for part in AT_THE_MILL) else ready.ids
    for name in re.findall(r"{(\w+)}", path):
        path = path.replace(f"{{{name}}}", draw.choice(ids[name]))
    return path


def pages(port: int, ready: Ready) -> Iterator[tuple[str, list[float]]]:
    """Every page with how long some loads took [ms]; one before is not counted."""
    draw = random.Random(3)
    for path in paths():
        took = [ask(port, filled(path, ready, draw), ready.cookie) for _ in range(LOADS + 1)]
        statuses = {status for status, _ in took}
        assert statuses <= {200, 303}, (path, statuses)
        yield f"`{path}`", sorted(ms for _, ms in took[1:])
    took = [ask(port, "/market", ready.with_lease) for _ in range(LOADS + 1)]
    yield "`/market` of the browser that has pieces along", sorted(ms for _, ms in took[1:])
    queries = QUERIES.read_text("utf-8").splitlines()
    took = [ask(port, f"/pieces?{one}", ready.cookie) for one in (queries[0], *queries)]
    assert {status for status, _ in took} == {200}
    yield f"`/pieces?...`, {len(queries)} recorded queries", sorted(ms for _, ms in took[1:])


def following(port: int, ready: Ready) -> Iterator[tuple[str, list[float]]]:
    """The same for what a page of a large yard asks for when it is on the screen."""
    (lease,), (count, *_) = ready.ids["lease"], ready.ids["count"]
    for what, address in (
        ("what is not along on a market day", f"/api/market/{lease}/others"),
        ("what a stock count looks for", f"/api/stock-count/{count}/pieces"),
    ):
        took = [ask(port, address, ready.with_lease) for _ in range(LOADS + 1)]
        assert {status for status, _ in took} == {200}, address
        yield what, sorted(ms for _, ms in took[1:])


def with_drawings(port: int, ready: Ready) -> Iterator[tuple[str, list[float]]]:
    """Pages of a log with a real plan, once the worker has drawn it. Raises RuntimeError where it never does."""
    for path in WITH_DRAWINGS:
        address, until = path.format(**{name: ids[0] for name, ids in ready.planned.items()}), time.monotonic() + WAITS_S
        while b'class="working"' in got(port, address, ready.cookie)[1]:
            if time.monotonic() > until:
                raise RuntimeError(f"{path} still waits for its worker after {WAITS_S:.0f} s.")
            time.sleep(0.5)
        took = [ask(port, address, ready.cookie) for _ in range(LOADS)]
        assert {status for status, _ in took} == {200}, path
        yield f"`{path}`", sorted(ms for _, ms in took)


def not_met(rows: Sequence[tuple[str, list[float]]], starts: Sequence[float]) -> Iterator[str]:
    """What is slower than was asked, in words."""
    if max(starts) > START_S:
        yield f"from the start to the first page {max(starts):.2f} s"
    for what, ms in rows:
        if "drawn queries" in what:
            if at_95(ms) > FOUND_MS:
                yield f"{what} {at_95(ms):.0f} ms at 95 %"
        elif statistics.median(ms) > PAGE_MS:
            yield f"{what} {statistics.median(ms):.0f} ms"


def at_95(ms: Sequence[float]) -> float:
    """What 95 % of sorted times are under."""
    return ms[int(len(ms) * 0.95) - 1]


def table_of(rows: Iterable[tuple[str, list[float]]]) -> str:
    """Each with its median, the 95 % and the longest."""
    return "\n".join(f"| {what} | {statistics.median(ms):.0f} ms | {at_95(ms):.0f} ms | {ms[-1]:.0f} ms |" for what, ms in rows)


def main() -> int:
    """Measure and write the part; 1 where something is slower than was asked."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        make(folder)
        ready = made_ready(folder)
        starts, firsts = [], []
        for _ in range(STARTS):
            with served(folder) as (port, took):
                starts.append(took)
                firsts.append(ask(port, "/", ready.cookie)[1])
        with served(folder) as (port, _):
            rows, after, drawn = list(pages(port, ready)), table_of(following(port, ready)), list(with_drawings(port, ready))
    missed = list(not_met([*rows, *drawn], starts))
    machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}, {platform.system()}"
    text = f"""Written by `python3 dev.py prove served.py` on {time.strftime("%Y-%m-%d")} ({machine}; other work shared the machine). The drawn yard of
the part before: {LOGS} logs, {PIECES} pieces, {EVENTS} events. One asks at a time, over loopback; the browser's own drawing is not in it.

From the start of the program to the last byte of its first page: {min(starts):.2f} s, the longest of {STARTS} starts {max(starts):.2f} s (asked: under 1.5 s).
The week of one who is signed in, asked right after that: {min(firsts):.0f} ms, the longest {max(firsts):.0f} ms (its page is loaded, its queries are put together).

Asked: every page under 100 ms, judged at the median of its loads; pieces looked for, 95 % under 150 ms. Each address with {LOADS} loads of drawn logs, pieces and days.

Not met: {"; ".join(missed) or "nothing"}.

| page | median | 95 % of all under | longest |
|---|---|---|---|
{table_of(rows)}

The same of a log whose plan was searched, with its drawings:

| page | median | 95 % of all under | longest |
|---|---|---|---|
{table_of(drawn)}

In a yard of more than 500 (count: 300) pieces these follow the page, and nobody waits for them; the worker keeps them beside it. `/year` shows the sums that were made last while a thread makes new
ones (of this yard they take some two seconds of the processor).

| what follows | median | 95 % of all under | longest |
|---|---|---|---|
{after}"""
    write_served(text)
    print(text)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
