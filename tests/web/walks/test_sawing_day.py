"""The sawing day, walked: the server is killed after piece 3, the page is closed and opened again, the server comes back.

Four times: on loopback; on a plain-http origin that is not loopback, where there is no worker; on https by the yard's own
authority; and with the page that was taken along, from a file, where the browser keeps nothing.
"""

from __future__ import annotations

import json
import re
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from waney.web.authority import certified
from waney.web.tally_codes import codes_in
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.days import came_off, happened
from waney.yard.book.examining import examine
from waney.yard.book.looking import history, open_tasks, pieces
from waney.yard.book.stories import log_story
from waney.yard.frames import joined
from waney.yard.names import Name
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import names_for_paper

from .conftest import EXAMPLES, NAMED, PHONE, WORDS, Launch, Served, Yard, tag_of

PATIENCE_MS = 120_000
"""the steps of a plan are worked out by a job, the first time with compiling"""


def signed_in(context: BrowserContext, address: str, called: str = "Ada") -> Page:
    context.set_default_timeout(20_000)
    page = context.new_page()
    page.goto(f"{address}/sign-in")
    page.fill("#called", called)
    page.fill("#password", WORDS)
    page.click("main button")
    return page


def at_the_mill(page: Page, address: str, log: str) -> str:
    """Begin the day with a log; the address of the page."""
    page.goto(f"{address}/logs/{log}")
    page.click("text=Saw it now")
    ready(page)
    return page.url


def ready(page: Page) -> None:
    page.wait_for_selector("html[data-ready=yes]", timeout=PATIENCE_MS)
    page.wait_for_selector("#sawn[value=sawn]", timeout=PATIENCE_MS)  # by the steps of the plan, once they are worked out
    page.wait_for_selector("html[data-ready=yes]", timeout=PATIENCE_MS)


def held(page: Page) -> None:
    """Press for as long as the button wants."""
    before = page.inner_text("#last")
    box = page.locator("#sawn").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 30, box["y"] + 30)
    page.mouse.down()
    page.wait_for_timeout(650)
    page.mouse.up()
    page.wait_for_function("before => document.getElementById('last').textContent !== before", arg=before, timeout=5_000)


def saw_to_piece(page: Page, number: int) -> None:
    """Go on until so many pieces are off."""
    for _ in range(40):
        if pieces_told(page) >= number:
            return
        held(page)
    raise AssertionError("the plan ended before")


def pieces_told(page: Page) -> int:
    """The number on the piece that came off last; 0 while there is none."""
    told = re.search(r"Last: [A-Z]+-(\d+)-", page.inner_text("#last"))
    return int(told[1]) if told else 0


def nothing_lost_or_doubled(yard: Yard, day: str, log: str, number: int, first: int = 1) -> None:
    off = came_off(yard.book, day, log)
    assert [int(one.name.split("-")[1]) for one in off] == list(range(first, first + number))
    assert len({one.cut for one in off}) == number
    places = [piece.boule_place for piece in log_story(yard.book, log).pieces]
    assert places == list(range(1, number + 1))
    assert open_tasks(yard.book) == ()
    assert examine(yard.book).unsound == ()


def day_of(address: str) -> str:
    return address.split("/day/")[1].split("/")[0]


def staple(page: Page, written: str, says: str) -> None:
    """Type what stands on a tag for the piece that came off last; says: what is read then."""
    page.click("#tag-on")
    page.fill("#tag-name", written)
    page.click("#ask >> text=It is stapled on")
    expect(page.locator("#last" if "stapled" in says else "#ask [role=alert]")).to_contain_text(says)
    if page.locator("#ask").is_visible():
        page.click("#ask-back")


def staple_by_photo(page: Page, tag: Name) -> None:
    page.click("#tag-on")
    page.set_input_files("#tag-photo", {"name": "tag.png", "mimeType": "image/png", "buffer": tag_of(str(tag))})
    expect(page.locator("#last")).to_contain_text(f"{tag} tag stapled on")


@contextmanager
def hanging(port: int) -> Iterator[None]:
    """Something takes every call at this port, and says nothing."""
    with socket.socket() as silent:
        silent.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        silent.bind(("127.0.0.1", port))
        silent.listen(64)
        yield


def walked(yard: Yard, served: Served, context: BrowserContext, address: str, *, worker: bool) -> None:
    """The day itself."""
    log = yard.with_log()
    *_, wrong, tag, other = names_for_paper(yard.hand, 6, "BACK")
    page = signed_in(context, address)
    mill = at_the_mill(page, address, log)
    assert page.evaluate("'serviceWorker' in navigator && isSecureContext") is worker
    keeps = "This page opens without a signal." if worker else "leave it open until you are back"
    expect(page.locator("#opens")).to_contain_text(keeps, timeout=15_000)
    saw_to_piece(page, 3)
    served.kill()
    saw_to_piece(page, 5)
    expect(page.locator("#kept")).to_contain_text("kept here, not in the book yet", timeout=15_000)
    if worker:
        staple(page, f"ck4{str(wrong)[-1]}", f"{wrong} tag stapled on")  # four of seven characters; the wrong tag
        page.click("#undo")
        staple(page, "ck-5A", "fits no tag that is known here")
        staple(page, str(tag)[2:], f"{tag} tag stapled on")
    else:
        staple_by_photo(page, tag)
    if worker:  # the page is closed and opened with nobody to ask
        page.close()
        page = context.new_page()
        page.goto(mill)
        ready(page)
        expect(page.locator("#kept")).to_contain_text("5 kept here", timeout=15_000)
        expect(page.locator("#last")).to_contain_text(f"{tag} tag stapled on")
        with hanging(served.port):  # at the edge of the signal: somebody is there and never answers
            page.reload()
            ready(page)
            expect(page.locator("#last")).to_contain_text(f"{tag} tag stapled on")
    saw_to_piece(page, 6)
    staple(page, str(tag), f"{tag} stands on another piece already")
    if not worker:  # somebody else is quicker with the next tag
        staple(page, str(other), f"{other} tag stapled on")
        yard.hand.write(PieceCounted(str(uuid4()), "white oak", str(other)))
    served.start()
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)
    if not worker:
        expect(page.locator("#kept")).to_contain_text(f"{other} stands on something else already")
        expect(page.locator("#last")).to_contain_text(f"Last: {other} tag turned down")
        staple(page, str(other), f"{other} stands on another piece already")
        page.click("#undo")  # takes back what is shown as last, and no cut
        expect(page.locator("#last")).to_contain_text("Last: W-6-")
        expect(page.locator("#kept")).to_have_text("All of it is in the book.", timeout=15_000)
    assert [one.name for one in came_off(yard.book, day_of(mill), log)][4] == str(tag)
    nothing_lost_or_doubled(yard, day_of(mill), log, 6)
    page.reload()
    ready(page)
    assert pieces_told(page) == 6


def test_on_loopback(yard: Yard, launch: Launch) -> None:
    served = yard.serve()
    context = launch().new_context(viewport=PHONE)
    walked(yard, served, context, served.address("localhost"), worker=True)


def test_on_a_plain_origin_there_is_no_worker_and_the_open_page_loses_nothing(yard: Yard, launch: Launch) -> None:
    served = yard.serve()
    context = launch().new_context(viewport=PHONE)
    walked(yard, served, context, served.address(NAMED), worker=False)


@pytest.mark.skipif(shutil.which("certutil") is None, reason="NOT TESTED: no certutil to tell the browser whom to trust")
def test_on_https_by_the_yards_own_authority(yard: Yard, launch: Launch, tmp_path: Path) -> None:
    trusted = certified(yard.folder / "authority", ["localhost", "127.0.0.1", NAMED], datetime.now(UTC)).authority
    store = tmp_path / "home" / ".pki" / "nssdb"
    store.mkdir(parents=True)
    for words in (["-N", "--empty-password"], ["-A", "-t", "C,,", "-n", "the yard", "-i", str(trusted)]):
        subprocess.run(["certutil", "-d", f"sql:{store}", *words], check=True, capture_output=True)
    served = yard.serve("--tls", "--host", NAMED, scheme="https")
    context = launch(home=tmp_path / "home").new_context(viewport=PHONE)
    walked(yard, served, context, served.address(NAMED), worker=True)


NO_STORAGE = """
Object.defineProperty(window, 'indexedDB', { get() { throw new Error('nothing is kept here'); } });
Object.defineProperty(window, 'localStorage', { get() { throw new Error('nothing is kept here'); } });
"""


def test_taken_along_in_a_file_with_nothing_kept(yard: Yard, launch: Launch, tmp_path: Path) -> None:
    log = yard.with_log()
    tags = names_for_paper(yard.hand, 90, "BACK")
    served = yard.serve()
    browser = launch()
    page = signed_in(browser.new_context(viewport=PHONE, accept_downloads=True), served.address("localhost"))
    mill = at_the_mill(page, served.address("localhost"), log)
    with page.expect_download() as download:
        page.click("text=Take this page along")
    file = tmp_path / "along.html"
    download.value.save_as(file)
    assert "://" not in file.read_text("utf-8").split("<script>")[0].replace("http://www.w3.org", "")
    served.kill()

    phone = browser.new_context(viewport=PHONE)
    phone.add_init_script(NO_STORAGE)
    alone = phone.new_page()
    asked: list[str] = []
    alone.on(
        "request", lambda request: asked.append(request.url) if not request.url.startswith(("file:", "data:", "blob:")) else None
    )
    alone.goto(file.as_uri())
    alone.wait_for_selector("html[data-ready=yes]")
    expect(alone.locator("#seen-on")).to_contain_text("on no phone and not in Safari")
    expect(alone.locator("#kept")).to_contain_text("keeps nothing when the page is closed")
    expect(alone.locator("#else")).to_contain_text("A photo of a face does not fit into the tally")
    first = int(json.loads(alone.locator("#holds").text_content() or "")["names"][0].split("-")[1])
    assert first > 1, "the page that is taken along has names of its own, after those of the page it came from"
    tally_grows_and_closing_asks(alone, first + 2)
    staple_by_photo(alone, tags[first + 1])
    tally = json.loads(alone.input_value("#tally"))
    assert [command["act"]["kind"] for command in tally["commands"]][-4:] == ["came-off"] * 3 + ["tagged"]
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
    alone.click("#show-codes")
    pictures = [one.screenshot() for one in alone.locator("#codes figure").all()]
    assert len(pictures) > 1
    assert joined(code for picture in pictures for code in codes_in(picture)) == alone.input_value("#tally")

    served.start()
    page.goto(f"{served.address('localhost')}/take-in")
    page.set_input_files(
        "#files", [{"name": f"{n}.png", "mimeType": "image/png", "buffer": one} for n, one in enumerate(pictures)]
    )
    page.click("text=Take it in >> nth=-1")
    expect(page.locator("main")).to_contain_text("Taken in")
    page.fill("#list", alone.input_value("#tally"))  # and once more, as text
    page.click("text=Take it in >> nth=-1")
    expect(page.locator("main")).to_contain_text("written before")
    assert came_off(yard.book, day_of(mill), log)[-1].name == str(tags[first + 1])
    nothing_lost_or_doubled(yard, day_of(mill), log, 3, first)


def tally_grows_and_closing_asks(page: Page, number: int) -> None:
    """Where nothing is kept the tally stands there after every cut, and whoever closes the page is asked first."""
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss())[1])
    told = 0
    while pieces_told(page) < number:
        held(page)
        expect(page.locator("#tally")).to_be_visible()
        assert len(json.loads(page.input_value("#tally"))["commands"]) == told + 1
        told += 1
    tally = page.input_value("#tally")
    with page.expect_event("dialog"):
        page.close(run_before_unload=True)
    page.wait_for_timeout(200)
    assert asked == ["beforeunload"] and not page.is_closed(), "stay was answered, and the page stays"
    assert page.input_value("#tally") == tally


# one tap at a time


def keys_saw(page: Page, *keys: str) -> None:
    for key in keys:
        before = page.inner_text("#last")
        page.keyboard.press(key)
        page.wait_for_function("before => document.getElementById('last').textContent !== before", arg=before)


def test_a_raindrop_does_nothing_and_a_key_does(yard: Yard, launch: Launch) -> None:
    log, served = yard.with_log(), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    mill = at_the_mill(page, served.address("localhost"), log)
    first = page.inner_text("#next")
    for _ in range(5):
        page.locator("#sawn").click(delay=60)  # short
    page.wait_for_timeout(300)
    assert page.inner_text("#next") == first
    keys_saw(page, "PageDown", "Space", "PageDown", "Space")
    press_at_once = "document.body.dispatchEvent(new KeyboardEvent('keydown', {key: 'PageDown', bubbles: true}));" * 2
    page.evaluate(press_at_once)
    expect(page.locator("#last")).to_contain_text("Last: W-4-")
    page.evaluate(
        "() => { window.put = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = () => { throw Error('full') } }"
    )
    page.keyboard.press("Space")
    expect(page.locator("#last")).to_contain_text("Not kept: this browser has no room.")
    page.evaluate("() => { IDBObjectStore.prototype.put = window.put }")
    page.click("#undo")  # and the keys saw on
    expect(page.locator("#last")).to_contain_text("Last: W-3-")
    keys_saw(page, "Space", "PageDown")
    page.click("#stop")
    page.keyboard.press("PageDown")  # nothing is sawn behind a question
    page.click("#ask >> text=Saw on")
    keys_saw(page, "Space")
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=20_000)
    off = came_off(yard.book, day_of(mill), log)
    assert len(off) == len({one.cut for one in off}) == len({one.name for one in off}) == 6


def test_a_thick_piece_lowers_the_next_height_and_undo_takes_it_back(yard: Yard, launch: Launch) -> None:
    log, served = yard.with_log(), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    mill = at_the_mill(page, served.address("localhost"), log)
    saw_to_piece(page, 1)
    planned = page.inner_text("#height")
    page.click("#came-off")
    page.click("text=1/2 in thick")
    expect(page.locator("#next")).to_contain_text("counted again")
    page.click("#undo")
    expect(page.locator("#height")).to_have_text(planned)
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=20_000)
    time.sleep(0.2)
    nothing_lost_or_doubled(yard, day_of(mill), log, 1)


def moving(page: Page) -> int:
    """How much moves on the page while the button is held."""
    box = page.locator("#sawn").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 30, box["y"] + 30)
    page.mouse.down()
    count: int = page.evaluate("new Promise(done => setTimeout(() => done(document.getAnimations().length), 100))")
    page.mouse.move(0, 0)  # let go of in time
    page.mouse.up()
    return count


def test_stopping_clamping_anew_rot_and_a_cant_are_told_by_taps_and_nobody_leaves_before_they_are_sent(
    yard: Yard, launch: Launch
) -> None:
    log, served = yard.with_log(), yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE, reduced_motion="reduce"), served.address("localhost"))
    mill = at_the_mill(page, served.address("localhost"), log)
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss())[1])
    saw_to_piece(page, 1)
    assert moving(page) == 0
    page.emulate_media(reduced_motion="no-preference")
    assert moving(page) > 0

    page.click("#stop")
    expect(page.locator("#ask .stop").first).not_to_be_empty()
    page.click("#ask >> text=Found rot")
    page.click("#ask .choices button >> nth=1")
    page.click("#ask .choices button >> text='4'")
    expect(page.locator("#last")).to_contain_text("found rot")

    planned = page.inner_text("#height")
    page.click("#else > summary")
    page.click("#elses >> text=Moved or clamped again")
    for end in ("Butt", "Top"):
        page.click(f'#ask button[aria-label^="{end} +"] >> nth=0')
    page.click("text=That is how it stands")
    expect(page.locator("#next")).to_contain_text("counted again")
    assert page.inner_text("#height") != planned

    page.click("#elses >> text=Moved or clamped again")  # and the top end has sunk a little
    page.click('#ask button[aria-label^="Top −"] >> nth=1')
    page.click("text=That is how it stands")
    told = r"its top end is 1/8\s*in too low\. This height is right in the middle alone"
    expect(page.locator("#next .stop").last).to_have_text(re.compile(told))
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=20_000)
    served_alone = re.sub(r"<[^>]+>", "", page.request.get(mill).text())
    assert re.search(told, re.sub(r"\s+", " ", served_alone)), "the page without its module says the same"

    page.context.set_offline(True)
    page.click("#elses >> text=Kept as a cant")
    expect(page.locator("#next")).not_to_contain_text("Write")
    expect(page.locator("#last")).to_contain_text("kept as a cant")
    expect(page.locator("#kept")).to_contain_text("not in the book yet")
    page.close(run_before_unload=True)
    page.wait_for_timeout(500)
    assert asked == ["beforeunload"] and not page.is_closed()
    page.context.set_offline(False)
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)
    with page.expect_event("close"):
        page.close(run_before_unload=True)
    assert len(asked) == 1

    assert [one.how for one in came_off(yard.book, day_of(mill), log)] == ["as meant", "kept as a cant"]
    told = {one.what: one for one in happened(yard.book, day_of(mill), log)}
    assert len(json.loads(told["moved or clamped again"].pith_m)) == 2
    rot = next(each for each in history(yard.book, f"day:{day_of(mill)}") if each.command == told["found rot"].command)
    assert "clock" in rot.body


def test_a_day_without_a_plan_names_each_piece_with_one_tap(yard: Yard, launch: Launch) -> None:
    sheet = (EXAMPLES / "log-rough.toml").read_text("utf-8")
    log = add_log(yard.hand, NewLog(sheet, code="K")).id
    served = yard.serve()
    page = signed_in(launch().new_context(viewport=PHONE), served.address("localhost"))
    page.goto(f"{served.address('localhost')}/logs/{log}")
    page.click("text=Saw it now")
    page.wait_for_selector("html[data-ready=yes]")
    for n in range(3):
        page.locator("#thicknesses button").nth(n).click()
        expect(page.locator("#last")).to_contain_text(f"K-{n + 1}-")
    held(page)  # as thick as the last
    for how in ("Wedge", "Short", "Spoiled", "1/4 in thick"):
        page.click("#came-off")
        page.click(f"#ask >> text='{how}'")
        page.click("#ask >> text='2 in'")
    expect(page.locator("#last")).to_contain_text("K-8-")
    page.click("#stop")
    page.click("#ask >> text=Found rot")
    page.click("#ask .choices button >> nth=1")
    page.click("#ask .choices button >> text='4'")
    expect(page.locator("#last")).to_contain_text("found rot")
    assert page.inner_text("#again") == "2 in", "as it was meant, not as it came off"
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=20_000)
    off = came_off(yard.book, day_of(page.url), log)
    assert [round((one.thickness_m or 0) / 0.0254, 2) for one in off] == [1.0, 1.25, 1.5, 1.5, 2.0, 2.0, 2.0, 2.25]
    assert [one.how for one in off] == ["as meant"] * 4 + ["wedge", "short", "spoiled", "thick"]
    assert [round((one.off_by_m or 0) / 0.0254, 2) for one in off][-2:] == [0, 0.25]
    assert [piece.boule_place for piece in log_story(yard.book, log).pieces] == list(range(1, 9))
    assert [one.what for one in happened(yard.book, day_of(page.url), log)] == ["found rot"]
    page.goto(f"{served.address('localhost')}/day/{day_of(page.url)}/beside")
    expect(page.locator("#beside")).to_contain_text(re.compile(r"by eye, no plan.\s*It is K-9-\w. Write that on the butt end."))


def test_the_page_beside_shows_what_comes_and_writes_nothing(yard: Yard, launch: Launch) -> None:
    """By the names of the phone that saws, whoever looks; nobody who only looks takes names."""
    log, served = yard.with_log(), yard.serve()
    browser, address = launch(), served.address("localhost")
    page = signed_in(browser.new_context(viewport=PHONE), address)
    mill = at_the_mill(page, address, log)
    second = browser.new_context(viewport=PHONE).new_page()  # nobody signed in
    second.goto(f"{address}/day/{day_of(mill)}/beside")
    expect(second.locator("#beside")).to_contain_text("Nothing was told at the mill yet.")
    third = signed_in(browser.new_context(viewport=PHONE), address)  # somebody who may write, on a phone of their own
    third.goto(f"{address}/day/{day_of(mill)}/beside?log={log}")
    expect(third.locator("#beside")).to_contain_text("Roll it on")
    saw_to_piece(page, 2)
    tag = names_for_paper(yard.hand, 3, "BACK")[1]
    staple(page, str(tag), f"{tag} tag stapled on")  # printed since the page was made, all of it typed
    for other in (second, third):
        expect(other.locator("#beside")).to_contain_text(f"{tag} ", timeout=20_000)
        expect(other.locator("#beside")).to_contain_text(re.compile(r"tag stapled on, W-2-\w on the butt end"))
        expect(other.locator("#beside")).to_contain_text("It is W-3-", timeout=20_000)
        assert other.locator("main form, main button").count() == 0
    saw_to_piece(page, 3)
    assert [one.name.rpartition("-")[0] for one in pieces(yard.book, log)] == ["W-1", "BACK-2", "W-3"], (
        "no block was taken between"
    )
    assert len({event.device for event in history(yard.book, "code:W")}) == 1
