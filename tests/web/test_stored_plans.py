"""What stored plans still tell: where a piece lay in its log; which plan is chosen, though it is not among those offered."""

from __future__ import annotations

import io
import json
import zipfile
from functools import cache

import pytest
from tests.papers.conftest import through_case

from waney.figures.json_out import Encoder
from waney.sawing.plan_file import write_plan
from waney.web.asked.kinds import PLACE
from waney.web.asked.packing import as_bytes
from waney.web.asked.place import PlaceAsked
from waney.web.asked.plan import PlanAnswer, PlanShown
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.mill import AtTheMill, CameOff, Happened
from waney.yard.book import jobs
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.mill import open_day

from .conftest import ROOT, Person


@cache
def demo(sheet: str) -> str:
    return (ROOT / "src" / "waney" / "data" / "demo" / f"{sheet}.toml").read_text("utf-8")


@pytest.fixture
def planned(hand: Hand) -> tuple[str, str]:
    """A log and a plan of it. The plan was made by hand for another log: only its cuts count here."""
    log = add_log(hand, NewLog(demo("log"))).id
    sheets = {name: demo(name) for name in ("log", "mill", "wants")}
    return log, keep_plan(hand, log, 1, write_plan(through_case().plan, sheets)).id


def asked_of(shop: Shop) -> PlaceAsked:
    """What the page asks the worker."""
    job = jobs.take(shop.book, tuple(KINDS), "here", shop.now())
    assert job is not None
    assert job.kind == PLACE
    drawn = KINDS[job.kind](shop.book.files.read(job.input), lambda *_: None)
    jobs.finish(shop.book, job.id, "here", drawn, shop.now())
    return PlaceAsked(**json.loads(shop.book.files.read(job.input)))


def test_a_piece_is_drawn_in_its_log_as_it_was_sawn(owner: Person, shop: Shop, hand: Hand, planned: tuple[str, str]) -> None:
    log, plan = planned
    piece = shop.new_id()
    hand.write(CameOff(piece, "", log, plan, cut=4, height_m=0.4, thickness_m=0.05))
    assert "stands in line" in owner.get(f"/pieces/{piece}").text
    asked = asked_of(shop)
    assert (asked.cut, asked.height_m, asked.thickness_m) == (4, 0.4, 0.05)
    page = owner.get(f"/pieces/{piece}").text
    assert "<svg" in page
    assert "Butt end" in page
    assert "told at the mill" in page
    assert as_bytes(asked) == as_bytes(PlaceAsked(asked.plan, asked.name, 4, 0.4, 0.05, asked.metric))


def test_a_log_that_was_clamped_again_is_drawn_by_its_plan(
    owner: Person, shop: Shop, hand: Hand, planned: tuple[str, str]
) -> None:
    log, plan = planned
    day = open_day(hand, "2026-05-04").id
    first, later = shop.new_id(), shop.new_id()
    hand.write(CameOff(first, day, log, plan, cut=3, height_m=0.45, thickness_m=0.05))
    hand.write(AtTheMill(Happened.CLAMPED_AGAIN, day, log, pith_m=(0.3, 0.31)))
    hand.write(CameOff(later, day, log, plan, cut=4, height_m=0.4, thickness_m=0.05))
    owner.get(f"/pieces/{first}")
    assert asked_of(shop).height_m == 0.45
    owner.get(f"/pieces/{later}")
    assert asked_of(shop).height_m is None
    assert "told at the mill" not in owner.get(f"/pieces/{later}").text


def test_without_a_log_or_a_plan_the_place_is_said_to_be_unknown(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/pieces/count", {"species": "cherry", "thickness": "2"})
    log, piece = add_log(hand, NewLog(demo("log"))).id, shop.new_id()
    hand.write(CameOff(piece, "", log))
    assert "sawn without a plan" in owner.get(f"/pieces/{piece}").text
    (counted,) = [one for one in owner.get("/pieces").text.split('href="/pieces/')[1:] if not one.startswith(("count", piece))]
    assert "Log not known" in owner.get("/pieces/" + counted.split('"')[0]).text
    assert jobs.take(shop.book, tuple(KINDS), "here", shop.now()) is None


# the chosen plan, where it is not among those offered


def test_the_plans_page_says_which_plan_is_chosen_before_any_is_offered(
    owner: Person, shop: Shop, hand: Hand, planned: tuple[str, str]
) -> None:
    log, plan = planned
    assert "Chosen to saw by" not in owner.get(f"/logs/{log}/plans").text
    choose_plan(hand, log, plan, 1)
    page = owner.get(f"/logs/{log}/plans").text
    assert "Chosen to saw by: <strong>through</strong>, made for the log sheet as it stands" in page
    owner.send(f"/logs/{log}/found", {"found_kind": "metal", "found_distance": "30", "found_clock": "3"})
    assert "made for an earlier sheet of this log" in owner.get(f"/logs/{log}/plans").text
    page = owner.get(f"/logs/{log}").text
    assert "The chosen plan was made for an earlier sheet" in page
    assert "mark it on the bark" in page


def test_a_chosen_plan_that_is_not_among_those_offered_is_named_above_them(
    owner: Person, shop: Shop, hand: Hand, planned: tuple[str, str]
) -> None:
    log, plan = planned
    choose_plan(hand, log, plan, 1)
    owner.send("/settings", {"mill": demo("mill"), "wants": demo("wants")})
    owner.get(f"/logs/{log}/plans")
    job = jobs.take(shop.book, tuple(KINDS), "here", shop.now())
    assert job is not None
    jobs.finish(shop.book, job.id, "here", an_answer(), shop.now())
    page = owner.get(f"/logs/{log}/plans").text
    assert "not among those offered now" in page
    assert "<strong>chosen</strong>" not in page


def an_answer() -> bytes:
    """What the planner could answer: one plan, with drawings that only their names are real of."""
    answer = PlanAnswer((PlanShown("cant", "cant", 3, 100),), (("", "cant"), ("pieces", "3")))
    files = {"answer.json": json.dumps(Encoder().encode(answer, PlanAnswer)), "1.plan.json": "{}", "1.svg": "<svg></svg>"}
    files |= {"1.solid.json": "{}", "1.apart.json": "[]"}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as into:
        for name, text in files.items():
            into.writestr(name, text)
    return out.getvalue()
