"""A stack's forecast on its page, readings of a piece, the weighing round without scripts, the stack sheet."""

from __future__ import annotations

import json
import re
from datetime import timedelta

import pytest

from waney.figures.scenarios import Scenarios
from waney.web.asked.kinds import STACK
from waney.web.asked.packing import read_back
from waney.web.asked.stack import BandAnswer, StackAnswer
from waney.web.ready import ready_of, stack_asked
from waney.web.shop import Shop
from waney.web.works import stacking
from waney.yard.acts.drying import Shelter, StackStood
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book import jobs
from waney.yard.book.examining import examine
from waney.yard.book.looking import pieces
from waney.yard.book.stack_seen import read_of, stack_story
from waney.yard.book.tares import Tares
from waney.yard.services.drying import tell_how_it_stands, weigh_these
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import name_spot, weigh
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import build_stack

from .conftest import NOW, Clock, Person
from .test_papers import words
from .test_trade import work


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is shown does not depend on how many particles there are."""
    monkeypatch.setattr(stacking, "SCENARIOS", Scenarios(1, 16))


@pytest.fixture
def boards(hand: Hand, shop: Shop) -> list[str]:
    idents = [shop.new_id() for _ in range(4)]
    for ident in idents:
        hand.write(PieceCounted(ident, "white oak", thickness_m=0.0286, length_m=2.5, widths_m=(0.2,)))
    return idents


@pytest.fixture
def stack(hand: Hand, shop: Shop, boards: list[str]) -> str:
    ident, shed = shop.new_id(), name_spot(hand, "Shed").id
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    build_stack(hand, StackBuilt(ident, "North", shed, (tuple(boards[:2]), tuple(boards[2:])), 0.019, 0.4))
    tell_how_it_stands(hand, StackStood(ident, shelter=Shelter.ROOF, wanted_mc=0.2))
    weigh_these(hand, ident, (boards[0],))
    return ident


def name_of(shop: Shop, ident: str) -> str:
    return next(piece.name for piece in pieces(shop.book) if piece.id == ident)


# when it is ready


def test_a_stack_says_between_which_days_it_is_ready_and_a_reading_changes_that(
    owner: Person, shop: Shop, hand: Hand, clock: Clock, stack: str, boards: list[str]
) -> None:
    assert "is being worked out" in owner.get(f"/stacks/{stack}").text
    assert work(shop) == 1
    before = owner.get(f"/stacks/{stack}").text
    dates = r"Down to 20 % between (\d+ \w+ \d+) and (\d+ \w+ \d+), likely about (\d+ \w+ \d+)"
    found = re.search(dates, before)
    assert found is not None and "4 pieces of white oak, not read" in before
    assert "data-chart" in before and "<svg" in before and "One in twenty drier" in before
    assert json.loads(re.findall(r'data-chart><script type="application/json">(.*?)</script>', before)[0])["points"] == []
    weigh(hand, f"piece:{boards[0]}", 13.0)
    clock.wait(30 * 24 * 3600)
    weigh(hand, f"piece:{boards[0]}", 10.9)
    assert "is being worked out" in owner.get(f"/stacks/{stack}").text
    work(shop)
    after = owner.get(f"/stacks/{stack}?line={name_of(shop, boards[0])}").text
    assert "Before it was read" in after and "On the tag, at 20 %" in after and "of 2.5 % a day" in after
    assert len(json.loads(re.findall(r'data-chart><script type="application/json">(.*?)</script>', after)[0])["points"]) == 2
    assert "One mark of the weighing scale" in after
    found = re.search(dates, after)
    assert found is not None and f"{found[1]} to {found[2]}" in owner.get("/stacks").text


def test_the_same_question_is_asked_once(owner: Person, shop: Shop, stack: str) -> None:
    for _ in range(3):
        owner.get(f"/stacks/{stack}")
    assert work(shop) == 1
    owner.send(f"/stacks/{stack}/stands", {"shelter": "in the open, top covered", "wanted": "15", "since": "2026-04-20"})
    story = stack_story(shop.book, stack)
    assert (story.shelter, story.wanted_mc, story.since) == (Shelter.OPEN, 0.15, "2026-04-20")
    owner.get(f"/stacks/{stack}")
    assert work(shop) == 1
    assert "Down to 15 %" in owner.get(f"/stacks/{stack}").text


def test_edges_of_narrow_pieces_count_by_the_width_in_the_book_and_bark_on_live_edges_as_on(
    owner: Person, shop: Shop, hand: Hand
) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    square, mantel, squares, mantels = (shop.new_id() for _ in range(4))
    shed = name_spot(hand, "Shed").id
    hand.write(PieceCounted(square, "white oak", thickness_m=0.054, length_m=2.5, widths_m=(0.054,)))
    hand.write(PieceCounted(mantel, "white oak", thickness_m=0.054, length_m=2.5, widths_m=(0.10, 0.16)))
    weigh(hand, f"piece:{square}", 8.0)
    for ident, name, piece in ((squares, "Squares", square), (mantels, "Mantels", mantel)):
        build_stack(hand, StackBuilt(ident, name, shed, ((piece,),), 0.019, 0.4))
        tell_how_it_stands(hand, StackStood(ident, shelter=Shelter.ROOF, wanted_mc=0.2))
        owner.get(f"/stacks/{ident}")
    assert work(shop) == 2
    edged, live = (owner.get(f"/stacks/{ident}").text for ident in (squares, mantels))
    assert "It dries by its edges too: by the model likely in " in edged and "leave a gap" in edged
    assert re.search(r"Inside then</th><td>with \d+ % in the mean likely \d+ % in the middle \(\d+ to \d+ %\)", edged)
    assert "Its edges count as closed by bark; without it, by the model likely " in live and "Inside then" not in live


def test_what_nobody_told_of_a_stack_is_said(owner: Person, shop: Shop, hand: Hand, boards: list[str]) -> None:
    ident = shop.new_id()
    build_stack(hand, StackBuilt(ident, "South", layers=((boards[0],),)))
    hand.write(PieceCounted(other := shop.new_id(), "white oak", length_m=2.5))
    owner.send(f"/stacks/{ident}/on", {"names": name_of(shop, other)})
    owner.get(f"/stacks/{ident}")
    work(shop)
    page = owner.get(f"/stacks/{ident}").text
    assert "No place is settled" in page and "Nobody told under what it stands" in page and "thickness is not known" in page
    (first,) = re.findall(
        r"Tell this(?: first)?: the place. The (\d+) days between the first and the last would be about (\d+)\.", page
    )
    assert int(first[1]) < 0.9 * int(first[0])
    for slip in ({"since": "last week"}, {"wanted": "dry"}, {"sticker": "thin"}):
        answer = owner.send(f"/stacks/{ident}/stands", slip)
        assert (answer.status_code, 'role="alert"' in answer.text) == (422, True)


def test_a_band_of_an_answer_is_read_between_its_days() -> None:
    band = BandAnswer((0.0, 10.0), (0.6, 0.4), (0.8, 0.6), (1.0, 0.8))
    assert band.on(5.0) == pytest.approx((0.5, 0.7, 0.9))
    assert (band.on(-1.0), band.on(99.0)) == ((0.6, 0.8, 1.0), (0.4, 0.6, 0.8))


# readings of a piece


def test_a_weight_by_both_ends_less_the_sling_is_the_wood_alone(owner: Person, shop: Shop, boards: list[str]) -> None:
    told = {"mass": "7 kg", "other_end": "6.5 kg", "tare": "500 g", "mark": "50 g", "scales": "hanging scale"}
    assert owner.send(f"/readings/weight/{boards[0]}", told).status_code == 303
    (weight,) = read_of(shop.book, boards)[boards[0]].weights
    assert (weight.mass_kg, weight.ends, weight.mark_kg) == (13.0, True, 0.05)
    assert "one end at a time" in owner.get(f"/pieces/{boards[0]}").text


def test_a_gain_and_a_coarse_weighing_scale_are_asked_about_and_not_refused(owner: Person, shop: Shop, boards: list[str]) -> None:
    owner.send(f"/readings/weight/{boards[0]}", {"mass": "13 kg"})
    asked = {"That is more than": {"mass": "14 kg"}, "One mark of this weighing": {"mass": "12 kg", "mark": "1 kg"}}
    for sentence, told in asked.items():
        answer = owner.send(f"/readings/weight/{boards[0]}", told)
        assert (answer.status_code, sentence in answer.text) == (200, True)
        assert len(read_of(shop.book, boards)[boards[0]].weights) == 1
    owner.send(f"/readings/weight/{boards[0]}", {"mass": "14 kg", "sure": "yes"})
    assert [one.mass_kg for one in read_of(shop.book, boards)[boards[0]].weights] == [13.0, 14.0]
    for slip in ({"mass": "heavy"}, {}, {"mass": "5 kg", "tare": "6 kg"}):
        assert owner.send(f"/readings/weight/{boards[1]}", slip).status_code == 422


def test_a_sample_board_goes_from_the_saw_to_its_tag(owner: Person, shop: Shop, boards: list[str]) -> None:
    owner.send(f"/readings/sample/{boards[0]}", {"wet1": "180", "wet2": "168 g", "board": "4 kg", "mark": "1 g"})
    assert "in the oven" in owner.get(f"/pieces/{boards[0]}").text
    owner.send(f"/readings/sections/{boards[0]}", {"dry1": "100", "dry2": "100"})
    page = owner.get(f"/pieces/{boards[0]}").text
    # sections at 80 and 68 %, mean 74 %; 4 kg / 1.74 = 2.2989 kg oven dry, 5.068 lb; at 20 % 6.082 lb
    assert "74 %" in page and "5.068 lb" in page and "6.082 lb" in page
    assert owner.send(f"/readings/sample/{boards[0]}", {"wet1": "much", "board": "4 kg"}).status_code == 400
    assert owner.send(f"/readings/sample/{boards[0]}", {"wet1": "180", "board": "4 kg"}).status_code == 400


def test_a_sample_board_is_not_held_against_the_weight_and_sizes_of_the_whole_piece(
    owner: Person, shop: Shop, hand: Hand, stack: str, boards: list[str]
) -> None:
    weigh(hand, f"piece:{boards[0]}", 13.0)
    owner.send(f"/readings/sample/{boards[0]}", {"wet1": "180", "wet2": "168 g", "board": "4 kg", "mark": "1 g"})
    assert owner.send(f"/readings/weight/{boards[0]}", {"mass": "3.9 kg", "mark": "1 g"}).status_code == 303  # not "too light"
    assert "That is more than" in owner.send(f"/readings/weight/{boards[0]}", {"mass": "5 kg", "mark": "1 g"}).text
    # with its sections in the oven still, a stack that it lies on counts the board's weights alone
    (piece,) = [one for one in stack_asked(shop, stack_story(shop.book, stack)).pieces if one.name == name_of(shop, boards[0])]
    assert [one.kg for one in piece.weights] == [3.9] and (piece.before_cut, piece.sample is not None) == (1, True)
    owner.get(f"/stacks/{stack}")
    assert work(shop) == 1
    answer = ready_of(shop, stack_story(shop.book, stack)).answer
    assert answer is not None
    assert any("before it was cut" in said for line in answer.lines for said in line.remarks)


def test_meter_and_prongs_say_what_they_tell(owner: Person, shop: Shop, boards: list[str]) -> None:
    piece = {"what": f"piece:{boards[0]}"}
    owner.send("/readings", {**piece, "mc": "11.5", "wood": "68", "set_to": "white oak"})
    owner.send("/readings", {**piece, "mc": "45", "wood": "68"})
    owner.send("/readings/prongs", {**piece, "seen": "bent in, towards each other", "hours": "24"})
    page = owner.get(f"/pieces/{boards[0]}").text
    # at 68 °F, for which meters are made, and set to the wood: the meter's own error of 1 %, 1.645 times either way, is left
    assert "11.5 %, 9.9 to 13.1 %" in page and "cannot tell above 30 %" in page
    assert "Casehardened" in page and "/sources#fpl-ah-188" in page
    slip = read_of(shop.book, boards)[boards[0]].moistures[1].told.command
    owner.send("/readings/back", {**piece, "command": slip})
    assert len(read_of(shop.book, boards)[boards[0]].moistures) == 1


def test_the_makers_table_is_typed_in_among_the_settings(owner: Person, shop: Shop, boards: list[str]) -> None:
    sheet = 'format = "waney-meter/1"\nunits = "in"\n[[wood]]\nspecies = "white oak"\nreads = [8, 20]\nis = [9, 21]\n'
    assert owner.send("/settings", {"meter": sheet.replace("[8, 20]", "[20, 8]")}).status_code == 422
    owner.send("/settings", {"meter": sheet})
    owner.send("/readings", {"what": f"piece:{boards[0]}", "mc": "12", "wood": "68 F"})
    assert "13 %, 11.4 to 14.6 %" in owner.get(f"/pieces/{boards[0]}").text


# the round and the paper


def test_the_round_goes_past_the_pieces_that_are_weighed_every_week(
    helper: Person, shop: Shop, hand: Hand, clock: Clock, stack: str, boards: list[str]
) -> None:
    name = name_of(shop, boards[0])
    weigh(hand, f"piece:{boards[0]}", 13.0)
    clock.wait(7 * 24 * 3600)
    helper.get("/round")
    work(shop)
    page = helper.get("/round")
    assert page.headers["waney-keep"] == "yes" and name in page.text and name_of(shop, boards[1]) not in page.text
    assert "Weighing round: 1 piece" in helper.get("/").text
    assert "1 of 1 to weigh" in page.text and "Expected today" in page.text and "North, layer 1" in page.text
    answer = helper.send("/round", {"piece": boards[0], "mass": "31"})  # pounds: 14.06 kg, a gain
    assert (answer.status_code, "That is more than" in answer.text, "It is so" in answer.text) == (200, True, True)
    assert helper.send("/round", {"piece": boards[0], "mass": "27"}).status_code == 303
    assert "0 of 1 to weigh" in helper.get("/round").text
    helper.send("/round", {"piece": boards[0], "do": "back"})
    assert "1 of 1 to weigh" in helper.get("/round").text
    assert [one.mass_kg for one in read_of(shop.book, boards)[boards[0]].weights] == [13.0]
    assert helper.send("/round", {"piece": boards[1], "mass": "27"}).status_code == 400
    assert examine(shop.book).unsound == ()


def test_the_page_holds_what_to_expect_on_the_days_ahead(
    owner: Person, shop: Shop, hand: Hand, stack: str, boards: list[str]
) -> None:
    weigh(hand, f"piece:{boards[0]}", 13.0)
    owner.get("/round")
    work(shop)
    (item,) = owner.get("/api/round").json()["items"]
    assert item["this_week"] and item["known"]["last_kg"] == 13.0
    assert all(low < likely < high for low, likely, high in item["expected"])
    middles = [likely for _, likely, _ in item["expected"]]
    assert middles == sorted(middles, reverse=True) and middles[0] == pytest.approx(13.0, rel=0.03)
    assert item["known"]["least_kg"] < item["known"]["dry_kg"] < 13.0


def test_a_round_without_pieces_says_how_to_begin(owner: Person) -> None:
    assert "Choose some on the page of a" in owner.get("/round").text


def test_the_stack_sheet_draws_every_layer_and_asks_before_heavy_weight(
    owner: Person, shop: Shop, stack: str, boards: list[str]
) -> None:
    for _ in ("when it is ready", "the sheet"):
        owner.get(f"/stacks/{stack}/sheet.pdf")
        work(shop)
    told = words(owner.get(f"/stacks/{stack}/sheet.pdf").content)
    assert all(name_of(shop, board) in told for board in boards)
    assert "under a roof" in told and "Layer 2" in told and "Weighed every week" in told and "A stack can tip" in told
    owner.get(f"/stacks/{stack}/sheet.pdf?top=40")
    job = jobs.take(shop.book, {"paper-of-stack": lambda _given, _told: b""}, "here", shop.now())
    assert job is not None
    with pytest.raises(Exception, match="first look at the bearers"):
        stacking_paper(shop, job.input)
    assert owner.get(f"/stacks/{stack}/sheet.pdf?top=heavy").status_code == 400


def stacking_paper(shop: Shop, given: str) -> bytes:
    from waney.web.works.stack_paper import print_stack

    return print_stack(shop.book.files.read(given), lambda _share, _words: None)


def test_a_stack_that_was_told_what_bears_it_has_its_weight_on_top(owner: Person, shop: Shop, stack: str) -> None:
    address = f"/stacks/{stack}/sheet.pdf?top=40&bearer=20&ground=90"
    for _ in ("when it is ready", "the sheet"):
        owner.get(address)
        work(shop)
    told = words(owner.get(address).content)
    # 4 boards of 8' 2 3/8" by 7 7/8": the top layer of two is 1 m2, 10.8 ft2, so that 40 lb/ft2 is some 430 lb
    assert re.search(r"of that, on top\s+4[23]\d lb, 40 lb/ft2", told) is not None
    assert "and bears 20 lb" in " ".join(told.split())


def test_answers_stay_readable_after_they_were_kept(owner: Person, shop: Shop, stack: str) -> None:
    owner.get(f"/stacks/{stack}")
    work(shop)
    name = next(iter(jobs.last_answers(shop.book, STACK, 1)))
    answer = read_back(shop.book.files.read(name), StackAnswer)
    assert answer.lines[0].since == NOW.date().isoformat() and answer.air.startswith("Weather: Madison, WI, normal months")
    assert NOW.date() + timedelta(30) < NOW.date() + timedelta(answer.lines[0].band.days[-1])


def test_a_tare_is_offered_as_it_was_told_last_and_goes_where_it_is_cleared(
    owner: Person, shop: Shop, stack: str, boards: list[str]
) -> None:
    def offered(piece: str) -> list[str]:
        return re.findall(r'name="tare" type="text" value="([^"]*)"', owner.get(f"/pieces/{piece}").text)

    assert offered(boards[0]) == [""] and owner.get("/api/round").json()["items"][0]["tare"] == ""
    told = {"mass": "30", "tare": "3.5", "sure": "yes"}
    assert owner.send(f"/readings/weight/{boards[1]}", told).status_code == 303
    assert offered(boards[0]) == ["3.5"] and owner.get("/api/round").json()["items"][0]["tare"] == "3.5"
    assert "as told last" in owner.get("/round").text
    # nothing hung with it: cleared, the weight is that of the wood alone, and what was told last is still offered
    assert owner.send("/round", {"piece": boards[0], "mass": "28", "tare": "", "sure": "yes"}).status_code == 303
    (weight,) = read_of(shop.book, boards)[boards[0]].weights
    assert weight.mass_kg == pytest.approx(28 * 0.45359237) and offered(boards[0]) == ["3.5"]
    # a weight that was taken back told nothing
    (slip,) = read_of(shop.book, boards)[boards[1]].weights
    owner.send("/readings/back", {"what": f"piece:{boards[1]}", "command": slip.told.command})
    assert offered(boards[0]) == [""]


def test_what_was_told_at_the_spot_comes_before_what_was_told_elsewhere() -> None:
    told = Tares({"shed": 1.5, "yard": 2.0}, 2.0)
    assert (told.of("shed"), told.of("barn"), Tares().of("shed")) == (1.5, 2.0, None)
