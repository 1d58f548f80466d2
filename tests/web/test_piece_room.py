"""A piece and its room: told on its page, settled for the shop, worked out by a job, with the readings it stands on."""

from __future__ import annotations

import pytest

from waney.web.asked.kinds import ROOM
from waney.web.asked.packing import read_back
from waney.web.asked.room import RoomAnswer
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import count_piece
from waney.yard.services.settings import settle_for_shop

from .at_work import worked
from .conftest import Person


@pytest.fixture
def piece(hand: Hand, shop: Shop) -> str:
    ident = shop.new_id()
    count_piece(hand, PieceCounted(ident, "walnut_black", "", 0.0508, 2.4, (0.3, 0.4)))
    return ident


def read(hand: Hand, piece: str, shell: float, core: float) -> None:
    for depth, mc in ((Depth.SHELL, shell), (Depth.CORE, core)):
        hand.write(MoistureRead(f"piece:{piece}", mc, ReadBy.PINS, depth, corrected=True))


def test_nothing_is_known_until_it_is_read_and_until_the_place_is_told(owner: Person, hand: Hand, piece: str) -> None:
    assert "no moisture was read of it" in owner.get(f"/pieces/{piece}").text
    read(hand, piece, 0.08, 0.12)
    assert "tell the place where it will live" in owner.get(f"/pieces/{piece}/room").text


def test_the_page_says_how_long_by_which_readings_and_in_which_room(owner: Person, shop: Shop, hand: Hand, piece: str) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    read(hand, piece, 0.08, 0.12)
    assert "being worked out" in owner.get(f"/pieces/{piece}").text
    answer = read_back(worked(shop, ROOM), RoomAnswer)
    # a summer lies before it, in which the room is at 11 %
    assert answer.verdict.startswith("Not ready for a room at Madison, WI: back in the kiln, in this room it would take about")
    page = owner.get(f"/pieces/{piece}/room").text
    assert answer.verdict in page and "core read on 4 May 2026" in page and "kept at 70 F" in page
    assert answer.verdict in owner.get(f"/pieces/{piece}").text


def test_a_room_of_its_own_takes_the_place_of_the_shops_and_stands_in_the_seasons_form(
    owner: Person, shop: Shop, hand: Hand, piece: str
) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    read(hand, piece, 0.08, 0.12)
    told = {"place": "Phoenix, AZ", "indoors": "76, 76, 78, 76", "highest": "45"}
    assert owner.send(f"/pieces/{piece}/room", told).status_code == 303
    owner.get(f"/pieces/{piece}/room")
    answer = read_back(worked(shop, ROOM), RoomAnswer)
    assert "Phoenix, AZ" in answer.verdict
    assert any("76 F, 76 F, 78 F, 76 F, at most 45 % humid" in one.basis for one in answer.figures)
    seasons = owner.get(f"/pieces/{piece}/seasons").text
    assert 'value="76 F, 76 F, 78 F, 76 F"' in seasons and "<option selected>Phoenix, AZ" in seasons
    slip = owner.send(f"/pieces/{piece}/room", {**told, "indoors": "900 F"})
    assert slip.status_code == 422 and "none for people" in slip.text


def test_rooms_are_settled_once_for_the_shop(owner: Person, shop: Shop, piece: str) -> None:
    settled = {"units": "mm", "place": "Madison WI", "room": "20, 21, 25, 21", "room_highest": "50"}
    assert owner.send("/settings", settled).status_code == 303
    assert shop.settled()[Setting.ROOM] == "20 C, 21 C, 25 C, 21 C"
    assert 'value="20 C, 21 C, 25 C, 21 C"' in owner.get(f"/pieces/{piece}/room").text
    assert owner.send("/settings", {**settled, "room": "lukewarm"}).status_code == 422
