"""Selling, walked: from the photo of a dry piece to its sale sheet, paid; and two who want one piece, at two screens at once."""

from __future__ import annotations

import io
from uuid import uuid4

import pypdf
from playwright.sync_api import BrowserContext, expect
from tests.pieces.photo_scene import SIZE, scene

from waney.web.access.members import Members, Role
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book.around import buyers
from waney.yard.book.selling_seen import holds, sales
from waney.yard.services.pieces import add_person, count_piece
from waney.yard.services.selling import price_piece
from waney.yard.services.settings import settle_for_shop

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


def paper(context: BrowserContext, address: str) -> str:
    """The words of a paper."""
    pages = pypdf.PdfReader(io.BytesIO(context.request.get(address).body())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_from_the_photo_of_a_dry_piece_to_its_sale_sheet_paid(yard: Yard, launch: Launch) -> None:
    piece, seen, served = walnut(yard), scene(11, tapping=0.0), yard.serve()
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
    page.check("text=The wood is dry on it")
    page.click("text=Measure it >> nth=0")
    measured = page.locator("text=Counted by every rule")
    page.locator("text=Look at it").or_(measured).first.wait_for()
    page.goto(page.url)
    measured.wait_for()
    page.goto(f"{address}/pieces/{piece}")
    page.click("text=Price, hold, sell")
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
    assert "Ann" not in sheet
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
