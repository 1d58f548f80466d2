"""The list of commands that pages send: written once however often it is sent, answered one by one."""

from __future__ import annotations

import json
from typing import Any

import pytest

from waney.web.shop import Shop
from waney.yard.acts.every import Act
from waney.yard.acts.logs import PlanChosen
from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.book.book import Book
from waney.yard.book.looking import pieces
from waney.yard.commands import Command, Read, write_commands
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log

from .conftest import ROOT, Person

EXAMPLE = (ROOT / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")
HAPPENED = "2026-05-04T09:12:30+02:00"


def listed(shop: Shop, *acts: Act, read: tuple[Read, ...] = ()) -> str:
    device = shop.new_id()
    return write_commands(
        device, tuple(Command(shop.new_id(), device, n, "", HAPPENED, act, read) for n, act in enumerate(acts, 1))
    )


def post(person: Person, text: str | bytes, token: str | None = None) -> Any:
    headers = {"x-waney-token": person.token() if token is None else token, "content-type": "application/json"}
    return person.client.post("/api/commands", content=text, headers=headers)


def test_a_list_that_is_sent_twice_is_written_once(helper: Person, shop: Shop, book: Book) -> None:
    day = shop.new_id()
    text = listed(shop, DayOpened(day, "2026-05-04"), CameOff(shop.new_id(), day), CameOff(shop.new_id(), day))
    first, second = post(helper, text).json(), post(helper, text).json()
    assert [one["came"] for one in first["commands"]] == ["written"] * 3
    assert [one["came"] for one in second["commands"]] == ["written before"] * 3
    assert [one["seq"] for one in first["commands"]] == [one["seq"] for one in second["commands"]]
    assert len(pieces(book)) == 2


def test_one_command_that_cannot_be_read_stops_none_of_the_others(helper: Person, shop: Shop, book: Book) -> None:
    text = json.loads(listed(shop, CameOff(shop.new_id()), CameOff(shop.new_id())))
    text["commands"][0]["act"]["kind"] = "flew-off"
    answer = post(helper, json.dumps(text))
    assert answer.status_code == 200
    assert [one["came"] for one in answer.json()["commands"]] == ["cannot be read", "written"]
    assert "flew-off" in answer.json()["commands"][0]["sentence"]
    assert len(pieces(book)) == 1


@pytest.mark.parametrize("text", ["", "[]", "{", '{"format": "something-else/1"}', b"\xff\xfe", "[" * 100_000])
def test_what_is_no_list_is_told_in_a_sentence(helper: Person, text: str | bytes) -> None:
    answer = post(helper, text)
    assert answer.status_code == 400
    assert answer.json()["sentence"]


def test_who_is_not_signed_in_is_asked_to_and_loses_nothing(anybody: Person, shop: Shop, book: Book) -> None:
    answer = post(anybody, listed(shop, CameOff(shop.new_id())))
    assert (answer.status_code, answer.json()["sentence"]) == (401, "Sign in to send what waits here; nothing of it is lost.")
    assert pieces(book) == ()


def test_without_the_token_nothing_is_taken(helper: Person, shop: Shop, book: Book) -> None:
    assert post(helper, listed(shop, CameOff(shop.new_id())), token="").status_code == 403
    assert pieces(book) == ()


def test_a_page_that_was_open_gets_the_token_of_its_new_session(helper: Person, shop: Shop, book: Book) -> None:
    old = helper.token()
    helper.send("/sign-out")
    helper.signs_in("Jo")
    text = listed(shop, CameOff(shop.new_id()))
    assert post(helper, text, token=old).status_code == 403
    fresh = helper.client.get("/api/token").json()["token"]
    assert post(helper, text, token=fresh).status_code == 200
    assert len(pieces(book)) == 1


def test_decisions_in_a_list_are_the_owners(helper: Person, owner: Person, shop: Shop, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE)).id
    text = listed(shop, PlanChosen(log, shop.new_id()), read=(Read(f"log:{log}", 1),))
    assert post(helper, text).status_code == 403
    assert post(owner, text).json()["commands"][0]["came"] == "refused"  # there is no such plan
