"""Selling, walked: from the photo of a dry piece to its sale sheet, paid; and two who want one piece, at two screens at once."""

from __future__ import annotations

import io
from uuid import uuid4

import numpy as np
import pypdf
import pytest
from playwright.sync_api import BrowserContext, Page, expect
from tests.pieces.photo_scene import SIZE, Scene, scene

from waney.trade.costing import What
from waney.web.access.members import Members, Role
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import FigureSeen, PieceCounted
from waney.yard.acts.sales import Spent
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book.around import buyers
from waney.yard.book.selling_seen import holds, sales
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.pieces import add_person, count_piece, tell_of_piece
from waney.yard.services.selling import price_piece
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.spending import note_spent

from .conftest import PHONE, WORDS, Launch, Yard, demo
from .test_sawing_day import PATIENCE_MS, signed_in
from .test_whole_piece import CORNERS, photo_of, tap


def walnut(yard: Yard) -> str:
    """A piece that was counted, with the prices and taxes of the demo."""
    piece = str(uuid4())
    count_piece(yard.hand, PieceCounted(piece, "black walnut", "", 0.054, 1.8, (0.5, 0.62)))
    for what in (Setting.PRICES, Setting.TERMS):
        settle_for_shop(yard.hand, what, demo(what.value))
    return piece


COSTS = 'format = "waney-costs/1"\nunits = "in"\ncurrency = "USD"\nsharing = "piece"\n'
LOG = 'format = "waney-log/1"\nunits = "in"\nspecies = "black walnut"\nlength = "6 ft"\n[top]\ndiameter = 26\n'
SQUARE_CUTS = 2 / 64 + 0.01
"""Slanting ends are taken off by a station of 64 at each end; the photo's own 1 %."""
HAUL, FLATTENING = 120_00, 25_00


def walnut_of_a_log(yard: Yard) -> str:
    """One of two flitches of a log that was hauled for HAUL; FLATTENING went into it alone. Its figure is curl."""
    log, piece = add_log(yard.hand, NewLog(LOG, code="W")).id, str(uuid4())
    for ident in (piece, str(uuid4())):
        yard.hand.write(CameOff(ident, "", log, species="black walnut", thickness_m=0.054, length_m=1.8, widths_m=(0.5, 0.62)))
    note_spent(yard.hand, Spent(f"log:{log}", What.HAUL, HAUL))
    note_spent(yard.hand, Spent(f"piece:{piece}", What.FLATTENING, FLATTENING))
    tell_of_piece(yard.hand, (FigureSeen(piece, "curl"),))
    for what, sheet in ((Setting.PRICES, demo("prices")), (Setting.TERMS, demo("terms")), (Setting.COSTS, COSTS)):
        settle_for_shop(yard.hand, what, sheet)
    return piece


def until(page: Page, address: str, words: str) -> None:
    """Look again until something stands there: a worker writes it down."""
    for _ in range(PATIENCE_MS // 500):
        page.goto(address)
        if words in page.inner_text("main"):
            return
        page.wait_for_timeout(500)
    raise AssertionError(words)


def by_hand(seen: Scene) -> dict[str, float]:
    """The three prices of the demo's sheet for a curly piece over 2 in thick, from the truth of its photo [dollars]."""
    wide = seen.area / float(np.ptp(seen.edge_m[:, 0]))
    factors = 1.2 * 1.4 * (1.25 if wide >= 20 * 0.0254 else 1.0)
    return {
        "by volume": 14 * seen.area * 0.054 / 0.002359737 * factors,
        "by area": 30 * seen.area / 0.09290304 * factors,
        "by the piece": 220 * factors,
    }


def paper(context: BrowserContext, address: str) -> str:
    """The words of a paper."""
    pages = pypdf.PdfReader(io.BytesIO(context.request.get(address).body())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_from_the_photo_of_a_dry_piece_to_its_sale_sheet_paid(yard: Yard, launch: Launch) -> None:
    piece, seen, served = walnut_of_a_log(yard), scene(11, tapping=0.0), yard.serve()
    yard.hand.write(MoistureRead(f"piece:{piece}", 0.08, ReadBy.PINS, Depth.CORE))
    address, context = served.address("localhost"), launch().new_context(viewport=PHONE)
    page = signed_in(context, address)
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{address}/pieces/{piece}/measured")
    page.set_input_files("#photo", {"name": "piece.jpg", "mimeType": "image/jpeg", "buffer": photo_of(seen)})
    expect(page.locator("[data-whole] img")).to_have_js_property("naturalWidth", SIZE[0])
    for marks in seen.marks_px:
        for number in (1, 3, 12, 10):
            tap(page, *marks[number - 1])
    for at in (*CORNERS, CORNERS[0]):
        tap(page, *seen.edge_px[at])
    page.fill("#long_row", "225 mm")
    page.select_option("#wet", "dry")
    page.click("text=Measure it >> nth=0")
    measured = page.locator("text=Counted by every rule")
    page.locator("text=Look at it").or_(measured).first.wait_for()
    page.goto(page.url)
    measured.wait_for()
    until(page, f"{address}/pieces/{piece}", "As it was measured")
    page.click("text=Price, hold, sell")
    expect(page.locator("main")).to_contain_text("It has cost $85.00")  # half of the haul, and its own flattening
    rows = {row.locator("th").inner_text(): row.locator("td").first.inner_text() for row in page.locator("tbody tr").all()}
    for way, dollars in by_hand(seen).items():
        assert float(rows[way].lstrip("$").replace(",", "")) == pytest.approx(dollars, rel=SQUARE_CUTS), way
    expect(page.locator("main")).to_contain_text("× 1.4 (figure)")
    page.fill("#asked", "640")
    page.click("text=Ask this")
    page.click("text=All for sale")
    expect(page.locator("ul.shelf li")).to_contain_text("core 8 %")
    page.click("text=A buyer looks on")
    expect(page.locator("main")).not_to_contain_text("has cost")
    page.click("ul.shelf h2 a")
    assert "Our own figures" not in page.inner_text("main")
    page.fill("#buyer", "Ann Voss")
    page.click("button:text-is('Sold')")
    expect(page.locator("dl.facts")).to_contain_text("sold on")
    sheet = paper(context, f"{address}/pieces/{piece}/sale.pdf")
    for each in ("Sold on", ", paid", "narrow face", "moisture, core 8 %", "heat treated not known", "Not graded for building"):
        assert each in sheet, each
    assert "Ann" not in sheet and "$85.00" not in sheet
    [sale] = sales(yard.book)
    assert (sale.called, sale.pieces_cents, sale.owed_cents) == ("Ann Voss", 640_00, 0)
    pictures = pypdf.PdfReader(io.BytesIO(context.request.get(f"{address}/pieces/{piece}/sale.pdf").body())).pages
    assert sum(len(one.images) for one in pictures) == 1, "its dry photo"


def test_two_buyers_at_once_and_one_is_refused_with_the_reason(yard: Yard, launch: Launch) -> None:
    piece, other = walnut(yard), walnut(yard)
    for ident in (piece, other):
        price_piece(yard.hand, ident, 640_00)
    jo = str(uuid4())
    Members.of(yard.folder / "members.json").let_in(jo, "Jo", Role.HELPER, WORDS)
    add_person(yard.hand, "Jo", jo)
    address = yard.serve().address("localhost")
    browser = launch()
    first, second = (signed_in(browser.new_context(viewport=PHONE), address, called) for called in ("Ada", "Jo"))
    for page in (first, second):
        page.set_default_timeout(PATIENCE_MS)
        page.goto(f"{address}/pieces/{piece}/sale")  # both see that it is free
        expect(page.locator("dl.facts")).to_contain_text("to nobody")
    first.fill("#kept_for", "Ann Voss")
    first.click("text=Keep it")
    expect(first.locator("dl.facts")).to_contain_text("Ann Voss")
    second.fill("#buyer", "Bo Quell")
    second.click("button:text-is('Sold')")
    expect(second.locator("[role=alert]").first).to_contain_text("is held for somebody; look again")
    expect(second.locator("main")).to_contain_text("Nearest to it")
    assert [hold.called for hold in holds(yard.book)] == ["Ann Voss"] and sales(yard.book) == ()
    assert [one.called for one in buyers(yard.book)] == ["Ann Voss"]
