"""A market day in the app: what is taken along, sold, asked for, brought home; a buyer's page holds nothing of the shop's own."""

from __future__ import annotations

import json
import re
from base64 import urlsafe_b64decode
from typing import Any
from uuid import UUID, uuid4

import pytest

from waney.figures.json_out import Encoder
from waney.trade.costing import What
from waney.web.device import DEVICE
from waney.web.names_along import Run, runs
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.sales import Spent
from waney.yard.acts.settings import Setting
from waney.yard.book.looking import open_tasks, pieces
from waney.yard.book.selling_seen import leases, money_taken, promises, sales
from waney.yard.names import nth_code
from waney.yard.services import selling
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import name_spot
from waney.yard.services.settings import settle_for_shop

from .conftest import ROOT, Person

EXAMPLES = ROOT / "docs" / "examples"
TODAY, LATER = "2026-05-04", "2026-05-11"


@pytest.fixture
def walnut(hand: Hand, shop: Shop) -> list[str]:
    """Four pieces of walnut in the shed, 55 spent on the first and 400 asked for it."""
    for what, name in ((Setting.PRICES, "prices-shelf"), (Setting.TERMS, "terms-custom")):
        settle_for_shop(hand, what, (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    shed = name_spot(hand, "Shed").id
    made = [shop.new_id() for _ in range(4)]
    for n, piece in enumerate(made):
        hand.write(PieceCounted(piece, "black walnut", "", 0.0508, 2.4 + 0.1 * n, (0.40, 0.45), shed))
    hand.write(Spent(f"piece:{made[0]}", What.FLATTENING, 55_00))
    selling.price_piece(hand, made[0], 400_00)
    return made


def name_of(shop: Shop, piece: str) -> str:
    return next(each.name for each in pieces(shop.book) if each.id == piece)


def held(person: Person) -> Any:
    """What the page takes along."""
    found = re.search(r'<script type="application/json" id="holds">(.*?)</script>', person.get("/market").text, re.DOTALL)
    assert found is not None
    return json.loads(found[1])


def test_what_is_taken_along_is_sold_for_certain_and_the_day_says_what_it_came_to(
    owner: Person, helper: Person, shop: Shop, walnut: list[str]
) -> None:
    first, second, third, stays = walnut
    owner.get("/market")
    taken = owner.send(
        "/market",
        {
            "do": "take",
            "names": " ".join(name_of(shop, one) for one in (first, second, third)),
            "until": TODAY,
            "where": "Market in Alder Hollow",
        },
    )
    assert taken.status_code == 303
    refused = helper.send(f"/pieces/{first}/sale", {"do": "sell", "paid": "1"})
    assert refused.status_code == 422 and f"{name_of(shop, first)} was taken along" in refused.text
    refused = helper.send(f"/pieces/{first}/sale", {"do": "hold", "kept_for": "Bo", "until": LATER})
    assert refused.status_code == 422 and f"{name_of(shop, first)} was taken along" in refused.text
    assert owner.send("/market", {"do": "sell", "piece": first, "paid": "380", "buyer": "Ann", "by": "card"}).status_code == 303
    assert owner.send("/market", {"do": "ask", "name": name_of(shop, stays), "kept_for": "Bo", "until": LATER}).status_code == 303
    refused = owner.send("/market", {"do": "ask", "name": name_of(shop, stays), "kept_for": "Cy", "until": LATER})
    assert refused.status_code == 422 and f"{name_of(shop, stays)} is held for somebody" in refused.text
    ended = owner.send("/market", {"do": "close", "home": second})
    told = owner.get(ended.headers["location"]).text
    assert "$402.80" in told and "Card" in told  # 380 and 6 % of it
    assert "Came home" in told and "look for it" in told and name_of(shop, third) in told
    assert [lease.closed for lease in leases(shop.book)] == [True]


def test_what_cannot_be_taken_along_is_told_by_name_and_the_rest_may_go(
    owner: Person, shop: Shop, hand: Hand, walnut: list[str]
) -> None:
    selling.hold_for(hand, [walnut[0]], "Ann", LATER, 0)
    shed = next(each.spot for each in pieces(shop.book))
    owner.get("/market")
    asked = {"do": "take", "spot": shed, "until": TODAY}
    refused = owner.send("/market", asked)
    assert refused.status_code == 422 and f"{name_of(shop, walnut[0])} is held for somebody." in refused.text
    assert leases(shop.book) == ()
    assert owner.send("/market", {**asked, "do": "rest"}).status_code == 303
    assert set(leases(shop.book)[0].pieces()) == set(walnut[1:])


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"names": "AB-1-9"}, "check character"),
        ({"names": ""}, "Choose pieces"),
        ({"spot": "all", "until": ""}, "Until when?"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_taken(
    owner: Person, shop: Shop, walnut: list[str], fields: dict[str, str], said: str
) -> None:
    spot = {"spot": next(each.spot for each in pieces(shop.book))} if fields.get("spot") else {}
    answer = owner.send("/market", {"do": "take", "until": TODAY, **fields, **spot})
    assert answer.status_code == 422 and said in answer.text
    assert leases(shop.book) == ()


def test_the_page_that_goes_along_holds_what_a_buyer_may_see_and_no_floor(owner: Person, shop: Shop, walnut: list[str]) -> None:
    owner.get("/market")
    owner.send("/market", {"do": "take", "piece": walnut[0], "until": TODAY})
    answer = owner.get("/market")
    assert answer.headers["waney-keep"] == "yes"
    holds = held(owner)
    assert [(one["name"], one["asked_cents"]) for one in holds["along"]] == [(name_of(shop, walnut[0]), 400_00)]
    assert len(holds["others"]) == 3 and holds["device"] == owner.client.cookies[DEVICE]
    assert not any(own in answer.text for own in ("55.00", "432.00", "It has cost"))
    figures = {value for one in (*holds["along"], *holds["others"]) for value in one.values() if isinstance(value, int)}
    assert figures == {400_00}, "what is asked, and nothing that it has cost"


def test_of_a_large_yard_the_page_knows_the_names_alone_and_is_told_them_once(
    owner: Person, hand: Hand, walnut: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("waney.web.market_day.MOST_OTHERS", 1)
    selling.price_piece(hand, walnut[2], 300_00)
    owner.get("/market")
    owner.send("/market", {"do": "take", "piece": walnut[0], "until": TODAY})
    page = held(owner)
    assert (page["others"], page["names"]) == ([], []), "they are asked for when the page is there"
    answer = owner.get(page["more"])
    assert answer.headers["waney-keep"] == "yes"
    holds = page | answer.json()
    [known] = holds["others"]
    assert known["piece"] == walnut[2], "what has a price is asked for first"
    named = {piece for run in holds["names"] for piece in ids_in(run["ids"])}
    assert named | {known["piece"]} == set(walnut[1:])
    news = owner.get(f"/api/market?lease={holds['lease']}").json()
    assert (news["others"], news["names"]) == ([], [])
    assert {**news, "token": "", "others": holds["others"], "names": holds["names"]} == {**holds, "token": ""}


def test_with_nothing_along_a_browser_knows_the_yard_and_only_asks(owner: Person, shop: Shop, walnut: list[str]) -> None:
    owner.get("/market")
    for _ in range(2):  # pressed twice
        assert owner.send("/market", {"do": "nothing"}).status_code == 303
    assert len(leases(shop.book)) == 1
    holds = held(owner)
    assert holds["along"] == [] and {one["piece"] for one in holds["others"]} == set(walnut)
    sold = owner.send("/market", {"do": "sell", "piece": walnut[0], "paid": "40", "by": "cash"})
    assert sold.status_code == 422 and "only be asked for" in sold.text
    asked = owner.send("/market", {"do": "ask", "name": name_of(shop, walnut[0]), "kept_for": "Ann", "until": TODAY})
    assert asked.status_code == 303
    assert promises(shop.book, TODAY)[walnut[0]].called == "Ann"
    assert owner.send("/market", {"do": "close"}).status_code == 303
    assert [lease.closed for lease in leases(shop.book)] == [True]


def ids_in(run: str) -> list[str]:
    """What the page makes of it."""
    short = [run[start : start + 22] for start in range(0, len(run), 22)]
    return [str(UUID(bytes=urlsafe_b64decode(f"{one}=="))) for one in short]


def test_the_names_of_twenty_thousand_pieces_are_half_a_megabyte() -> None:
    """Forty to a log, every tenth no more. All of each of them was 3.5 MB."""
    some = [(nth_code(log), n, str(uuid4())) for log in range(500) for n in range(1, 45) if n % 10]
    some = some[:20_000]
    told = json.dumps([Encoder().encode(run, Run) for run in runs(some)])
    assert sum(len(ids_in(run.ids)) for run in runs(some)) == len(some)
    assert len(told) < 620_000


def queue(device: str, *acts: dict[str, Any]) -> str:
    listed = [
        {"id": str(uuid4()), "count": count, "happened_at": "2026-05-04T12:00:00+02:00", "act": act}
        for count, act in enumerate(acts, 1)
    ]
    return json.dumps({"format": "waney-commands/1", "device": device, "commands": listed})


def sold_away(piece: str, cents: int) -> dict[str, Any]:
    taxes = [{"name": "sales tax", "cents": cents // 10}]
    parts = [{"piece": piece, "cents": cents}]
    return {
        "kind": "sold-away",
        "sale": str(uuid4()),
        "pieces": parts,
        "on": TODAY,
        "paid_cents": cents + cents // 10,
        "taxes": taxes,
    }


def arrives(person: Person, *acts: dict[str, Any], device: str = "") -> None:
    headers = {"x-waney-token": person.token()}
    answer = person.client.post("/api/commands", content=queue(device or str(uuid4()), *acts), headers=headers)
    assert {each["came"] for each in answer.json()["commands"]} == {"written"}


def test_money_for_a_piece_that_is_gone_stands_first_and_another_is_taken_for_it(
    owner: Person, shop: Shop, hand: Hand, walnut: list[str]
) -> None:
    selling.sell_to(hand, [selling.PricedPiece(walnut[0], 390_00)], "Ann", TODAY)
    arrives(owner, sold_away(walnut[0], 100_00))
    week = owner.get("/").text
    said = week.index(f"Money was taken for {name_of(shop, walnut[0])}")
    assert said < week.index("in the yard") and week.count("Money was taken for") == 1
    assert "$110.00 was given back" in week and name_of(shop, walnut[1]) in week[said:]
    [sale] = [sale for sale in sales(shop.book) if sale.pieces[0].gone]
    form = f"/gone/{sale.id}/{walnut[0]}"
    assert owner.send(form, {"instead": walnut[1]}).status_code == 303
    assert money_taken(shop.book) == 390_00 + 110_00 and promises(shop.book, TODAY)[walnut[1]].kind == "sale"
    assert "Money was taken for" not in owner.get("/").text
    assert owner.send(form, {"instead": walnut[2]}).status_code == 404, "it was put right"


def test_money_for_a_piece_that_is_gone_is_given_back(owner: Person, shop: Shop, hand: Hand, walnut: list[str]) -> None:
    selling.sell_to(hand, [selling.PricedPiece(walnut[0], 390_00)], "Ann", TODAY)
    arrives(owner, sold_away(walnut[0], 100_00))
    [sale] = [sale for sale in sales(shop.book) if sale.pieces[0].gone]
    assert owner.send(f"/gone/{sale.id}/{walnut[0]}", {"do": "back"}).status_code == 303
    assert money_taken(shop.book) == 390_00 and promises(shop.book, TODAY)[walnut[0]].called == "Ann"
    assert "Money was taken for" not in owner.get("/").text


def test_the_week_names_whoever_asked_second_until_they_are_told(
    owner: Person, anybody: Person, shop: Shop, walnut: list[str]
) -> None:
    people = [str(uuid4()) for _ in range(2)]
    for person, called in zip(people, ("Ann", "Bo"), strict=True):
        arrives(
            owner,
            {"kind": "person-added", "person": person, "called": called},
            {"kind": "buys-here", "person": person},
            {"kind": "hold-asked", "hold": str(uuid4()), "person": person, "pieces": [walnut[0]], "until": LATER},
        )
    week = owner.get("/").text
    assert f"Bo asked for {name_of(shop, walnut[0])}. Ann was first." in week and "A hold was asked for" not in week
    assert re.search(r"\b(Ann|Bo)\b", anybody.get("/").text) is None  # a viewBox is nobody
    hold = re.search(r"/second/([0-9a-f-]+)", week)
    assert hold is not None
    owner.send(hold[0], {})
    assert "Ann was first" not in owner.get("/").text
    assert not [task for task in open_tasks(shop.book) if "hold" in task.words]


def test_what_a_phone_asked_for_on_the_way_is_answered_when_it_is_back(
    owner: Person, shop: Shop, hand: Hand, walnut: list[str]
) -> None:
    owner.get("/market")
    owner.send("/market", {"do": "take", "piece": walnut[0], "until": TODAY})
    selling.hold_for(hand, [walnut[1]], "Dee", LATER, 0)
    bo, device = str(uuid4()), owner.client.cookies[DEVICE]
    asked = [
        {"kind": "hold-asked", "hold": str(uuid4()), "person": bo, "pieces": [piece], "until": LATER} for piece in walnut[1:3]
    ]
    arrives(owner, {"kind": "person-added", "person": bo, "called": "Bo"}, *asked, device=device)
    [lease] = leases(shop.book)
    told = owner.get(f"/api/market?lease={lease.id}").json()
    assert {one["hold"]: one["refused"] for one in told["requests"]} == {asked[0]["hold"]: "Dee was first.", asked[1]["hold"]: ""}
    day = owner.get(f"/market/{lease.id}").text
    assert "not kept</strong>. Dee was first." in day and "kept until" in day


def test_a_selling_day_and_wishes_name_no_buyer_to_whoever_is_not_signed_in_or_looks_on(
    owner: Person, anybody: Person, shop: Shop, walnut: list[str]
) -> None:
    owner.get("/market")
    owner.send("/market", {"do": "take", "piece": walnut[0], "until": TODAY})
    owner.send("/market", {"do": "sell", "piece": walnut[0], "paid": "380", "buyer": "Ann Voss", "by": "card"})
    owner.send("/wishes", {"who": "Ann Voss", "species": "black walnut", "most_thickness": "3", "until": LATER})
    [lease] = leases(shop.book)
    pages = (f"/market/{lease.id}", "/wishes")

    def named(person: Person) -> list[str]:
        return [page for page in pages if "Ann Voss" in person.get(page).text]

    assert named(owner) == list(pages) and "$402.80" in owner.get(pages[0]).text
    assert named(anybody) == [] and "$402.80" not in anybody.get(pages[0]).text
    assert anybody.get(f"/api/market?lease={lease.id}").status_code == 401
    owner.send("/own-figures", {"do": "hide", "after": "/"})
    assert named(owner) == [] and "Show our own again" in owner.get(pages[0]).text
