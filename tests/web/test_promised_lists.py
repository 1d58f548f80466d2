"""Holds, quotes, wishes and custom jobs as lists: every row that the pages have, for who may see our own figures alone."""

from __future__ import annotations

import csv
import io
from uuid import uuid4

import pytest

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.promises import HoldEnd, PricedPiece
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.looking import pieces_by_id
from waney.yard.services.custom import ask_custom
from waney.yard.services.deposits import end_hold
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.quotes import quote_for
from waney.yard.services.selling import hold_for
from waney.yard.services.wishes import leave_wish_for

from .conftest import Person
from .test_pages import EXAMPLE

LISTS = ("holds", "quotes", "wishes", "custom")
LATER, TODAY = "2099-05-04", "2026-05-04"


def rows(owner: Person, what: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(owner.get(f"/{what}.csv").content.decode("utf-8-sig"), newline="")))


@pytest.fixture
def pieces(hand: Hand, shop: Shop) -> tuple[str, str, str]:
    made = shop.new_id(), shop.new_id(), shop.new_id()
    for piece in made:
        hand.write(PieceCounted(piece, "walnut_black", "", 0.0508, 2.4384, (0.3, 0.4)))
    return made


def test_a_hold_is_a_row_for_each_piece_and_its_deposit_stands_once(
    owner: Person, hand: Hand, shop: Shop, pieces: tuple[str, str, str]
) -> None:
    hold_for(hand, pieces[:2], "Ada Quist", LATER, 50_00)
    ended = hold_for(hand, pieces[2:], "Bo Lind", LATER, 0)
    end_hold(hand, ended, HoldEnd.RELEASED)
    names = {one.name for one in pieces_by_id(shop.book, pieces[:2])}
    found = rows(owner, "holds")
    ada = [row for row in found if row["kept for"] == "Ada Quist"]
    assert {row["piece"] for row in ada} == names and {row["state"] for row in ada} == {"stands"}
    assert sorted(value for row in ada for key, value in row.items() if key.startswith("deposit")) == ["", "50.0"]
    assert [row["state"] for row in found if row["kept for"] == "Bo Lind"] == ["released"] and ada[0]["until"] == LATER
    assert 'href="/holds.csv"' in owner.get("/buyers").text


def test_a_quote_tells_each_price_and_what_is_gone_since(owner: Person, hand: Hand, pieces: tuple[str, str, str]) -> None:
    quote_for(hand, [PricedPiece(pieces[0], 240_00), PricedPiece(pieces[1], 99_50)], "Ada Quist", LATER, goes_to="Canada")
    hold_for(hand, [pieces[1]], "Bo Lind", LATER, 0)
    found = rows(owner, "quotes")
    prices = [value for row in found for key, value in row.items() if key.startswith("price before tax")]
    assert sorted(map(float, prices)) == [99.5, 240.0] and {row["state"] for row in found} == {"open"}
    assert {row["goes to"] for row in found} == {"Canada"}
    gone = {float(next(v for k, v in row.items() if k.startswith("price"))): row["piece is gone"] for row in found}
    assert gone == {99.5: "yes", 240.0: ""}
    assert 'href="/quotes.csv"' in owner.get("/quotes").text


def test_a_wish_tells_what_is_asked_for_and_what_fits(
    owner: Person, hand: Hand, shop: Shop, pieces: tuple[str, str, str]
) -> None:
    leave_wish_for(hand, "=Ann", WishLeft(str(uuid4()), pieces[0], LATER, "walnut_black", width_m=0.254), TODAY)
    (found,) = rows(owner, "wishes")
    width = next(value for key, value in found.items() if key.startswith("width, at least"))
    assert float(width) == 10.0 and found["pieces that fit"] == "3.0" and found["who asks"] == "'=Ann", "no name is a formula"
    assert found["until"] == LATER and 'href="/wishes.xlsx"' in owner.get("/wishes").text


def test_a_custom_job_tells_its_logs_its_way_and_what_is_next(owner: Person, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE, code="KX")).id
    ask_custom(hand, "Ina Berg", [log], way_m=16093.44, way_hours=0.5)
    (found,) = rows(owner, "custom")
    way = next(value for key, value in found.items() if key.startswith("way there and back"))
    assert (found["customer"], found["logs"], float(way)) == ("Ina Berg", "1.0", 10.0)
    assert found["state"] == "quote it, and agree on one way" and 'href="/custom.csv"' in owner.get("/custom").text


@pytest.mark.parametrize("what", LISTS)
def test_nobody_else_reads_them_and_none_while_a_buyer_looks_on(what: str, owner: Person, anybody: Person) -> None:
    assert owner.get(f"/{what}.xlsx").content.startswith(b"PK")
    assert anybody.get(f"/{what}.csv").status_code == 401 == anybody.get(f"/{what}.xlsx").status_code
    owner.send("/own-figures", {"do": "hide", "after": "/"})
    assert owner.get(f"/{what}.csv").status_code == 400
    assert f"/{what}.csv" not in owner.get("/papers").text
