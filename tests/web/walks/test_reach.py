"""Reach: axe finds nothing on any page, unfolded and asking; nothing is wider than a phone, at 200 % too; keys are enough."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, TimeoutError, expect
from tools.opened import QUESTIONS, opened, unfolded

from waney.logs.sheet_text import with_entry
from waney.trade.way_paid import How
from waney.web.addresses import paths
from waney.yard.acts.drying import ToWeigh
from waney.yard.acts.mill import CameOff, Transform
from waney.yard.acts.offers import StemFelled, TreeOffered
from waney.yard.acts.pieces import FigureSeen, PieceCounted, RoomTold
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import SoldAway
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy, StackBuilt
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.stories import log_story
from waney.yard.services.counting import begin_count, see_tag
from waney.yard.services.custom import CustomJob, agree, ask_custom, seen_of, tell_sawn
from waney.yard.services.deposits import end_hold
from waney.yard.services.logs import NewLog, add_log, add_to_sheet
from waney.yard.services.offers import fell_stem, note_offer
from waney.yard.services.parts import Part, cut_into_parts
from waney.yard.services.pieces import count_piece, keep_photo, keep_together, measure_piece, name_spot, tell_of_piece
from waney.yard.services.quotes import quote_for
from waney.yard.services.selling import add_buyer, hold_for, price_piece, take_along
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack, load_kiln
from waney.yard.services.wishes import leave_wish_for

from .conftest import EXAMPLES, PHONE, Launch, Yard, demo
from .test_offer_photo import end_with_a_stick
from .test_sawing_day import PATIENCE_MS, at_the_mill, saw_to_piece, signed_in

WRONG = {"resultTypes": ["violations"]}
"""nobody reads what is right with each part of a page"""
SCHEMES = (("light", Axe(), WRONG), ("dark", Axe("true"), WRONG | {"runOnly": ["color-contrast"]}))
"""what changes in the dark is colours; the page has axe by then"""
HALF_A_PHONE = {"width": PHONE["width"] // 2, "height": PHONE["height"] // 2}
DRAWN_ANEW_MS = 3_000
WORKING = ".working"
"""shown while a job works"""
FIRST = "/first"
"""there is an owner already, so it leads on"""


def a_board(yard: Yard, log: str) -> str:
    """A piece that came off by the plan of a log."""
    piece, plan = str(uuid4()), log_story(yard.book, log).plans[0].id
    yard.hand.write(CameOff(piece, "", log, plan, cut=3, thickness_m=0.05, length_m=2.4, widths_m=(0.2, 0.3)))
    return piece


def a_custom_job(yard: Yard) -> str:
    """Somebody's log, sawn on shares and not yet parted."""
    sheet = 'format = "waney-log/1"\nunits = "in"\nspecies = "white ash"\nlength = "8 ft"\n[top]\ndiameter = 14\n'
    log = add_log(yard.hand, NewLog(sheet)).id
    custom = ask_custom(yard.hand, "Hal", (log,)).id
    agree(yard.hand, custom, How.SHARES, "2026-05-04", seen_of(CustomJob.of(yard.book, custom), yard.book))
    yard.hand.write(CameOff(str(uuid4()), "", log, thickness_m=0.0286, length_m=2.44, widths_m=(0.25, 0.3)))
    tell_sawn(yard.hand, custom, log, 0.5)
    return custom


def one_of_each(yard: Yard) -> dict[str, str]:
    """A thing for every page that shows one, by the word that stands in its address."""
    log = yard.with_log()
    add_to_sheet(yard.hand, log, lambda text: with_entry(text, "metal", ("distance = 30", "clock = 3")))
    piece, spot = a_board(yard, log), name_spot(yard.hand, "Long shed by the road").id
    made = {"log": log, "piece": piece, **{name: str(uuid4()) for name in ("tree", "stem", "stack")}}
    note_offer(yard.hand, TreeOffered(made["tree"], species="white ash", girth_m=1.5, length_m=3.0))
    keep_photo(yard.hand, end_with_a_stick(), f"tree:{made['tree']}")
    fell_stem(yard.hand, StemFelled(made["stem"], species="white ash", length_m=5.1))
    build_stack(yard.hand, StackBuilt(made["stack"], "by the road", spot, ((piece,),)))
    yard.hand.write(ToWeigh(made["stack"], (piece,)))
    made["buyer"] = add_buyer(yard.hand, "Ann Voss").id
    settle_for_shop(yard.hand, Setting.PRICES, demo("prices"))
    price_piece(yard.hand, piece, 120_00)
    measure_piece(yard.hand, piece, demo("piece"))
    yard.hand.write(MoistureRead(f"piece:{piece}", 0.12, ReadBy.PINS, Depth.CORE, corrected=True))
    tell_of_piece(yard.hand, (RoomTold(piece, "Madison, WI", "70 F"), FigureSeen(piece, "curl")))
    end_hold(yard.hand, hold_for(yard.hand, [piece], "Ada Quist", "2099-05-04", 50_00))
    made["quote"] = quote_for(yard.hand, [PricedPiece(counted(yard), 90_00)], "Ada Quist", "2099-05-04", goes_to="Canada")
    sold = counted(yard)
    made["lease"] = take_along(yard.hand, [sold], "2099-05-04", "Market in Alder Hollow").id
    yard.hand.write(SoldAway(str(uuid4()), (PricedPiece(sold, 80_00),), "2099-05-04", paid_cents=80_00))
    made["count"] = begin_count(yard.hand)
    see_tag(yard.hand, made["count"], "AB-12-P")
    leave_wish_for(yard.hand, "Ann", WishLeft(str(uuid4()), made["piece"], "2099-05-04", width_m=0.1), "2026-05-04")
    settle_for_shop(yard.hand, Setting.TERMS, (EXAMPLES / "terms-custom.toml").read_text(encoding="utf-8"))
    made["custom"] = a_custom_job(yard)
    whole = str(uuid4())
    count_piece(yard.hand, PieceCounted(whole, "white ash", thickness_m=0.05, length_m=2.4, widths_m=(0.3, 0.3)))
    made["by_eye"] = add_log(yard.hand, NewLog((EXAMPLES / "log-rough.toml").read_text("utf-8"), code="K")).id
    parts = cut_into_parts(yard.hand, whole, Transform.RIPPED, [Part(width_m=0.14)] * 2)
    keep_together(yard.hand, parts, "legs of a bench")
    made |= {"whole": whole, "part": parts[0]}
    return {**made, "load": load_kiln(yard.hand, "Brook", (), (piece,)).id}


def counted(yard: Yard) -> str:
    """A piece without a log."""
    piece = str(uuid4())
    yard.hand.write(PieceCounted(piece, "white ash", "", 0.05, 2.4, (0.2, 0.3)))
    return piece


def addresses(made: dict[str, str]) -> list[str]:
    """Every page of the app, shown for these things."""
    each = [re.sub(r"{(\w+)(:\w+)?}", lambda part: made[part[1]], path) for path in paths() if path != FIRST]
    parted = (f"/pieces/{made['whole']}", f"/pieces/{made['part']}", f"/pieces/{made['part']}/cut")
    return [*each, *parted, "/no-such-page"]


def slips(page: Page, called: str, within: str | None = None) -> Iterator[tuple[str, str, str]]:
    """What axe finds on a page as it stands, or a part of it, in light and in dark, and whether it is wider than half a phone."""
    for scheme, axe, rules in SCHEMES:
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        for one in axe.run(page, within, rules).response["violations"]:
            yield called, one["id"], one["nodes"][0]["html"]
    page.set_viewport_size(HALF_A_PHONE)  # what 200 % leaves of it; a chart is drawn anew for it
    try:
        page.wait_for_function("document.documentElement.scrollWidth <= innerWidth + 1", timeout=DRAWN_ANEW_MS)
    except TimeoutError:
        yield called, "wider than a phone", ""
    page.set_viewport_size(PHONE)


def slips_unfolded_and_asking(page: Page, path: str, asked: set[str]) -> Iterator[tuple[str, str, str]]:
    """The same with all open that is folded away, and with each question that the page can ask, once for every question."""
    page.wait_for_selector(WORKING, state="detached", timeout=PATIENCE_MS)
    unfolded(page)
    yield from slips(page, path)
    for question in opened(page):
        if question not in asked:
            asked.add(question)
            yield from slips(page, f"{path}, asking: {question}", "dialog#ask")


def taken_along(page: Page, mill: str, folder: Path) -> str:
    """The page in one file; its address."""
    file = folder / "along.html"
    file.write_bytes(page.request.get(f"{mill}/along").body())
    return file.as_uri()


def test_axe_finds_nothing_on_any_page_and_none_is_wider_than_a_phone_even_at_200_percent(
    yard: Yard, launch: Launch, tmp_path: Path
) -> None:
    """Each page with all open that is folded away, where a job answers with its answer too; and each question in its dialog."""
    made, served = one_of_each(yard), yard.serve()
    address = served.address("localhost")
    page = signed_in(launch().new_context(viewport=PHONE, bypass_csp=True), address)  # type: ignore[arg-type]
    mill = at_the_mill(page, address, made["log"])
    made["day"] = mill.split("/day/")[1].split("/")[0]
    saw_to_piece(page, 1)  # so that there is something to ask about
    along = taken_along(page, mill, tmp_path)
    wrong: list[tuple[str, str, str]] = []
    asked: set[str] = set()
    by_eye = f"/day/{made['day']}/at/{made['by_eye']}"
    for path in (*(address + each for each in (*addresses(made), by_eye)), along):
        page.goto(path, timeout=PATIENCE_MS)  # what a page needs may be loaded by the first who asks for it
        wrong += slips_unfolded_and_asking(page, path, asked)
    page.goto(f"{address}/market")
    page.click("text=Take nothing, only ask")
    page.wait_for_selector("html[data-ready=yes]")
    wrong += slips_unfolded_and_asking(page, "a market day", asked)
    assert wrong == []
    assert asked == set(QUESTIONS)


@pytest.mark.parametrize("wide", [390, 195], ids=["phone", "zoomed to twice its size"])
def test_tables_are_read_on_a_phone_without_pushing_them_aside(yard: Yard, launch: Launch, wide: int) -> None:
    log = yard.with_log()
    a_board(yard, log)
    shed = name_spot(yard.hand, "Long shed by the road").id
    build_stack(yard.hand, StackBuilt(str(uuid4()), "by the road", shed))
    served = yard.serve()
    address = served.address("localhost")
    page = signed_in(launch().new_context(viewport={"width": wide, "height": 844}), address)
    for path in ("/logs", "/pieces", "/spots", "/stacks", f"/logs/{log}"):
        page.goto(address + path)
        table = page.locator("table.lines").first
        assert table.evaluate("(one) => one.parentElement.scrollWidth <= one.parentElement.clientWidth"), path
        cell = table.locator("tbody td[data-word]").first
        word = cell.evaluate("(one) => getComputedStyle(one, '::before').content")
        assert word == f'"{cell.get_attribute("data-word")}"', path


def test_a_log_is_booked_in_with_keys_alone(yard: Yard, launch: Launch) -> None:
    served = yard.serve()
    page = signed_in(launch().new_context(viewport={"width": 1280, "height": 900}), served.address("localhost"))
    page.goto(served.address("localhost") + "/logs/new")
    page.focus("#species")
    page.keyboard.type("black walnut")
    for field, text in (("length", "8 ft"), ("top_diameter", "16")):
        for _ in range(40):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.id") == field:
                break
        page.keyboard.type(text)
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_contain_text("Log ")
