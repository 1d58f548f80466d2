"""A rough plan: four readings become a log and a plan that the independent checker accepts, and lead to the mill."""

from __future__ import annotations

import json
import re
from time import process_time

import pytest

from waney.sawing.check.check import check_plan
from waney.sawing.plan_file import read_plan
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern
from waney.web.asked.kinds import ROUGH
from waney.web.asked.packing import as_bytes
from waney.web.asked.plan import PlanAsked, Planned
from waney.web.asking import KINDS
from waney.web.rough_form import Rough, Round, mill_sheet
from waney.web.shop import Shop
from waney.web.works.planning import plan_log
from waney.yard.book import jobs
from waney.yard.book.chosen import chosen_plan
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import plan_file

from .conftest import Person

TYPED = {"species": "white oak", "across": "18", "length": "8 ft", "thickness": "2"}
SOON_S = 5.0
"""what a warm worker may take, by its own clock: how busy the machine is otherwise does not count"""


@pytest.mark.parametrize(
    "rough",
    [
        Rough("white oak", "18", Round.DIAMETER, "8 ft", "8/4", "in"),
        Rough("black walnut", "140 cm", Round.GIRTH, "2.6 m", "54", "mm"),
    ],
    ids=lambda rough: str(rough.measured),
)
def test_the_checker_accepts_the_plan_and_it_is_there_in_time(rough: Rough) -> None:
    asked = as_bytes(rough.asked("", "2026-05-04"))
    plan_log(asked, lambda *_: None)  # what a warm worker has loaded
    began = process_time()
    planned = Planned(plan_log(asked, lambda *_: None))
    took = process_time() - began
    assert planned.answer.sentence == "" and [one.pattern for one in planned.answer.plans] == [Pattern.THROUGH]
    plan, sheets = read_plan(planned.text("1.plan.json"))
    prepared = ready(sheets)
    bench, wood = prepared.bench, prepared.bench.log.shrinking
    verdict = check_plan(
        plan, bench.log.shape, bench.mill, bench.wants, (wood.radial, wood.tangential), hardwood=bench.log.hardwood
    )
    assert verdict.accepted, verdict
    assert len(plan.pieces) > 3 and {one.worth.product for one in plan.pieces} == {"planks"}
    assert took < SOON_S, f"{took:.1f} s"


def answered(shop: Shop) -> PlanAsked:
    """The worker does what was asked."""
    job = jobs.take(shop.book, (ROUGH,), "here", shop.now())
    assert job is not None
    given = shop.book.files.read(job.input)
    jobs.finish(shop.book, job.id, "here", KINDS[ROUGH](given, lambda *_: None), shop.now())
    return PlanAsked(**json.loads(given))


def test_four_readings_lead_to_the_mill(owner: Person, helper: Person, shop: Shop) -> None:
    assert 'action="/day/rough"' in owner.get("/day").text
    began = owner.send("/day/rough", {**TYPED, "round": str(Round.DIAMETER)})
    assert began.status_code == 303
    address, [log] = began.headers["location"], logs(shop.book)
    day = address.split("/")[2]
    waits = owner.get(address).text
    assert "stands in line" in waits and "What was assumed" in waits and "Nobody described the mill" in waits
    asked = answered(shop)
    assert asked.log == log.sheet and asked.mill == mill_sheet("in")
    shown = owner.get(address).text
    assert "planks</strong>" in shown and "<svg" in shown and "look before each cut" in shown
    told = {"job": address.split("job=")[1], "seen": str(log.version)}
    assert helper.send(address, told).status_code == 403 and chosen_plan(shop.book, log.id) is None
    assert owner.send(address, told).headers["location"] == f"/day/{day}/at/{log.id}"
    chosen = chosen_plan(shop.book, log.id)
    assert chosen is not None and chosen.pattern == Pattern.THROUGH
    assert read_plan(plan_file(shop.book, chosen.id).decode("utf-8"))[1]["log"] == log.sheet
    assert owner.get(f"/day/{day}/at/{log.id}").status_code == 200


def test_a_form_that_is_sent_twice_makes_one_log_and_with_something_else_in_it_another(owner: Person, shop: Shop) -> None:
    blank = re.search(r'name="blank" value="([0-9a-f-]+)"', owner.get("/day").text)
    assert blank is not None
    sent = {**TYPED, "blank": blank[1]}
    assert owner.send("/day/rough", sent).headers["location"] == owner.send("/day/rough", sent).headers["location"]
    assert len(logs(shop.book)) == 1
    assert owner.send("/day/rough", {**sent, "across": "19"}).status_code == 303
    assert len(logs(shop.book)) == 2


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("species", ""),
        ("species", "not known"),
        ("across", ""),
        ("across", "wide"),
        ("length", ""),
        ("thickness", "8/0"),
        ("thickness", ""),
    ],
)
def test_what_is_missing_or_cannot_be_read_is_said_beside_it(owner: Person, shop: Shop, field: str, typed: str) -> None:
    answer = owner.send("/day/rough", {**TYPED, field: typed})
    assert answer.status_code == 422 and f'id="{field}-wrong"' in answer.text
    assert 'value="8 ft"' in answer.text or field == "length"
    assert logs(shop.book) == () and jobs.take(shop.book, (ROUGH,), "here", shop.now()) is None


def test_a_rough_plan_that_nobody_asked_for_is_said_so(owner: Person, shop: Shop) -> None:
    address = owner.send("/day/rough", TYPED).headers["location"]
    assert "No rough plan was asked for here" in owner.get(address.split("?")[0]).text
    job = address.split("job=")[1]
    assert "no rough plan of this log yet" in owner.send(address, {"job": job, "seen": "1"}).text
