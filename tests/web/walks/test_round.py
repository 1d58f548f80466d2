"""The weighing round, walked: no signal from the second piece on, the page closed and opened again, a gain asked about."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from waney.yard.acts.drying import ToWeigh
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book.examining import examine
from waney.yard.book.looking import pieces
from waney.yard.book.stack_seen import read_of
from waney.yard.services.pieces import name_spot, weigh

from .conftest import PHONE, Launch, Yard
from .test_sawing_day import signed_in


def with_stacks(yard: Yard) -> list[str]:
    """Two spots, a stack on each, three pieces that are weighed every week."""
    made = []
    for called, count in (("By the mill", 2), ("Shed", 1)):
        spot, stack = name_spot(yard.hand, called).id, yard.hand.new_id()
        boards = [yard.hand.new_id() for _ in range(count)]
        for board in boards:
            yard.hand.write(PieceCounted(board, "white oak", length_m=2.5, spot=spot))  # without a thickness nothing is forecast
        yard.hand.write(StackBuilt(stack, f"{called}, oak", spot, tuple((board,) for board in boards)))
        yard.hand.write(ToWeigh(stack, tuple(boards)))
        made += boards
    return made


def typed(page: Page, figure: str) -> None:
    for key in figure:
        page.click(f"#keypad button[value='{key}']")


def ready(page: Page) -> None:
    page.wait_for_selector("html[data-ready=yes]")


def test_the_round_is_walked_without_a_signal_and_nothing_is_lost(yard: Yard, launch: Launch) -> None:
    boards = with_stacks(yard)
    weigh(yard.hand, f"piece:{boards[2]}", 13.0)  # the shed was walked to first, last time
    names = {piece.id: piece.name for piece in pieces(yard.book)}
    served = yard.serve()
    address = served.address("localhost")
    context = launch().new_context(viewport=PHONE)
    page = signed_in(context, address)
    page.goto(f"{address}/round")
    ready(page)
    page.evaluate("navigator.serviceWorker.ready")
    page.reload()  # now through the worker, which keeps it
    ready(page)
    expect(page.locator("#list li")).to_have_count(3)
    assert names[boards[2]] in page.inner_text("#list li >> nth=0")
    expect(page.locator("#name")).to_have_text(names[boards[1]])  # that one was weighed today; the upper layer of the next stack

    typed(page, "27.5")
    page.evaluate("for (const press of ['#weighed', '#keypad button[value=\"1\"]']) document.querySelector(press).click()")
    for _ in range(200):  # the line said so before it was weighed: only the book itself tells that it has come
        if boards[1] in read_of(yard.book, boards[1:2]):
            break
        page.wait_for_timeout(100)
    expect(page.locator("#kept")).to_contain_text("All of it is in the book")
    served.kill()
    expect(page.locator("#name")).to_have_text(names[boards[0]])
    typed(page, "4")  # after the 1, pressed while the other was written down
    page.click("#other")  # one end, then the other
    typed(page, "15")
    page.click("#tare")
    typed(page, "1.2")
    page.click("#weighed")
    expect(page.locator("#kept")).to_contain_text("1 kept here, not in the book yet")
    page.close()  # and opened again with nobody to ask
    page = context.new_page()
    page.goto(f"{address}/round")
    ready(page)
    expect(page.locator("#where")).to_have_text("All of this week's pieces are weighed.")
    page.click(f"#list button:has-text('{names[boards[1]]}')")  # at the spot where the sling was told
    expect(page.locator("#parts")).to_have_text("Sling, stickers, blocks 1.2 lb")
    page.click(f"#list button:has-text('{names[boards[2]]}')")  # at another
    expect(page.locator("#parts")).to_have_text("")
    typed(page, "30")  # pounds: 13.6 kg, more than last time
    page.click("#weighed")
    expect(page.locator("#ask")).to_contain_text("more than the 28.7 lb")
    page.click("text=It is so")
    page.click("#undo")  # it was the sling
    expect(page.locator("#kept")).to_contain_text("3 kept here")
    served.start()
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)

    read = read_of(yard.book, boards)
    kilograms = [[round(one.mass_kg, 2) for one in read[board].weights] for board in boards]
    assert kilograms == [[12.61], [12.47], [13.0]]  # 14 + 15 - 1.2 lb, 27.5 lb
    assert read[boards[0]].weights[0].ends
    assert examine(yard.book).unsound == ()
