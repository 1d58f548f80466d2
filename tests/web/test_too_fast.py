"""What dries too fast is told where the week begins and in the list of stacks, by the weights of this week."""

from __future__ import annotations

import pytest

from waney.figures.scenarios import Scenarios
from waney.web import too_fast
from waney.web.shop import Shop
from waney.web.works import stacking
from waney.yard.acts.drying import Shelter, StackStood
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import StackBuilt
from waney.yard.services.drying import tell_how_it_stands
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import weigh
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack, load_kiln

from .conftest import Clock, Person
from .test_trade import work

DAY = 24 * 3600.0


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stacking, "SCENARIOS", Scenarios(1, 16))


@pytest.fixture
def stack(hand: Hand, shop: Shop) -> str:
    """Two boards of white oak, 4/4: 2.5 % a day is safe (Wengert 1990, seen for 4/4)."""
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    boards = [shop.new_id() for _ in range(2)]
    for ident in boards:
        hand.write(PieceCounted(ident, "white oak", thickness_m=0.0286, length_m=2.5, widths_m=(0.2,)))
    built = shop.new_id()
    build_stack(hand, StackBuilt(built, "North", layers=(tuple(boards),)))
    tell_how_it_stands(hand, StackStood(built, shelter=Shelter.ROOF, wanted_mc=0.2))
    weigh(hand, f"piece:{boards[0]}", 13.0)
    return built


def weigh_again(hand: Hand, shop: Shop, clock: Clock, kg: float) -> None:
    """A week later."""
    from waney.yard.book.stack_seen import drying_stacks

    clock.wait(7 * DAY)
    (story,) = drying_stacks(shop.book)
    weigh(hand, f"piece:{story.lying[0].piece.id}", kg)


def test_a_piece_that_dries_too_fast_is_told_on_the_week_and_in_the_list_with_the_words_of_its_stack(
    owner: Person, shop: Shop, hand: Hand, clock: Clock, stack: str
) -> None:
    weigh_again(hand, shop, clock, 10.5)
    waits = owner.get("/").text
    assert "Drying too fast" not in waits and "is being worked out, on" in waits and "North" in waits
    assert work(shop) == 1
    week, listed, page = (owner.get(at).text for at in ("/", "/stacks", f"/stacks/{stack}"))
    (losing,) = {line for line in page.split("<") if "too fast: " in line and "a day" in line and "td" in line[:3]}
    losing = losing.partition(">")[2]
    assert losing.startswith("too fast: ") and losing.endswith("of 2.5 % a day")
    assert losing in week and losing in listed and "slow the air" in week


def test_nothing_is_told_where_it_dries_safely(owner: Person, shop: Shop, hand: Hand, clock: Clock, stack: str) -> None:
    weigh_again(hand, shop, clock, 12.7)
    owner.get("/")
    work(shop)
    assert "too fast" not in owner.get("/").text and "too fast" not in owner.get("/stacks").text


def test_what_was_weighed_long_ago_is_of_this_week_no_more(
    owner: Person, shop: Shop, hand: Hand, clock: Clock, stack: str
) -> None:
    weigh_again(hand, shop, clock, 10.5)
    owner.get("/")
    work(shop)
    assert "too fast" in owner.get("/").text
    clock.wait(11 * DAY)
    assert "too fast" not in owner.get("/").text and "too fast" not in owner.get("/stacks").text
    assert "too fast" in owner.get(f"/stacks/{stack}").text


def test_a_stack_that_went_into_the_kiln_is_no_longer_watched(
    owner: Person, shop: Shop, hand: Hand, clock: Clock, stack: str
) -> None:
    weigh_again(hand, shop, clock, 10.5)
    owner.get("/")
    work(shop)
    load_kiln(hand, "kiln", (stack,))
    assert "Drying too fast" not in owner.get("/").text


def test_a_look_at_the_week_asks_nothing_where_nothing_was_weighed(owner: Person, shop: Shop, clock: Clock, stack: str) -> None:
    clock.wait(20 * DAY)
    owner.get("/")
    assert work(shop) == 0


def test_a_second_look_reads_nothing_again_until_something_is_told(
    owner: Person, shop: Shop, hand: Hand, clock: Clock, stack: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # the week's page has a tenth of a second of the server in a yard of 20,000 pieces
    read: list[str] = []
    first = too_fast.ready_of
    monkeypatch.setattr(too_fast, "ready_of", lambda shop, story: (read.append(story.id), first(shop, story))[1])
    weigh_again(hand, shop, clock, 10.5)
    for _ in range(3):
        owner.get("/")
        work(shop)
    assert "too fast" in owner.get("/").text and len(read) == 1
    weigh_again(hand, shop, clock, 10.4)
    owner.get("/")
    assert len(read) == 2 and work(shop) == 1
    assert "too fast" not in owner.get("/").text and len(read) == 2
