"""The air a stack of the app dries in: chambers as they are read, weather of one's own among the settings."""

from __future__ import annotations

import re
from datetime import date

import pytest

from waney.figures.scenarios import Scenarios
from waney.web.asked.packing import as_bytes
from waney.web.asked.stack import StackAnswer
from waney.web.ready import ready_of, stack_asked
from waney.web.shop import Shop
from waney.web.works import stacking
from waney.yard.acts.drying import Shelter, StackStood
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book.stack_seen import stack_story
from waney.yard.services.drying import tell_how_it_stands
from waney.yard.services.hand import Hand
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack

from .conftest import Person
from .test_papers import words
from .test_trade import work

DAMP = "month,temperature_f,humidity_pct\n" + "\n".join(f"{month},50,85" for month in range(1, 13))


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stacking, "SCENARIOS", Scenarios(1, 16))


@pytest.fixture
def stack(hand: Hand, shop: Shop) -> str:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    board, ident = shop.new_id(), shop.new_id()
    hand.write(PieceCounted(board, "black walnut", thickness_m=0.0286, length_m=2.5, widths_m=(0.2,)))
    build_stack(hand, StackBuilt(ident, "North", layers=((board,),)))
    tell_how_it_stands(hand, StackStood(ident, since="2026-05-01", shelter=Shelter.ROOF, wanted_mc=0.2))
    return ident


def answered(owner: Person, shop: Shop, stack: str) -> tuple[StackAnswer, str]:
    owner.get(f"/stacks/{stack}")
    work(shop)
    answer = ready_of(shop, stack_story(shop.book, stack)).answer
    assert answer is not None
    return answer, owner.get(f"/stacks/{stack}").text


def days(answer: StackAnswer) -> tuple[int, int]:
    """Until the likely day, and from the first to the last."""
    ready = answer.lines[0].ready
    first, likely, last = (date.fromisoformat(one) for one in (ready.first, ready.likely, ready.last))
    return (likely - date(2026, 5, 1)).days, (last - first).days


def test_a_chamber_with_a_dehumidifier_needs_what_it_holds_and_dries_by_it(owner: Person, shop: Shop, stack: str) -> None:
    roof, page = answered(owner, shop, stack)
    assert "Weather: Madison, WI, normal months" in page
    owner.send(f"/stacks/{stack}/stands", {"shelter": str(Shelter.DEHUMIDIFIER)})
    page = owner.get(f"/stacks/{stack}").text
    assert "First tell what is read in its chamber" in page and work(shop) == 0
    assert owner.get("/stacks").status_code == 200 and work(shop) == 0
    assert owner.send(f"/stacks/{stack}/stands", {"inside": "100"}).status_code == 422
    answer = owner.send(f"/stacks/{stack}/stands", {"inside": "100", "humidity": "140"})
    assert answer.status_code == 422 and "no humidity of air to dry in" in answer.text and 'value="140"' in answer.text
    owner.send(f"/stacks/{stack}/stands", {"inside": "100", "humidity": "40", "speed": "300"})
    held, page = answered(owner, shop, stack)
    assert "100 °F and 40 % inside" in page and "Air: what the chamber is held at" in page
    assert days(held)[0] < days(roof)[0] / 2  # 38 °C and 40 % against a summer under a roof
    owner.send(f"/stacks/{stack}/stands", {"humidity": "70"})
    assert days(answered(owner, shop, stack)[0])[0] > days(held)[0], "damper air dries slower"


def test_what_stays_empty_of_a_chamber_stays_as_it_was_read(owner: Person, shop: Shop, stack: str) -> None:
    def told(**fields: str) -> str:
        assert owner.send(f"/stacks/{stack}/stands", fields).status_code == 303
        return str(owner.get(f"/stacks/{stack}").text)

    page = told(shelter=str(Shelter.DEHUMIDIFIER), inside="100", humidity="40", speed="300")
    assert "100 °F and 40 % inside; air between the layers 300 ft/min" in page
    assert "100 °F and 55 % inside; air between the layers 300 ft/min" in told(humidity="55")
    assert "100 °F and 55 % inside; air between the layers 400 ft/min" in told(speed="400")
    by_sun = told(shelter=str(Shelter.SUN), day_inside="105", day_outside="82", night_inside="68", night_outside="64")
    assert "by night 68 °F inside, 64 °F outside; air between" in by_sun and "55 % inside" not in by_sun
    assert "100 °F and 55 % inside; air between" in told(shelter=str(Shelter.DEHUMIDIFIER))
    assert "Read in its chamber" not in told(shelter=str(Shelter.ROOF))


def test_two_thermometers_narrow_what_the_sun_makes_of_a_chamber(owner: Person, shop: Shop, stack: str) -> None:
    owner.send(f"/stacks/{stack}/stands", {"shelter": str(Shelter.SUN)})
    unread, page = answered(owner, shop, stack)
    assert "Nobody read the air of the chamber" in page
    told = {"day_inside": "105", "day_outside": "82", "night_inside": "68", "night_outside": "64"}
    assert owner.send(f"/stacks/{stack}/stands", {"day_inside": "105"}).status_code == 422
    owner.send(f"/stacks/{stack}/stands", told)
    read, page = answered(owner, shop, stack)
    assert "by day 105 °F inside, 82 °F outside" in page and "Nobody read the air" not in page
    assert days(read)[1] < days(unread)[1]


def test_stacks_dry_by_weather_of_ones_own_until_it_is_left_again(owner: Person, shop: Shop, stack: str) -> None:
    usual, _ = answered(owner, shop, stack)
    answer = owner.send("/settings/weather", {"weather": DAMP.replace("humidity_pct", "humid"), "weather_of": "Cedar Bottom"})
    assert answer.status_code == 422 and "must name the columns" in answer.text and "month,temperature_f,humid" in answer.text
    assert owner.send("/settings/weather", {"weather": DAMP, "weather_of": "Cedar Bottom"}).status_code == 303
    assert "Stacks dry by Cedar Bottom: twelve months" in owner.get("/settings").text
    for nothing in ({"weather_file": ("ridge.csv", b"", "text/csv")}, None):
        answer = owner.send("/settings/weather", {"weather": " "}, nothing)
        assert answer.status_code == 422 and "Type twelve rows or choose a file." in answer.text
        assert "Stacks dry by Cedar Bottom: twelve months" in answer.text
    damp, page = answered(owner, shop, stack)
    assert "Weather: Cedar Bottom, the twelve months given, taken for normal ones" in page
    assert days(damp)[0] > days(usual)[0]  # 10 °C and 85 % all the year against a summer in Madison
    hours = "month,t_c,rh_pct\n" + "\n".join(f"{month},{15 + hour % 10},55" for month in range(1, 13) for hour in range(720))
    assert owner.send("/settings/weather", {}, {"weather_file": ("ridge.csv", hours.encode(), "text/csv")}).status_code == 303
    assert "Stacks dry by ridge: 8640 hours" in owner.get("/settings").text
    hourly, page = answered(owner, shop, stack)
    assert "Weather: ridge, the hours of the year given" in page and days(hourly)[0] < days(damp)[0]
    question = as_bytes(stack_asked(shop, stack_story(shop.book, stack)))
    assert len(question) < len(shop.settled()[Setting.WEATHER]) / 2, "every stack asks with all of its hours"
    owner.send("/settings/weather", {"do": "leave"})
    assert shop.settled()[Setting.WEATHER] == "" and answered(owner, shop, stack)[0] == usual


def test_the_air_crosses_the_widest_told_layer_between_stickers_as_they_were_told(hand: Hand, owner: Person, shop: Shop) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    boards = [shop.new_id() for _ in range(12)]
    for board in boards:
        hand.write(PieceCounted(board, "black walnut", thickness_m=0.0286, length_m=2.5, widths_m=(0.2,)))

    def stood(*layers: tuple[str, ...], sticker_m: float | None = None) -> tuple[StackAnswer, str]:
        ident = shop.new_id()
        build_stack(hand, StackBuilt(ident, f"Row {ident[:4]}", sticker_m=sticker_m, layers=layers))
        tell_how_it_stands(hand, StackStood(ident, since="2026-05-01", shelter=Shelter.OPEN, wanted_mc=0.2))
        return answered(owner, shop, ident)

    (narrow, said), (wide, _), (close, _) = (
        stood(tuple(boards[:2])),
        stood(tuple(boards[2:10])),
        stood(tuple(boards[10:]), sticker_m=0.01),
    )
    assert "The air crosses a stack 1.3 ft (0.4 m) wide." in said
    assert days(narrow)[0] < days(wide)[0] and days(narrow)[0] < days(close)[0]


def test_a_stack_without_told_layers_counts_as_a_package_and_says_so(hand: Hand, owner: Person, shop: Shop) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    board, ident = shop.new_id(), shop.new_id()
    hand.write(PieceCounted(board, "black walnut", thickness_m=0.0286, length_m=2.5))
    build_stack(hand, StackBuilt(ident, "North", layers=((board,),)))
    tell_how_it_stands(hand, StackStood(ident, since="2026-05-01", shelter=Shelter.OPEN, wanted_mc=0.2))
    _, page = answered(owner, shop, ident)
    assert "counts as 4 ft wide" in page and "The air crosses a stack 4.0 ft (1.2 m) wide." in page


def test_a_width_that_is_told_goes_before_the_layers_and_stands_on_page_and_paper(owner: Person, shop: Shop, stack: str) -> None:
    narrow, page = answered(owner, shop, stack)
    assert "The air crosses a stack 0.7 ft (0.2 m) wide." in page
    assert owner.send(f"/stacks/{stack}/stands", {"wide": "8 ft"}).status_code == 303
    wide, page = answered(owner, shop, stack)
    assert "The air crosses a stack 8.0 ft (2.4 m) wide." in page and days(wide)[0] > days(narrow)[0]
    for _ in ("when it is ready", "the sheet"):
        owner.get(f"/stacks/{stack}/sheet.pdf")
        work(shop)
    assert re.search(r"Wide\s+8(\s*ft|')", words(owner.get(f"/stacks/{stack}/sheet.pdf").content))
    refused = owner.send(f"/stacks/{stack}/stands", {"wide": "60 ft"})
    assert refused.status_code == 422 and "18.29 m wide" in refused.text and 'value="60 ft"' in refused.text


def test_only_an_owner_settles_the_weather(helper: Person, shop: Shop) -> None:
    assert helper.send("/settings/weather", {"weather": DAMP}).status_code == 403
    assert not shop.settled().get(Setting.WEATHER)
