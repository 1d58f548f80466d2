"""Bark and ends told on the pages of a piece and of stacks: the page says it, forecast, load, papers and history count it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

import pytest

from waney.figures.scenarios import Scenarios
from waney.web.asked.load import LoadAnswer, LoadAsked, LotAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.loads_asked import AsItLies, alike, lots
from waney.web.ready import stack_asked
from waney.web.shop import Shop, writes
from waney.web.works import stacking
from waney.web.works.loading import plan_loads
from waney.yard.acts.drying import Shelter, StackStood
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book.looking import history, pieces_by_id
from waney.yard.book.stack_seen import stack_story
from waney.yard.services.drying import tell_how_it_stands
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import name_spot
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack
from waney.yard.sides import SidesStand

from .conftest import Person
from .kilns.kiln_wood import KILNS
from .test_papers import words
from .test_trade import work


@pytest.fixture
def mantels(hand: Hand, shop: Shop) -> list[str]:
    """Short, narrow, with live edges."""
    made = [shop.new_id() for _ in range(2)]
    for ident in made:
        hand.write(PieceCounted(ident, "white oak", thickness_m=0.054, length_m=0.6, widths_m=(0.10, 0.16)))
    return made


@pytest.fixture
def stack(hand: Hand, shop: Shop, mantels: list[str]) -> str:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    ident, shed = shop.new_id(), name_spot(hand, "Shed").id
    build_stack(hand, StackBuilt(ident, "Mantels", shed, (tuple(mantels),), 0.019, 0.4))
    tell_how_it_stands(hand, StackStood(ident, shelter=Shelter.ROOF, wanted_mc=0.2))
    return ident


def sides_of(shop: Shop, piece: str) -> SidesStand:
    return pieces_by_id(shop.book, [piece])[0].sides


def test_bark_and_ends_of_a_piece_are_told_on_its_page_and_stand_in_its_history(
    owner: Person, shop: Shop, mantels: list[str]
) -> None:
    page = f"/pieces/{mantels[0]}"
    assert owner.get(page).text.count("<dd>not told</dd>") >= 2
    assert owner.send(f"{page}/sides", {"bark": "off", "as_of": "2026-04-20"}).status_code == 303
    assert owner.send(f"{page}/sides", {"ends": "bare", "as_of": "2026-04-22"}).status_code == 303
    assert sides_of(shop, mantels[0]) == SidesStand("off", "2026-04-20", "bare", "2026-04-22")
    text = owner.get(page).text
    assert "<dd>off since 20 April 2026</dd>" in text and "<dd>bare since 22 April 2026</dd>" in text
    assert "ends bare, since 2026-04-22" in text and "bark off, since 2026-04-20" in text
    assert "bark off" in words(owner.get(f"{page}/history.pdf").content)
    owner.send(f"{page}/sides", {"bark": "not known"})
    assert sides_of(shop, mantels[0]) == SidesStand("", "", "bare", "2026-04-22")
    owner.send(f"{page}/sides", {})
    assert [one.kind for one in history(shop.book, f"piece:{mantels[0]}")].count("sides-told") == 3
    for slip in ({"bark": "off", "as_of": "spring"}, {"as_of": "2026-04-20"}):
        answer = owner.send(f"{page}/sides", slip)
        assert (answer.status_code, 'role="alert"' in answer.text) == (422, True)
    assert owner.send(f"{page}/sides", {"bark": "mossy"}).status_code == 400
    assert owner.send(f"/pieces/{shop.new_id()}/sides", {"bark": "on"}).status_code == 404


def test_what_is_told_of_a_whole_stack_changes_its_forecast_and_the_page_says_it(
    owner: Person, shop: Shop, mantels: list[str], stack: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stacking, "SCENARIOS", Scenarios(1, 16))
    owner.get(f"/stacks/{stack}")
    work(shop)
    before = owner.get(f"/stacks/{stack}").text
    assert "Nobody told whether bark is on, so it counts as on" in before and "Nobody told whether the ends are coated" in before
    assert owner.send(f"/stacks/{stack}/sides", {"bark": "off", "ends": "bare"}).status_code == 303
    owner.get(f"/stacks/{stack}")
    work(shop)
    after = owner.get(f"/stacks/{stack}").text
    assert "As told, bark is off; ends are bare." in after and "It dries by its edges and bare ends too" in after
    assert "Nobody told whether" not in after
    assert likely_day(after) < likely_day(before)
    owner.send(f"/pieces/{mantels[0]}/sides", {"bark": "on"})
    text = owner.get(f"/stacks/{stack}").text
    assert re.search(
        r"<dt>Bark</dt><dd>off since [^<]*: 1 of 2, on since [^<]*: 1 of 2|<dt>Bark</dt><dd>on[^<]*: 1 of 2, off", text
    )
    assert [one.known.bark_on for one in stack_asked(shop, stack_story(shop.book, stack)).pieces] == [True, False]
    assert re.search(r"<dt>Ends</dt><dd>bare since \d+ \w+ \d+</dd>", text)
    assert owner.send(f"/stacks/{stack}/sides", {"ends": "bare", "as_of": "today"}).status_code == 422


def likely_day(page: str) -> datetime:
    found = re.search(r"likely about (\d+ \w+ \d+): by its slowest", page)
    assert found is not None
    return datetime.strptime(found[1], "%d %B %Y")


def test_bark_and_ends_are_told_as_a_stack_is_built(owner: Person, shop: Shop, hand: Hand, mantels: list[str]) -> None:
    spot = name_spot(hand, "Rack").id
    form = {"called": "New", "spot": spot, "piece": mantels, "ends": "coated"}
    assert owner.send("/stacks/new", {**form, "as_of": "soon"}).status_code == 422 and not sides_of(shop, mantels[0]).ends
    assert owner.send("/stacks/new", form).status_code == 303
    assert [sides_of(shop, each).ends for each in mantels] == ["coated", "coated"]


def planned(lot: LotAsked) -> LoadAnswer:
    asked = LoadAsked(KILNS, "shed kiln", (replace(lot, moisture="22 to 28", target="8"),), True, "2026-05-04")
    return read_back(plan_loads(as_bytes(asked), lambda _share, _words: None), LoadAnswer)


def test_a_load_counts_what_was_told_and_plates_mind_bark_without_a_tick(shop: Shop, owner: Person, mantels: list[str]) -> None:
    def lot() -> LotAsked:
        (found,) = lots(shop.book, alike(pieces_by_id(shop.book, mantels), writes(shop.settled())), {}, AsItLies())
        return found

    untold = lot().pieces
    assert [(one.known.edges_open, one.bark) for one in untold] == [(False, False)] * 2
    for each in mantels:
        owner.send(f"/pieces/{each}/sides", {"bark": "off", "ends": "bare"})
    assert all(one.known.edges_open and one.known.ends_open and not one.bark for one in lot().pieces)
    told = planned(lot())
    assert any("As told, bark is off; ends are bare. It dries by its edges and bare ends too" in one for one in told.remarks)
    assert not any("As told" in one for one in planned(replace(lot(), pieces=untold)).remarks)
    owner.send(f"/pieces/{mantels[0]}/sides", {"bark": "on"})
    assert sorted(one.bark for one in lot().pieces) == [False, True]
    assert "Told: bark on, ends bare" in owner.get(f"/loads/hand-over?piece={mantels[0]}").text
