"""Stacks, loads, readings, offers, money spent and stock counts as lists: every row, what is the shop's own to the shop alone."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass

import pytest

from waney.trade.costing import What
from waney.web.shop import Shop
from waney.yard.acts.offers import TreeOffered
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.sales import Spent
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy, StackBuilt
from waney.yard.book.looking import pieces_by_id
from waney.yard.services.counting import begin_count, see_tag
from waney.yard.services.hand import Hand
from waney.yard.services.offers import note_offer
from waney.yard.services.pieces import name_spot
from waney.yard.services.stacks import build_stack, load_kiln, unload_kiln

from .conftest import Person

ANYBODY, OWN = ("stacks", "loads", "readings", "stock-count"), ("offered", "spent")
LINKED = {"stacks": "/stacks", "loads": "/stacks", "readings": "/stacks", "stock-count": "/stock-count", "offered": "/offered"}
LINKED |= {"spent": "/year"}


@dataclass(frozen=True)
class Kept:
    """A piece on a stack that went through the kiln, and what was read, spent, offered and counted; name: of the piece."""

    piece: str
    name: str


@pytest.fixture
def kept(hand: Hand, shop: Shop) -> Kept:
    piece, stack = shop.new_id(), shop.new_id()
    hand.write(PieceCounted(piece, "walnut_black", "", 0.0508, 2.4384, (0.3, 0.4)))
    spot = name_spot(hand, "Long shed").id
    build_stack(hand, StackBuilt(stack, "by the road", spot, ((piece,),), 0.01905, 0.4064))
    hand.write(MoistureRead(f"piece:{piece}", 0.123, ReadBy.PINS, Depth.CORE, wood_c=15.0, corrected=True))
    unload_kiln(hand, load_kiln(hand, "Brook", (), (piece,), "=first").id)
    hand.write(Spent(f"piece:{piece}", What.FLATTENING, 35_00, words="both faces"))
    hand.write(Spent(f"piece:{piece}", What.HOURS, hours=1.25))
    note_offer(hand, TreeOffered(shop.new_id(), species="white ash", girth_m=1.524, asked_cents=40_00, where="Mill lane 3"))
    [stands] = pieces_by_id(shop.book, [piece])
    see_tag(hand, begin_count(hand), stands.name)
    begin_count(hand, spot)
    return Kept(piece, stands.name)


def rows(person: Person, what: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(person.get(f"/{what}.csv").content.decode("utf-8-sig"), newline="")))


def of(row: dict[str, str], begins: str) -> str:
    return next(value for heading, value in row.items() if heading.startswith(begins))


def test_each_list_has_what_was_told(owner: Person, kept: Kept) -> None:
    """3/4 in stickers 16 in apart; 12.3 %, at 15 °C (59 °F) of the wood; a girth of 60 in; 35 and 1.25 hours."""
    [stack] = rows(owner, "stacks")
    assert (stack["stack"], stack["spot"]) == ("by the road", "Long shed")
    assert (of(stack, "stickers, thick"), of(stack, "stickers, apart")) == ("0.75", "16.0")
    [load] = rows(owner, "loads")
    assert (load["kiln"], load["state"], load["note"]) == ("Brook", "out", "'=first") and load["came out"] >= load["went in"] > ""
    [read] = rows(owner, "readings")
    assert (read["what"], read["moisture [% of dry mass]"], of(read, "wood [")) == (kept.name, "12.3", "59.0")
    assert (read["where in the thickness"], of(read, "put right")) == ("core", "yes")
    [offer] = rows(owner, "offered")
    assert (of(offer, "girth"), of(offer, "asked"), offer["where"]) == ("60.0", "40.0", "Mill lane 3")
    assert (offer["answer"], of(offer, "left, bad")) == ("not answered yet", "")
    money, hours = rows(owner, "spent")
    assert (money["went into"], money["for"], of(money, "money"), money["note"]) == (
        kept.name,
        "flattening",
        "35.0",
        "both faces",
    )
    assert (of(hours, "money"), hours["hours"]) == ("", "1.25")
    first, second = rows(owner, "stock-count")
    assert (first["where"], first["tag seen"], first["on a piece of the book"]) == ("the whole yard", kept.name, "yes")
    assert (second["where"], second["tag seen"], second["state"]) == ("Long shed", "", "goes on")


@pytest.mark.parametrize("what", [*ANYBODY, *OWN])
def test_each_is_linked_from_its_page_and_from_the_papers_and_the_shops_own_is_its_own(
    what: str, owner: Person, anybody: Person, kept: Kept
) -> None:
    assert owner.get(f"/{what}.xlsx").content.startswith(b"PK")
    for page in (LINKED[what], "/papers"):
        assert f'href="/{what}.csv"' in owner.get(page).text and f'href="/{what}.xlsx"' in owner.get(page).text
    assert anybody.get(f"/{what}.csv").status_code == (401 if what in OWN else 200)
    owner.send("/own-figures", {"do": "hide", "after": "/"})
    assert owner.get(f"/{what}.csv").status_code == (400 if what in OWN else 200)
    assert (f"/{what}.csv" in owner.get("/papers").text) == (what in ANYBODY)
