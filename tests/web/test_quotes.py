"""Quotes through pages: named, priced, written, on paper, sold in one press; our floor and other buyers are on none of it."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader

from waney.trade.costing import What
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import Spent
from waney.yard.acts.settings import Setting
from waney.yard.book.looking import pieces_by_id
from waney.yard.book.selling_seen import holds, sales
from waney.yard.services.hand import Hand
from waney.yard.services.selling import price_piece, sell_to
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.spending import note_spent

from .conftest import Person

FLOOR = "137.31"
TERMS = """\
format = "waney-terms/1"
units = "in"
currency = "USD"
[[tax]]
name = "sales tax"
percent = "5 %"
on = "the sum"
rounding = "half up"
"""


@pytest.fixture
def pieces(hand: Hand, shop: Shop) -> tuple[str, ...]:
    settle_for_shop(hand, Setting.TERMS, TERMS)
    made = tuple(shop.new_id() for _ in range(2))
    for piece in made:
        hand.write(PieceCounted(piece, "walnut_black", "", 0.0508, 2.4, (0.3, 0.4)))
        price_piece(hand, piece, 240_00)
        note_spent(hand, Spent(f"piece:{piece}", What.FLATTENING, 137_31))
    return made


def words(content: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages).split())


def test_two_pieces_are_quoted_printed_and_sold_in_one_press(owner: Person, shop: Shop, pieces: tuple[str, ...]) -> None:
    one, other = pieces_by_id(shop.book, pieces)
    page = owner.get(f"/pieces/{one.id}/sale").text
    assert f"/quotes/new?piece={one.id}" in page
    form = {"piece": one.id, "do": "add", "more": other.name, f"cents-{one.id}": "210"}
    added = owner.send("/quotes", form).text
    assert f'name="cents-{other.id}"' in added and 'value="210"' in added and 'value="240.00"' in added
    told = {"piece": [one.id, other.id], f"cents-{one.id}": "210", f"cents-{other.id}": "230", "buyer": "Ada Quist"}
    written = owner.send(
        "/quotes", {**told, "until": "2026-05-18", "keep": "yes", "words": "brought to Alder Hollow", "do": "write"}
    )
    assert written.status_code == 303
    address = written.headers["location"]
    shown = owner.get(address).text
    assert "Quote for Ada Quist" in shown and "$440.00" in shown and "$22.00" in shown and "kept so long" in shown
    paper = words(owner.get(f"{address}/quote.pdf").content)
    for each in (
        "For Ada Quist",
        "18 May 2026",
        one.name,
        other.name,
        "$210.00",
        "$462.00",
        "brought to Alder Hollow",
        "kept for you",
    ):
        assert each in paper
    assert all(FLOOR not in text for text in (shown, paper, added, owner.get("/quotes").text))
    assert "Ada Quist" in owner.get("/quotes").text and "Ada Quist" in owner.get("/").text
    assert owner.send(address, {"do": "sell", "piece": [one.id, other.id], "by": "card"}).status_code == 303
    assert "sold on" in owner.get(f"/pieces/{other.id}/sale").text and "Sold." in owner.get(address).text
    again = owner.send(address, {"do": "sell", "piece": [one.id], "by": "card"})
    assert again.status_code == 422


def test_what_is_missing_is_said_at_its_field_and_what_was_typed_stays(owner: Person, pieces: tuple[str, ...]) -> None:
    slip = owner.send(
        "/quotes", {"piece": pieces[0], f"cents-{pieces[0]}": "much", "buyer": "", "until": "2026-05-18", "do": "write"}
    )
    assert slip.status_code == 422 and "Who is it for?" in slip.text and 'value="much"' in slip.text
    past = owner.send(
        "/quotes", {"piece": pieces[0], f"cents-{pieces[0]}": "9", "buyer": "Ada", "until": "2026-05-01", "do": "write"}
    )
    assert past.status_code == 422 and "That day is over" in past.text
    nobody = owner.send("/quotes", {"buyer": "Ada", "until": "2026-05-18", "do": "write", "more": "AB-99-Q"})
    assert nobody.status_code == 422


def test_a_quote_that_cannot_be_keeps_nothing_back_and_adds_nobody(owner: Person, shop: Shop, pieces: tuple[str, ...]) -> None:
    told = {"piece": pieces[0], f"cents-{pieces[0]}": "9", "buyer": "Bo New", "until": "2026-05-18", "keep": "yes", "do": "write"}
    assert owner.send("/quotes", {**told, "words": "x" * 201}).status_code == 422
    assert not [one for one in holds(shop.book) if not one.ended] and "Bo New" not in owner.get("/buyers").text
    assert owner.send("/quotes", told).status_code == 303


def test_of_a_quote_with_a_piece_gone_sum_and_tax_are_of_what_is_left(owner: Person, shop: Shop, pieces: tuple[str, ...]) -> None:
    cents = {f"cents-{pieces[0]}": "100", f"cents-{pieces[1]}": "200"}
    told = {"piece": list(pieces[:2]), **cents, "buyer": "Ada", "until": "2026-05-18", "do": "write"}
    address = owner.send("/quotes", told).headers["location"]
    assert "$300.00" in owner.get(address).text
    hand = shop.hand("")
    sell_to(hand, [PricedPiece(pieces[0], 100_00)], "Cy", "2026-05-04")
    left = owner.get(address).text
    assert "Before tax <strong>$200.00" in left and "$10.00" in left


def test_what_was_ticked_stays_ticked_after_a_slip(owner: Person, pieces: tuple[str, ...]) -> None:
    assert owner.send("/pieces/set", {"piece": pieces, "called": "leaves of a door"}).status_code == 303
    told = {"piece": pieces[0], f"cents-{pieces[0]}": "much", "buyer": "Ada Quist", "until": "2026-05-18", "do": "write"}
    for ticked in ("keep", "alone"):
        page = owner.send("/quotes", {**told, ticked: "yes"}).text
        for name in ("keep", "alone"):
            assert (f'name="{name}" value="yes" checked' in page) == (name == ticked), (ticked, name)


def test_quotes_are_the_shops_own(owner: Person, anybody: Person, pieces: tuple[str, ...]) -> None:
    told = {"piece": pieces[0], f"cents-{pieces[0]}": "210", "buyer": "Ada Quist", "until": "2026-05-18", "do": "write"}
    address = owner.send("/quotes", told).headers["location"]
    for path in ("/quotes", address, "/"):
        assert "Ada Quist" not in anybody.get(path).text
    assert anybody.get(f"{address}/quote.pdf").status_code == 401
    owner.send("/own-figures", {"do": "hide", "after": "/quotes"})
    assert "Ada Quist" not in owner.get("/quotes").text and "Ada Quist" not in owner.get(address).text


def test_a_price_below_what_a_piece_has_cost_is_said_to_the_shop_alone(
    owner: Person, anybody: Person, shop: Shop, pieces: tuple[str, ...]
) -> None:
    """137.31 were spent on each; 100 is 37.31 less."""
    word, one = "lies $37.31 below what it has cost", pieces[0]
    assert "below" not in owner.get(f"/quotes/new?piece={one}").text
    typed = {"piece": one, f"cents-{one}": "100", "buyer": "Ada Quist", "until": "2099-05-04"}
    assert word in owner.send("/quotes", {**typed, "do": "add"}).text
    quote = owner.send("/quotes", typed).headers["location"]
    assert word in owner.get(quote).text and "37.31" not in words(owner.get(f"{quote}/quote.pdf").content)
    owner.send(f"/pieces/{one}/sale", {"do": "price", "asked": "100"})
    sale = f"/pieces/{one}/sale"
    assert f"What is asked {word}" in owner.get(sale).text and "below" not in anybody.get(sale).text
    owner.send("/own-figures", {"do": "hide", "after": "/"})
    assert not any(word in owner.get(page).text for page in (quote, sale, "/for-sale"))
    owner.send("/own-figures", {"do": "show", "after": "/"})
    owner.send(sale, {"do": "sell", "paid": "137.31", "buyer": "Ada Quist"})
    assert "below" not in owner.get(sale).text, "asked too little, but sold for what it has cost"


def test_where_the_wood_goes_to_asks_the_questions_of_that_place_and_stays_with_the_sale(
    owner: Person, anybody: Person, shop: Shop, pieces: tuple[str, ...]
) -> None:
    told = {"piece": pieces[0], f"cents-{pieces[0]}": "210", "buyer": "Ada Quist", "until": "2026-05-18", "do": "write"}
    wrong = owner.send("/quotes", {**told, "goes_to": "12 Mill Lane"})
    assert wrong.status_code == 422 and "an address is not kept" in wrong.text and 'value="12 Mill Lane"' in wrong.text
    address = owner.send("/quotes", {**told, "goes_to": "NC"}).headers["location"]
    shown = owner.get(address).text
    assert "It goes to NC." in shown and "Haywood County" in shown
    owner.send(address, {"do": "sell", "piece": pieces[0], "by": "cash"})
    assert [sale.goes_to for sale in sales(shop.book)] == ["NC"]
    page = f"/pieces/{pieces[0]}/sale"
    assert "It goes to NC." in owner.get(page).text and "It goes to" not in anybody.get(page).text
    assert "Haywood" in words(owner.get(f"/pieces/{pieces[0]}/sale.pdf").content)


def test_the_page_of_a_sale_asks_where_the_wood_goes_to_before_it_is_sold(
    owner: Person, shop: Shop, pieces: tuple[str, ...]
) -> None:
    page = f"/pieces/{pieces[1]}/sale"
    assert "Haywood" not in owner.get(page).text
    assert "Haywood" in owner.get(f"{page}?goes_to=Raleigh NC").text
    abroad = owner.get(f"{page}?goes_to=Norway").text
    assert "It goes to Norway, of which no rule is known here" in abroad and abroad.count('value="Norway"') == 2
    sold = {"do": "sell", "buyer": "", "paid": "240", "by": "cash", "goes_to": "Norway"}
    assert owner.send(page, {**sold, "goes_to": "N-0150 Oslo"}).status_code == 422
    assert owner.send(page, sold).status_code == 303 and [sale.goes_to for sale in sales(shop.book)] == ["Norway"]
