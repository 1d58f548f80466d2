"""Forms that come twice and that no other test of the pages sends (`Person.send` sends the first of each route twice)."""

from __future__ import annotations

import io
import zipfile
from typing import Any

import pytest
from tests.papers.conftest import through_case

from waney.sawing.plan_file import write_plan
from waney.web.asked.kinds import PLAN
from waney.web.asked.packing import as_bytes
from waney.web.asked.plan import PlanAnswer, PlanShown
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import StackBuilt
from waney.yard.acts.wishes import WishLeft
from waney.yard.book import jobs
from waney.yard.book.looking import last_event
from waney.yard.commands import Command, write_commands
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import open_day
from waney.yard.services.pieces import add_person, count_piece
from waney.yard.services.selling import take_along
from waney.yard.services.stacks import build_stack

from .conftest import NOW, Person, writes_nothing_more
from .test_stored_plans import demo

Forms = list[tuple[str, dict[str, str]]]


@pytest.fixture
def forms(shop: Shop, hand: Hand, owner: Person) -> Forms:
    """Where they go, and what stands in them, of a yard that has what they are about."""
    log, day = add_log(hand, NewLog(demo("log"), code="W")).id, open_day(hand, "2026-05-03").id
    on_stack, along, stack = (shop.new_id() for _ in range(3))
    for piece in (on_stack, along):
        count_piece(hand, PieceCounted(piece, "cherry"))
    build_stack(hand, StackBuilt(stack, "North", layers=((on_stack,),)))
    wish = shop.new_id()
    hand.write(WishLeft(wish, add_person(hand, "Kit").id, "2026-09-01", "cherry"))
    lease, phone = take_along(hand, [along], "2026-05-09").id, shop.new_id()
    tally = write_commands(phone, (Command(shop.new_id(), phone, 1, "", NOW.isoformat(), CameOff(shop.new_id(), day)),))
    return [
        ("/day/begin", {"log": log}),
        (f"/day/{day}/close", {}),
        (f"/logs/{log}/plans", {"plan": "1", "job": planned(shop), "seen": "1"}),
        (f"/logs/{log}/note", {"words": "split at the butt"}),
        (f"/market/{lease}", {"home": along}),
        ("/papers/printer", {"stock": "letter 4 x 2", "right": "1 mm"}),
        (f"/stacks/{stack}/weigh", {"weigh": on_stack}),
        ("/take-in", {"list": tally}),
        (f"/wishes/{wish}", {}),
    ]


def planned(shop: Shop) -> str:
    """A job that has answered with one plan."""
    job = jobs.ask(shop.book, shop.new_id(), PLAN, b"how", "1", NOW).id
    out, sheets = io.BytesIO(), {name: demo(name) for name in ("log", "mill", "wants")}
    with zipfile.ZipFile(out, "w") as files:
        files.writestr("answer.json", as_bytes(PlanAnswer(plans=(PlanShown("plan A", "through", 3, 0),))))
        files.writestr("1.plan.json", write_plan(through_case().plan, sheets))
    jobs.take(shop.book, [PLAN], "here", NOW)
    jobs.finish(shop.book, job, "here", out.getvalue(), NOW)
    return job


def test_forms_that_no_other_test_sends_write_once_too(owner: Person, shop: Shop, forms: Forms) -> None:
    for page, fields in forms:
        before, told = last_event(shop.book), {"token": owner.token(), "blank": shop.new_id(), **fields}

        def post(page: str = page, told: dict[str, str] = told) -> Any:
            return owner.client.post(page, data=told, follow_redirects=False)

        first = post()
        assert last_event(shop.book) > before, page
        writes_nothing_more(shop, post, first)
