"""Somebody's logs in the app, from the logs to the invoice: customers read no figure of the sawyer's own, others no name."""

from __future__ import annotations

import re

import pytest

from waney.trade.way_paid import How
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.acts.settings import Setting
from waney.yard.book.custom_seen import custom_at, customs
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import pieces
from waney.yard.services.custom import CustomJob, agree, ask_custom, seen_of
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.settings import settle_for_shop

from .conftest import ROOT, Person
from .test_papers import work
from .test_sale_paper import words

TERMS = (ROOT / "docs" / "examples" / "terms-custom.toml").read_text(encoding="utf-8")
OAK = (
    'format = "waney-log/1"\nunits = "in"\nspecies = "white oak"\nlength = "8 ft"\n[butt]\ndiameter = 15\n[top]\ndiameter = 14\n'
)
ASH = 'format = "waney-log/1"\nunits = "m"\nspecies = "white ash"\nlength = 2.5\n[butt]\ndiameter = 0.4\n'
OWN = ("true hour", "An hour must earn", "$60.00")


@pytest.fixture
def logs_of(hand: Hand) -> tuple[str, str]:
    settle_for_shop(hand, Setting.TERMS, TERMS)
    return add_log(hand, NewLog(OAK, "HA")).id, add_log(hand, NewLog(ASH, "HB")).id


@pytest.fixture
def custom(hand: Hand, logs_of: tuple[str, str]) -> str:
    return ask_custom(hand, "Hal", logs_of).id


def saw(hand: Hand, logs_of: tuple[str, str]) -> None:
    """Three boards of 1 1/8 x 12 in x 8 ft a log: as sawn 9 board feet each."""
    for log in logs_of:
        for order in range(3):
            act = CameOff(hand.new_id(), "", log, order=order, thickness_m=0.028575, length_m=2.4384, widths_m=(0.3048, 0.3048))
            hand.write(act)


def agreed(hand: Hand, custom: str, how: How) -> None:
    agree(hand, custom, how, "2026-05-04", seen_of(CustomJob.of(hand.book, custom), hand.book))


def test_what_went_into_a_customers_log_is_refused_with_a_sentence(owner: Person, custom: str, logs_of: tuple[str, str]) -> None:
    told = owner.send(f"/logs/{logs_of[0]}/earned", {"do": "spent", "hours": "2"})
    assert told.status_code == 400 and "belongs on the invoice" in told.text


def test_from_the_logs_to_the_paid_invoice(owner: Person, shop: Shop, hand: Hand, logs_of: tuple[str, str]) -> None:
    made = owner.send("/custom", {"called": "Hal", "log": list(logs_of), "way": "20", "hours": "0.5"})
    page = made.headers["location"]
    assert (
        "quote it, and agree on one way" in owner.get(page).text
        and "The quote is being worked out" in owner.get(f"{page}/quote").text
    )
    work(shop)
    quote = owner.get(f"{page}/quote").text
    assert all(own in quote for own in OWN) and "the rules read 14 in at the small end inside bark, 8 ft" in quote
    seen = re.search(r'name="seen" value="([0-9 ]+)"', quote)
    assert seen is not None
    told = owner.send(f"{page}/quote", {"how": "by the board foot", "seen": seen[1]})
    assert told.status_code == 303
    agreement = owner.get(f"{page}/agreement").text
    assert "A board foot costs $0.45, counted by International 1/4-inch and by no other rule." in agreement
    assert "spoilt by metal in a log costs the customer $35.00" in agreement and "not legal advice" in agreement
    saw(hand, logs_of)
    fields = {f"hours-{log}": hours for log, hours in zip(logs_of, ("0.5", "0,75"), strict=True)}
    assert owner.send(f"{page}/tally", fields).status_code == 303
    tally = owner.get(f"{page}/tally").text
    assert tally.count("9.0") >= 6 and "0.75 hours" in tally and "27.0 board feet" in tally
    ident = page.split("/")[2]
    assert "As it would be written now" in owner.get(f"{page}/invoice").text
    assert owner.send(f"{page}/invoice", {"do": "bill"}).status_code == 303
    stands = custom_at(shop.book, ident)
    assert stands.bill is not None and f"{stands.bill.total_cents / 100:.2f}" in owner.get(f"{page}/invoice").text
    assert (
        owner.send(f"{page}/invoice", {"do": "paid", "paid": f"{stands.bill.total_cents / 100:.2f}", "by": "check"}).status_code
        == 303
    )
    assert custom_at(shop.book, ident).owed_cents == 0 and "paid" in owner.get(page).text
    sheet = words(owner.get(f"{page}/invoice.pdf").content)
    assert (
        "Invoice 1" in sheet
        and "for Hal" in sheet
        and f"${stands.bill.total_cents / 100:.2f}" in sheet
        and "rounded half up" in sheet
    )


def test_a_customer_who_looks_reads_nothing_of_the_sawyers_own(
    owner: Person, anybody: Person, shop: Shop, hand: Hand, custom: str, logs_of: tuple[str, str]
) -> None:
    owner.get(f"/custom/{custom}/quote")
    work(shop)
    agreed(hand, custom, How.HOUR)
    saw(hand, logs_of)
    assert "true hour" in owner.get(f"/custom/{custom}/quote").text
    for page in (
        f"/custom/{custom}/quote?for=customer",
        *(f"/custom/{custom}/{of}" for of in ("agreement", "tally", "invoice", "overrun")),
    ):
        assert not any(own in owner.get(page).text for own in OWN), page
    owner.send("/own-figures", {"do": "hide", "after": "/"})
    looked_on = owner.get(f"/custom/{custom}/quote").text
    assert not any(own in looked_on for own in OWN) and "Show our own again" in looked_on
    owner.send("/own-figures", {"do": "show", "after": "/"})
    papers = [owner.get(f"/custom/{custom}/{of}.pdf").content for of in ("quote", "agreement", "tally")]
    assert [own for paper in papers for own in OWN if own in words(paper)] == []
    assert all("Hal" in words(paper) for paper in papers)
    for of in ("", "/quote", "/agreement", "/tally", "/invoice", "/overrun"):
        seen = anybody.get(f"/custom/{custom}{of}").text
        assert "Hal" not in seen and not any(own in seen for own in OWN), of
    assert "Hal" not in anybody.get("/custom").text and "Hal" not in words(anybody.get(f"/custom/{custom}/agreement.pdf").content)


def test_shares_are_parted_on_the_page_and_the_paper_says_what_stays(
    owner: Person, hand: Hand, shop: Shop, custom: str, logs_of: tuple[str, str]
) -> None:
    agreed(hand, custom, How.SHARES)
    saw(hand, logs_of)
    page = f"/custom/{custom}/tally"
    assert "as it would be parted log by log" in owner.get(page).text
    kept = re.findall(r'name="piece" value="([0-9a-f-]+)" checked', owner.get(page).text)
    assert len(kept) == 3  # 50 % of 27 is 13.5: one of three; of both logs 27 less 9: two more
    assert owner.send(page, {"do": "part", "piece": kept}).status_code == 303
    assert custom_at(shop.book, custom).kept == frozenset(kept)
    sheet = words(owner.get(f"/custom/{custom}/tally.pdf").content)
    assert sheet.count("stays with the sawyer") == 3
    assert "27.0 of 54.0 board feet tallied are yours" in owner.get(f"/custom/{custom}/invoice").text


def test_agreeing_anew_shows_the_same_wood_by_both_rules(
    owner: Person, hand: Hand, custom: str, logs_of: tuple[str, str]
) -> None:
    agreed(hand, custom, How.BOARD_FOOT)
    saw(hand, logs_of)
    page = f"/custom/{custom}/agreement"
    shown = owner.get(page).text
    assert "54 by tally of what was sawn" in shown
    seen = re.search(r'name="seen" value="([0-9]+)"', shown)
    assert seen is not None
    missing = owner.send(page, {"by": "Doyle", "seen": seen[1]})
    assert missing.status_code == 422 and "What does a board foot cost by the new rule?" in missing.text
    assert owner.send(page, {"by": "tally of what was sawn", "rate": "0.40", "seen": seen[1]}).status_code == 303
    assert "Agreed anew: 0.4 a board foot by tally" in owner.get(f"/custom/{custom}/invoice").text
    assert "Agreed anew" in words(owner.get(f"{page}.pdf").content)


def test_a_log_of_theirs_is_booked_in_from_their_page(owner: Person, shop: Shop, custom: str) -> None:
    assert f'name="custom" value="{custom}"' in owner.get(f"/logs/new?custom={custom}").text
    told = {"custom": custom, "species": "black cherry", "length": "8 ft", "top_diameter": "12"}
    assert owner.send("/logs/new", told).headers["location"] == f"/custom/{custom}"
    assert len(custom_at(shop.book, custom).logs) == 3
    new = logs(shop.book)[-1]
    assert "It is a customer" in owner.get(f"/logs/{new.id}").text and "a customer" in owner.get("/logs").text


def test_what_is_missing_is_said_on_the_same_page(owner: Person, helper: Person, shop: Shop, custom: str) -> None:
    wrong = owner.send("/custom", {"called": "", "way": "far"})
    assert wrong.status_code == 422 and "Whose logs are they?" in wrong.text and 'id="way-wrong"' in wrong.text
    assert "Nothing is agreed yet" in owner.get(f"/custom/{custom}/invoice").text
    assert helper.send(f"/custom/{custom}/quote", {"how": "on shares", "seen": "1"}).status_code == 403
    assert owner.send(f"/custom/{custom}/quote", {"how": "on shares", "seen": "1"}).status_code == 422
    assert owner.send(f"/custom/{custom}/invoice", {"do": "bill"}).status_code == 422
    assert owner.get(f"/custom/{custom}/invoice.pdf").status_code in (400, 409, 422)
    assert owner.get(f"/custom/{custom}/tally.pdf").status_code in (400, 409, 422)
    assert owner.send(f"/custom/{custom}", {"do": "end", "words": "they burnt them"}).status_code == 303
    assert [one.ended for one in customs(shop.book)] == [True] and pieces(shop.book) == ()
