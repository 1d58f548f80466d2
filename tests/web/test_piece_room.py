"""A piece and its room: told on its page, settled for the shop, worked out by a job, with the readings it stands on."""

from __future__ import annotations

import re

import pytest

from waney.drying.room_wait import SENSIBLE_WEEKS
from waney.web.asked.kinds import ROOM
from waney.web.asked.packing import read_back
from waney.web.asked.room import RoomAnswer
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book import jobs
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import count_piece
from waney.yard.services.settings import settle_for_shop

from .at_work import worked
from .conftest import Clock, Person


@pytest.fixture
def piece(hand: Hand, shop: Shop) -> str:
    ident = shop.new_id()
    count_piece(hand, PieceCounted(ident, "walnut_black", "", 0.0508, 2.4, (0.3, 0.4)))
    return ident


def read(hand: Hand, piece: str, shell: float, core: float) -> None:
    for depth, mc in ((Depth.SHELL, shell), (Depth.CORE, core)):
        hand.write(MoistureRead(f"piece:{piece}", mc, ReadBy.PINS, depth, corrected=True))


def in_the_kiln_by_its_weeks(answer: RoomAnswer) -> bool:
    """Whether the wait that is told is longer than a room is asked to do a kiln's work."""
    weeks = next(one.says for one in answer.figures if one.what == "Until its core has come there")
    likely = re.match(r"([0-9]+) weeks", weeks)
    assert likely is not None, weeks
    return int(likely[1]) > SENSIBLE_WEEKS


def test_nothing_is_known_until_it_is_read_and_until_the_place_is_told(owner: Person, hand: Hand, piece: str) -> None:
    assert "no moisture was read of it" in owner.get(f"/pieces/{piece}").text
    read(hand, piece, 0.08, 0.12)
    assert "tell the place where it will live" in owner.get(f"/pieces/{piece}/room").text


@pytest.mark.parametrize(("days", "read_on"), [(0, "4 May 2026"), (150, "1 October 2026")])
def test_the_page_says_how_long_by_which_readings_and_in_which_room(
    owner: Person, shop: Shop, hand: Hand, piece: str, clock: Clock, days: int, read_on: str
) -> None:
    clock.wait(days * 86_400.0)
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    read(hand, piece, 0.08, 0.12)
    assert "being worked out" in owner.get(f"/pieces/{piece}").text
    answer = read_back(worked(shop, ROOM), RoomAnswer)
    said = "back in the kiln" if in_the_kiln_by_its_weeks(answer) else "let it lie there on stickers"
    assert answer.verdict.startswith(f"Not ready for a room at Madison, WI: {said}")
    page = owner.get(f"/pieces/{piece}/room").text
    assert answer.verdict in page and f"core read on {read_on}" in page and "kept at 70 F" in page
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
    page = owner.get(f"/pieces/{piece}/room").text
    assert "Nothing: 20 C, 21 C, 25 C, 21 C, as in the shop" in page and "as the shop settled it: Madison, WI<" in page
    assert owner.send("/settings", {**settled, "room": "lukewarm"}).status_code == 422


def test_a_piece_of_which_the_place_alone_was_told_follows_the_rooms_of_the_shop(owner: Person, shop: Shop, piece: str) -> None:
    form = owner.get(f"/pieces/{piece}/room").text
    assert 'name="indoors" type="text" value=""' in form and 'name="highest" type="text" value=""' in form
    assert owner.send(f"/pieces/{piece}/room", {"place": "Phoenix, AZ", "indoors": "", "highest": ""}).status_code == 303
    assert owner.send("/settings", {"units": "in", "room": "75"}).status_code == 303
    seasons = owner.get(f"/pieces/{piece}/seasons").text
    assert 'value="75 F"' in seasons and "<option selected>Phoenix, AZ" in seasons


def test_the_usual_room_is_told_in_the_degrees_of_the_shop(owner: Person, hand: Hand) -> None:
    assert "Nothing: 70 F." in owner.get("/settings").text
    settle_for_shop(hand, Setting.UNITS, "mm")
    assert "Nothing: 21 C." in owner.get("/settings").text


def test_what_could_not_be_worked_out_is_said_and_not_waited_for(owner: Person, shop: Shop, hand: Hand, piece: str) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    read(hand, piece, 0.08, 0.12)
    pages = (f"/pieces/{piece}", f"/pieces/{piece}/room")
    assert all("being worked out" in owner.get(page).text for page in pages)
    job = jobs.take(shop.book, KINDS, "here", shop.now())
    assert job is not None and job.kind == ROOM
    jobs.fail(shop.book, job.id, "here", "No such place is known.", shop.now())
    for page in pages:
        text = owner.get(page).text
        assert "No such place is known." in text and "being worked out" not in text, page
    assert jobs.take(shop.book, KINDS, "here", shop.now()) is None, "looking asks nothing again"
    again = {"headers": {"referer": f"{owner.client.base_url}{pages[1]}"}, "follow_redirects": False}
    told = owner.client.post(f"/jobs/{job.id}/again", data={"token": owner.token()}, **again)
    assert told.headers["location"] == pages[1] and f'action="/jobs/{job.id}/again"' in text
    assert all("being worked out" in owner.get(page).text for page in pages)
