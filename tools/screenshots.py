"""Screenshots of every page, at phone and desk width: python3 dev.py pictures FOLDER [--yard FOLDER] [--only TEXT]

Serves a copy of the demo yard (the one named, else a new one), signs in, and takes a picture of every address that the app has:
as it is asked for, with all that is folded away open (`.open`), and each question that it can ask in its dialog (`.ask-NAME`).
The page that is taken along is opened from a file, as on a phone.
The addresses come from the app's own routes, and ids in them from the book, so that no new page is forgotten: what cannot be
shown is said. Needs Playwright and a Chromium of this machine; where there is none it says so and ends with code 0.
"""

from __future__ import annotations

import argparse
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from opened import opened, unfolded

from waney.web.access.members import Members, Role
from waney.web.addresses import paths, whole_pages
from waney.web.built import Built
from waney.web.shop import Shop
from waney.yard.book.around import buyers
from waney.yard.book.book import Book, open_book
from waney.yard.book.counting_seen import counts
from waney.yard.book.custom_seen import customs
from waney.yard.book.days import latest_days
from waney.yard.book.drying_seen import loads, stacks
from waney.yard.book.engine import in_folder
from waney.yard.book.finding import Wanted, find_pieces
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import pieces
from waney.yard.book.offered import stems, trees
from waney.yard.book.quotes_seen import quotes
from waney.yard.book.selling_seen import leases
from waney.yard.services.pieces import add_person

SIZES = {"phone": (390, 844), "desk": (1280, 900)}
CALLED, PASSWORD = "Ida", "only for these pictures"
HOST, HTTP = "127.0.0.1", "http:" + "//"
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
WAITS_FOR_JOBS_S = 60
MARKET, ONLY_ASK = "/market", "Take nothing, only ask"
"""the page on which a market day begins, and the button that begins it with nothing along"""


def main(words: list[str]) -> int:
    """Take them all."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--yard", type=Path, help="a yard that `waney demo` made")
    asked.add_argument("--only", default="", help="only addresses with this in them")
    given = asked.parse_args(words)
    browser = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if browser is None:
        print(f"NO SCREENSHOTS: there is none of {', '.join(BROWSERS)} on this machine.", file=sys.stderr)
        return 0
    given.folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        yard = demo_yard(Path(scratch), given.yard)
        addresses = [each for each in every_address(yard) if given.only in each]
        with served(yard) as port:
            return taken(given.folder, browser, port, addresses)


def demo_yard(scratch: Path, made: Path | None) -> Path:
    """A copy of a demo yard, so that nothing is left in the one it was made from."""
    yard = scratch / "demo-yard"
    if made is None:
        subprocess.run([sys.executable, "-m", "waney", "demo", "--no-serve"], cwd=scratch, check=True, stdout=subprocess.DEVNULL)
    else:
        shutil.copytree(made, yard, ignore=shutil.ignore_patterns("members.json"))
    book = open_book(in_folder(yard))
    shop = Shop(book, Members.of(yard / "members.json"), Built())
    member = shop.members.let_in(shop.new_id(), CALLED, Role.OWNER, PASSWORD)
    add_person(shop.hand(""), CALLED, member.person)
    book.close()
    return yard


def every_address(yard: Path) -> list[str]:
    """Every page that can be looked at; where one thing can be in several states, the page of each."""
    book = open_book(in_folder(yard))
    try:
        return sorted({address for path in (*paths(), *whole_pages()) for address in filled(path, book)})
    finally:
        book.close()


def filled(path: str, book: Book) -> Iterator[str]:
    """A path with ids from the book in place of its names."""
    names = re.findall(r"{(\w+)", path)
    for ids in samples(tuple(names), book):
        address = path
        for name, ident in ids.items():
            address = re.sub(rf"{{{name}(:\w+)?}}", ident, address)
        if "{" in address:
            print(f"not shown: {path} (no id for it in the book)", file=sys.stderr)
        else:
            yield address


def samples(names: tuple[str, ...], book: Book) -> list[dict[str, str]]:
    """Ids for names, several for things that look different in other states."""
    every = logs(book)
    lying = [log for log in every if not log.ended]
    half = [log.id for log in lying if log.chosen and log.pieces][:1]
    planned = [log.id for log in lying if log.chosen and not log.pieces][:1]
    plain = [log.id for log in lying if not log.plans][:1]
    sawn = [log.id for log in every if log.ended and log.pieces][:1]
    days = [day.id for day in latest_days(book, 50)]
    if set(names) == {"day", "log"}:
        return [{"day": day, "log": log} for day in days[:1] for log in (*half, *plain)]
    off_half = [piece for log in half for piece in pieces(book, log)][:1]
    by_name = {
        "log": [*half, *planned, *plain, *sawn],
        "day": [*days[:1], *days[-1:]],
        "piece": [piece.id for piece in (*find_pieces(book, Wanted("curly"), 1).rows, *off_half, *pieces(book)[:1])],
        "tree": [each.id for each in (*trees(book)[:1], *trees(book, unanswered=True))],
        "stem": [each.id for each in stems(book)[-1:]],
        "stack": [each.id for each in stacks(book)[:1]],
        "load": [each.id for each in loads(book)[:1]],
        "buyer": [each.id for each in buyers(book)[:1]],
        "quote": [each.id for each in quotes(book)[:1]],
        "lease": [each.id for each in leases(book)[:1]],
        "count": [each.id for each in counts(book)[:1]],
        "custom": [each.id for each in customs(book)],
    }
    found: list[dict[str, str]] = [{}]
    for name in names:
        found = [{**one, name: ident} for one in found for ident in by_name.get(name, ())] or found
    return found


@contextmanager
def served(yard: Path) -> Iterator[int]:
    """The yard, served until it is done."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        port = int(probe.getsockname()[1])
    with subprocess.Popen(
        [sys.executable, "-m", "waney.web", str(yard), "--port", str(port)], stdout=subprocess.DEVNULL
    ) as server:
        try:
            listens(port)
            yield port
        finally:
            server.terminate()


def listens(port: int) -> None:
    """Wait until somebody listens there."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        try:
            socket.create_connection((HOST, port), 1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return
    raise SystemExit("The yard was not served within a minute.")


def taken(folder: Path, browser: str, port: int, addresses: list[str]) -> int:
    """A picture of each address at each width; whatever answers with a fault is listed, and ends it with code 1."""
    from playwright.sync_api import Error as PlaywrightError
    from playwright.sync_api import sync_playwright

    faults: list[str] = []
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=browser, args=["--no-sandbox"])
        for size, (width, height) in SIZES.items():
            page = chromium.new_page(viewport={"width": width, "height": height})
            page.on("pageerror", partial(heard, faults))
            page.goto(f"{HTTP}{HOST}:{port}/sign-in")
            page.fill("[name=called]", CALLED)
            page.fill("[name=password]", PASSWORD)
            page.click("main button")
            for address in addresses:
                try:
                    faults += looked_at(page, f"{HTTP}{HOST}:{port}", address, folder, size)
                except PlaywrightError as fault:
                    faults.append(f"{address}: {fault}")
            if MARKET in addresses:
                page.goto(f"{HTTP}{HOST}:{port}{MARKET}")
                page.click(f"text={ONLY_ASK}")
                faults += pictured(page, f"{MARKET}/begun", folder, size)
            page.close()
        chromium.close()
    assert addresses, "the app has pages"
    print(f"{len(addresses)} addresses, {len(SIZES)} widths, in {folder}.")
    for said in faults:
        print(f"NOT AS IT SHOULD BE: {said}", file=sys.stderr)
    return 1 if faults else 0


def heard(faults: list[str], slip: object) -> None:
    """A script on a page stumbled."""
    faults.append(f"script: {slip}")


def looked_at(page: Any, host: str, address: str, folder: Path, size: str) -> Iterator[str]:
    """Take the pictures; say what is wrong with the answer, and whether the page is wider than its window."""
    handed = page.request.get(host + address)
    if not handed.headers.get("content-disposition", "").startswith("attachment"):
        answer = page.goto(host + address, wait_until="load")
        if answer is None or answer.status >= 400:
            yield f"{address} answered {answer.status if answer else 'nothing'}"
        yield from pictured(page, address, folder, size)
    elif handed.headers["content-type"].startswith("text/html"):
        with tempfile.TemporaryDirectory() as scratch:
            file = Path(scratch) / "taken-along.html"
            file.write_bytes(handed.body())
            page.goto(file.as_uri(), wait_until="load")
            yield from pictured(page, address, folder, size)
    else:
        print(f"{address} is handed out as a file.")


def pictured(page: Any, address: str, folder: Path, size: str) -> Iterator[str]:
    """The page as it is, unfolded, and with each of its questions."""
    until = time.monotonic() + WAITS_FOR_JOBS_S
    while time.monotonic() < until and page.locator("#job[hx-get], .working").count():
        page.wait_for_timeout(500)
        page.reload()
    page.wait_for_timeout(150)
    page.screenshot(path=folder / f"{file_name(address)}.{size}.png", full_page=True)
    yield from too_wide(page, address, size)
    if unfolded(page):
        page.screenshot(path=folder / f"{file_name(address)}.open.{size}.png", full_page=True)
        yield from too_wide(page, f"{address}, unfolded,", size)
    for question in opened(page):
        page.screenshot(path=folder / f"{file_name(address)}.ask-{question}.{size}.png")
        yield from too_wide(page, f"{address}, asking ({question}),", size)


def too_wide(page: Any, what: str, size: str) -> Iterator[str]:
    """Whether it is wider than its window."""
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    if wide > 0:
        yield f"{what} is {wide} px wider than the window ({size})"


def file_name(address: str) -> str:
    """An address as a file's name; ids are cut short."""
    return re.sub(r"([0-9a-f]{8})[0-9a-f-]{28}", r"\1", address).strip("/").replace("/", "_") or "week"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
