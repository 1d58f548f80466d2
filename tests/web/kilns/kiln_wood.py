"""Oak and ash on a stack, two kilns, and a load handed over: what pages of kiln loads are tested on."""

from __future__ import annotations

from tests.web.conftest import Person
from tests.web.test_papers import words

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy, StackBuilt
from waney.yard.book.looking import pieces
from waney.yard.services.hand import Hand
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack, read_moisture

KILNS = """format = "waney-kilns/1"
units = "in"
[[kiln]]
name = "shed kiln"
length = "10 ft"
width = 48
height = 44
bears = "6000 lb"
[[kiln]]
name = "plate kiln"
whose = "Bo"
fee = "by the board foot"
length = "12 ft"
width = 52
height = 40
bears = "8000 lb"
heat = "plates"
[kiln.plates]
at = "140 F"
pressure = "70 mbar"
"""

METER = """format = "waney-meter/1"
units = "in"
made_for = "20 C"
[[wood]]
species = "white ash"
reads = [7, 12, 20]
is = [9, 14, 22]
"""


def words_of(pdf: bytes) -> str:
    return " ".join(words(pdf).split())


def boards_of(hand: Hand, shop: Shop) -> list[str]:
    """Three of oak, two of ash, one that nobody measured."""
    idents = [shop.new_id() for _ in range(6)]
    for at, ident in enumerate(idents):
        wood, thick, long = ("northern red oak", 0.054, 2.4) if at < 3 else ("white ash", 0.0286, 2.1)
        sizes = (thick, long, (0.2, 0.24)) if at < 5 else (None, None, ())
        hand.write(PieceCounted(ident, wood, "", *sizes))
    return idents


def stack_of(hand: Hand, shop: Shop, boards: list[str]) -> str:
    """All of them, each a layer."""
    ident = shop.new_id()
    build_stack(hand, StackBuilt(ident, "North", "", tuple((board,) for board in boards)))
    return ident


def names_of(shop: Shop) -> dict[str, str]:
    return {piece.id: piece.name for piece in pieces(shop.book)}


def named(shop: Shop, idents: list[str]) -> str:
    return ",".join(piece.name for piece in pieces(shop.book) if piece.id in idents)


def handed(owner: Person, shop: Shop, hand: Hand, boards: list[str]) -> str:
    """Four boards handed over to the plate kiln: where its page is."""
    settle_for_shop(hand, Setting.KILNS, KILNS)
    read_moisture(hand, MoistureRead(f"piece:{boards[0]}", 0.24, ReadBy.PINS, Depth.CORE))
    told = {"piece": boards[:4], "there": boards[:4], "kiln": "plate kiln", "fee": "by the board foot", "shell": "7", "core": "8"}
    told |= {"hottest": "140", "owner": "Ann", f"owner-{boards[3]}": "Cy", f"cracks-{boards[0]}": "butt end", "heat_treat": "yes"}
    answer = owner.send("/loads/hand-over", told)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])
