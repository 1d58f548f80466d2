"""A stock count, walked: no signal once the page has come; closed and opened again; tags read and typed; lines put right."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded
from waney.yard.book.examining import examine
from waney.yard.book.looking import history, pieces
from waney.yard.services.pieces import name_spot

from .conftest import PHONE, Launch, Yard, tag_of
from .test_market_day import ready
from .test_sawing_day import signed_in


def with_ash(yard: Yard) -> list[tuple[str, str]]:
    """Name and id: three pieces in the shed, one of them told to be lost, and one by the mill."""
    shed, mill = (name_spot(yard.hand, called).id for called in ("Shed", "By the mill"))
    made = [yard.hand.new_id() for _ in range(4)]
    for piece, spot in zip(made, (shed, shed, shed, mill), strict=True):
        yard.hand.write(PieceCounted(piece, "ash", "", 0.05, 2.4, (0.2, 0.3), spot))
    yard.hand.write(PieceEnded(made[2], PieceEnd.LOST))
    return [(piece.name, piece.id) for piece in pieces(yard.book)]


def typed(page: Page, name: str) -> None:
    page.fill("#tag", name.replace("-", " ").lower())
    page.click("#look-up button")


def test_a_stock_count_without_a_signal_ends_with_lines_that_are_put_right(yard: Yard, launch: Launch) -> None:
    (there, _), (missing, gone), (lost, found), (elsewhere, moved) = with_ash(yard)
    served = yard.serve()
    address = served.address("localhost")
    context = launch().new_context(viewport=PHONE)
    page = signed_in(context, address)
    page.goto(f"{address}/stock-count")
    page.select_option("#spot", label="Shed, 2 pieces")
    page.click("text=Begin to count")
    ready(page)
    expect(page.locator("#opens")).to_have_text("This page opens without a signal.")
    expect(page.locator("#progress")).to_have_text("0 of 2 counted")
    count = page.url
    served.kill()
    page.set_input_files("#scan", {"name": "tag.png", "mimeType": "image/png", "buffer": tag_of(there)})
    expect(page.locator("#progress")).to_have_text("1 of 2 counted")
    page.close()  # and opened again with nobody to ask
    page = context.new_page()
    page.goto(count)
    ready(page)
    expect(page.locator("#progress")).to_have_text("1 of 2 counted")
    typed(page, there)
    expect(page.locator("#says")).to_have_text("It was counted already.")
    typed(page, there[:-1])
    expect(page.locator("#scanned")).to_contain_text("is no name of a piece")
    expect(page.locator("#tag")).to_have_value(there[:-1].replace("-", " ").lower())  # stays, to be mended
    typed(page, lost)
    expect(page.locator("#says")).to_contain_text("by the book it is lost")
    typed(page, elsewhere)
    expect(page.locator("#says")).to_contain_text("told to stand elsewhere: By the mill")
    page.fill("#tag", missing)
    page.evaluate("document.querySelector('#look-up button').click(); document.querySelector('#tag').value = 'next'")
    expect(page.locator("#says")).to_have_text("Counted.")
    expect(page.locator("#tag")).to_have_value("next")  # typed while the other was written down
    page.click("#undo")  # that was the one beside it
    page.click("#end")
    expect(page.locator("#told")).to_contain_text("1 counted, 1 not found.")
    expect(page.locator("#told")).to_contain_text("Last seen: Shed")
    for words in (f"{lost}: It is here after all", f"{elsewhere}: It stands here now", f"{missing}: It is lost"):
        page.get_by_role("button", name=words).click()
    expect(page.locator("#told")).to_contain_text("3 counted, 0 not found.")
    served.start()
    expect(page.locator("#kept")).to_contain_text("All of it is in the book", timeout=30_000)

    now = {piece.id: (piece.ended, piece.spot_called) for piece in pieces(yard.book)}
    assert [now[piece] for piece in (gone, found, moved)] == [("lost", "Shed"), ("", "Shed"), ("", "Shed")]
    assert [event.kind for event in history(yard.book, f"piece:{moved}")] == ["piece-counted", "tag-seen", "moved"]
    assert examine(yard.book).unsound == ()
