"""A market day, walked: the server is killed when all is taken along, the page closed and opened again; sold, asked for, home."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.examining import examine
from waney.yard.book.looking import open_tasks, pieces
from waney.yard.book.selling_seen import leases, money_taken, promises, sales
from waney.yard.services.selling import hold_for, price_piece

from .conftest import PHONE, Launch, Yard, tag_of
from .test_sawing_day import signed_in

LATER = "2099-05-11"


def with_walnut(yard: Yard) -> dict[str, str]:
    """Five pieces, by name; 80 asked for each."""
    for n in range(5):
        piece = yard.hand.new_id()
        yard.hand.write(PieceCounted(piece, "black walnut", "", 0.0508, 2.4 + 0.1 * n, (0.40, 0.45)))
        price_piece(yard.hand, piece, 80_00)
    return {piece.name: piece.id for piece in pieces(yard.book)}


def ready(page: Page) -> None:
    page.wait_for_selector("html[data-ready=yes]")


def looked_up(page: Page, name: str) -> None:
    page.fill("#tag", name.replace("-", " ").lower())
    page.click("text=Look it up")
    expect(page.locator("#piece-name")).to_have_text(name)


def sold_for(page: Page, price: str, way: str, says: str, buyer: str = "") -> None:
    """The piece that was looked up goes; its receipt is shown."""
    page.fill("#price", price)
    page.click("text=Into the sale")
    page.fill("#sale-buyer", buyer)
    page.click(f"#ways >> text={way}")
    expect(page.locator("#ask")).to_contain_text(f"All of it {says}")
    page.click("#ask-back")


def test_a_market_day_with_the_phone_cut_off_arrives_once_and_whole(yard: Yard, launch: Launch) -> None:
    names = with_walnut(yard)
    first, second, stays, asked, lost = names
    served = yard.serve()
    address = served.address("localhost")
    context = launch().new_context(viewport=PHONE)
    page = signed_in(context, address)
    page.goto(f"{address}/market")
    page.check(f"input[value='{names[first]}']")
    page.fill("#names", f"{second}\n{stays}")
    page.fill("#where", "Market in Alder Hollow")
    page.click("text=Take along >> nth=-1")
    ready(page)
    expect(page.locator("#opens")).to_have_text("This page opens without a signal.")
    served.kill()
    page.close()  # and opened again with nobody to ask
    page = context.new_page()
    page.goto(f"{address}/market")
    ready(page)
    expect(page.locator("#along li")).to_have_count(3)

    page.set_input_files("#scan", {"name": "tag.png", "mimeType": "image/png", "buffer": tag_of(first)})
    expect(page.locator("#piece-name")).to_have_text(first)
    expect(page.locator("#asked")).to_contain_text("80.00")
    sold_for(page, "80", "Cash", "$80.00")
    looked_up(page, second)
    sold_for(page, "72,50", "Card", "$72.50", "Ann")
    for name, buyer in ((asked, "Bo"), (lost, "Cy")):
        looked_up(page, name)
        expect(page.locator("#only")).to_contain_text("it can only be asked for")
        page.fill("#kept-for", buyer)
        page.evaluate("document.querySelector('#asks button').click(); document.querySelector('#tag').value = 'next'")
        expect(page.locator("#requests")).to_contain_text(name)
        expect(page.locator("#tag")).to_have_value("next")  # typed while the request was written down
    expect(page.locator("#kept")).to_contain_text("kept here, not in the book yet")
    hold_for(yard.hand, [names[lost]], "Dee", LATER, 0)  # meanwhile, at the desk
    page.click("#close")
    page.click("text=That is how it stands")
    expect(page.locator("#home")).to_contain_text(f"Home comes {stays}")
    served.start()
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)
    expect(page.locator("#requests")).to_contain_text("Dee was first")
    page.click("text=What it came to")
    expect(page.locator("main")).to_contain_text("not kept. Dee was first.")

    told = [(sale.called, sale.paid_cents, [(part.piece, part.gone) for part in sale.pieces]) for sale in sales(yard.book)]
    assert told == [("", 80_00, [(names[first], False)]), ("Ann", 72_50, [(names[second], False)])]
    assert money_taken(yard.book) == 152_50, "everything arrived once"
    taken = promises(yard.book, LATER)
    assert (taken[names[asked]].called, taken[names[lost]].called, names[stays] in taken) == ("Bo", "Dee", False)
    [lease] = leases(yard.book)
    assert lease.closed and dict(lease.home)[names[stays]] is True
    assert [task.kind for task in open_tasks(yard.book) if "tag" not in task.words] == ["somebody else was first"]
    assert examine(yard.book).unsound == ()
