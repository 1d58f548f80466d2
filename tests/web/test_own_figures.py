"""One press hides what is the shop's own from whoever looks on; nobody reads it who is not signed in."""

from __future__ import annotations

import io
from dataclasses import replace
from zipfile import ZipFile

import pytest

from waney.web.asked.figure import Figure
from waney.web.asked.kinds import PLAN
from waney.web.asked.packing import as_bytes
from waney.web.asked.plan import PlanAnswer, PlanShown
from waney.web.asked.waiting import LogWaits, WaitingAnswer
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.settings import Setting
from waney.yard.book import jobs
from waney.yard.book.around import buyers
from waney.yard.services.hand import Hand
from waney.yard.services.settings import settle_for_shop

from .conftest import Person
from .oak import Wood, our_own, wood_of
from .test_pages import MILL, WANTS


@pytest.fixture
def wood(hand: Hand, shop: Shop) -> Wood:
    return wood_of(hand, shop)


OF_PLAN, OF_WEEK = {"row": "leaves $512.34", "text": "worth $98.76"}, "of it $31.40"


def answer_jobs(shop: Shop, log: str) -> None:
    """Every job that waits is answered: a plan and a week of waiting, with money that is easy to find."""
    plan = PlanAnswer(
        (PlanShown("cant", "cant", 23, 100),),
        (("", "cant"), ("worth", OF_PLAN["row"])),
        (("", "cant"), ("pieces", "23 pieces of 1 plan")),
        text=OF_PLAN["text"],
    )
    plan = replace(plan, rows=(*plan.rows, plan.open_rows[1]))
    packed = io.BytesIO()
    with ZipFile(packed, "w") as files:
        for name, content in {"answer.json": as_bytes(plan), "1.plan.json": b"{}", "1.svg": b"<svg></svg>"}.items():
            files.writestr(name, content)
        files.writestr("1.solid.json", "{}")
        files.writestr("1.apart.json", "[]")
    row = LogWaits(log, "2 %", OF_WEEK, "it stains", (Figure("In money", OF_WEEK, own=True), Figure("Bark", "on")))
    week = WaitingAnswer((row,), shop.today().isoformat(), by_money=True, not_counted=(), remarks=()).as_bytes()
    while (job := jobs.take(shop.book, tuple(KINDS), "here", shop.now())) is not None:
        jobs.finish(shop.book, job.id, "here", packed.getvalue() if job.kind == PLAN else week, shop.now())


def test_one_press_hides_our_own_figures_on_every_selling_page_until_it_is_pressed_again(
    owner: Person, helper: Person, anybody: Person, hand: Hand, shop: Shop, wood: Wood
) -> None:
    first = f"/pieces/{wood.flitches[0]}/sale"
    owner.send(f"/pieces/{wood.flitches[2]}/sale", {"do": "hold", "kept_for": "Ann Voss", "until": "2026-05-11"})
    [ann] = buyers(shop.book)
    selling = ["/for-sale", first, *(f"/pieces/{one}/sale" for one in (*wood.flitches[1:], wood.board))]
    selling += ["/buyers", f"/buyers/{ann.id}", f"/pieces/{wood.flitches[0]}", "/for-sale?set=in+a+set+or+not&free=yes"]
    own = our_own(shop, wood)
    owner.send("/settings/costs", {"currency": "USD", "hourly": "61.17"})
    settle_for_shop(hand, Setting.MILL, MILL)
    settle_for_shop(hand, Setting.WANTS, WANTS)
    log = f"/logs/{wood.log}"
    selling += ["/settings/costs", "/settings", "/", "/logs", log, f"{log}/plans"]
    for page in ("/logs", log, f"{log}/plans"):
        owner.get(page)
    answer_jobs(shop, wood.log)
    of_logs = {"61.17", "paid = 45.00", "waney-prices/", "waney-mill/", *OF_PLAN.values(), OF_WEEK, "In money", "Height card"}

    def shown(person: Person) -> set[str]:
        served = "".join(person.get(page).text for page in selling)
        return {each for each in (*own, *of_logs, "has cost", "have cost", "Ann Voss", "prices sheet") if each in served}

    assert shown(owner) >= {"has cost", "have cost", "Ann Voss", "prices sheet"}
    assert len(shown(owner) & set(own)) > 6 and of_logs - shown(owner) == set()
    assert owner.send("/own-figures", {"do": "hide", "after": "/for-sale"}).status_code == 303
    assert shown(owner) == shown(anybody) == set()
    assert shown(owner) == set(), "it stays so"
    for person in (owner, anybody):
        assert "species = " in person.get(log).text and "23 pieces of 1 plan" in person.get(f"{log}/plans").text, "the rest stays"
    assert [person.get(f"{log}/plans/none/1/card.pdf").status_code for person in (owner, anybody)] == [400, 401]
    assert "Ann Voss" in shown(helper), "another browser goes on seeing them"
    assert owner.send(first, {"do": "sell", "paid": "400"}).status_code == 303, "selling goes on"
    assert "Our own figures" not in owner.get(first).text
    owner.send("/own-figures", {"do": "show", "after": "//elsewhere.test"})
    assert "Ann Voss" in shown(owner)


def test_a_press_leads_nowhere_else_and_needs_somebody_signed_in(owner: Person, anybody: Person) -> None:
    assert owner.send("/own-figures", {"do": "hide", "after": "//elsewhere.test"}).headers["location"] == "/"
    assert owner.send("/own-figures", {"do": "burn", "after": "/"}).status_code == 400
    assert anybody.send("/own-figures", {"do": "show", "after": "/"}).status_code == 401
