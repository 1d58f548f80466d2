"""Trees offered, logs that wait, ways to cut, costs: asked once, the last answer shown meanwhile, what is not known said."""

from __future__ import annotations

import re
from datetime import date, timedelta
from time import perf_counter

import pytest

from waney.trade.costs_sheet import ASKS
from waney.web.asked.cuts import CutsAnswer
from waney.web.asked.figure import Figure
from waney.web.asked.kinds import CUTS, OFFER, WAITING
from waney.web.asked.offer import OfferAnswer, OfferAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.waiting import WaitingAsked, waiting_answer
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.offers import StemFelled, TreeOffered
from waney.yard.acts.settings import Setting
from waney.yard.book import jobs
from waney.yard.book.logs_seen import logs
from waney.yard.book.offered import stems, trees
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.offers import fell_stem, note_offer
from waney.yard.services.settings import settle_for_shop

from .conftest import NOW, Clock, Person

SHEET = 'format = "waney-log/1"\nunits = "in"\nspecies = "{wood}"\nfelled = {day}\nlength = "16.5 ft"\n[top]\ndiameter = 14\n'
COSTS = {"currency": "USD", "driving": "0.70", "hourly": "25", "loading": "0", "bears": "3500", "board_foot": "2 to 4"}
JUNE = NOW.date() - timedelta(days=10)


def work(shop: Shop) -> int:
    """Do every job that waits, in this process; how many there were."""
    done = 0
    while (job := jobs.take(shop.book, tuple(KINDS), "here", shop.now())) is not None:
        answer = KINDS[job.kind](shop.book.files.read(job.input), lambda _share, _words: None)
        jobs.finish(shop.book, job.id, "here", answer, shop.now())
        done += 1
    return done


def an_offer(shop: Shop, hand: Hand, **told: object) -> str:
    ident = shop.new_id()
    note_offer(hand, TreeOffered(ident, **told))  # type: ignore[arg-type]
    return ident


def a_log(hand: Hand, wood: str = "loblolly pine", day: date = JUNE) -> str:
    return add_log(hand, NewLog(SHEET.format(wood=wood, day=day))).id


# costs


def test_costs_are_typed_once_and_stand_in_the_settings(owner: Person, shop: Shop) -> None:
    before = owner.get("/settings/costs").text
    assert all(words in before for words in ASKS.values())
    assert owner.send("/settings/costs", COSTS).status_code == 303
    assert 'board_foot = "2 to 4"' in shop.settled()[Setting.COSTS]
    after = owner.get("/settings/costs").text
    left = re.search(r"Not known yet: (.*)\.", after)
    assert left is not None and ASKS["hourly"] not in left[1] and ASKS["blade"] in left[1]
    assert 'value="2 to 4"' in after


def test_no_field_of_the_costs_has_a_figure_of_ours_in_it(owner: Person) -> None:
    page = owner.get("/settings/costs").text
    assert set(re.findall(r'<input id="\w+" name="(?!token|units)\w+" type="text" value="([^"]*)"', page)) == {""}


def test_a_cost_that_cannot_be_is_told_at_its_field_with_what_was_typed(owner: Person, shop: Shop) -> None:
    answer = owner.send("/settings/costs", {**COSTS, "hourly": "many"})
    assert answer.status_code == 422 and 'id="hourly-wrong"' in answer.text and 'value="many"' in answer.text
    assert Setting.COSTS not in shop.settled()


def test_costs_are_settled_by_an_owner_alone(owner: Person, helper: Person) -> None:
    assert helper.send("/settings/costs", COSTS).status_code == 403


def test_all_costs_taken_out_again_are_not_known_again(owner: Person, shop: Shop) -> None:
    owner.send("/settings/costs", COSTS)
    owner.send("/settings/costs", dict.fromkeys(COSTS, ""))
    assert shop.settled()[Setting.COSTS] == ""


# offers


def test_an_offer_is_asked_about_once_however_often_it_is_looked_at(anybody: Person, shop: Shop, hand: Hand) -> None:
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=3.0)
    for _ in range(3):
        assert "being worked out" in anybody.get(f"/offered/{tree}").text and anybody.get("/offered").status_code == 200
    assert [job.kind for job in jobs.last_jobs(shop.book)] == [OFFER]


def test_an_offer_without_any_cost_gives_weight_and_says_what_nobody_typed(anybody: Person, shop: Shop, hand: Hand) -> None:
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=3.0)
    anybody.get(f"/offered/{tree}")
    assert work(shop) == 1
    page = anybody.get(f"/offered/{tree}").text
    assert "No answer in money" in page and "what a board foot earns" in page and "Lift and haul for" in page
    assert "/sources#fpl-gtr-282" in page and "$" not in page.partition("What was said of it")[0]


def test_with_costs_the_answer_has_bad_likely_and_good_and_the_asked_price_beside(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/settings/costs", COSTS)
    far = {"way_m": 30_000.0, "hours": 2.0}
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=3.0, asked_cents=900_000, **far)
    owner.get("/offered")
    assert work(shop) == 1
    page, row = owner.get(f"/offered/{tree}").text, owner.get("/offered").text
    assert "<strong>Only if free.</strong>" in page and "They ask" in page and "$9000.00" in page
    assert re.search(r"Left at that price</th><td>bad -\$\d+, likely -\$\d+, good -\$\d+", page)
    assert "<strong>Only if free</strong>" in row and "Weighs" in row


@pytest.mark.long
def test_half_known_gives_a_wider_answer_and_never_an_error(shop: Shop) -> None:
    def width(**told: object) -> float:
        plain = dict(girth_m=None, small_end_m=None, length_m=None, how="tape", yard_tree=None, way_m=None, hours=None)
        sheets = {"costs": "", "mill": "", "wants": "", "metric": True, "asked_cents": None}
        asked = OfferAsked("t", "", **{"species": "white ash", **plain, **told}, **sheets)  # type: ignore[arg-type]
        answer = read_back(KINDS[OFFER](as_bytes(asked), lambda _s, _w: None), OfferAnswer)
        assert answer.sentence == ""
        weight = next(one.says for one in answer.figures if one.what.startswith("Weight"))
        low, high = (float(part.removesuffix(" kg")) for part in weight.split(", ")[1].split(" to "))
        return high - low

    taped = width(girth_m=1.5, length_m=3.0)
    assert taped < width(girth_m=1.5, length_m=3.0, how="eye") < width(length_m=3.0) < width(species="")


def test_when_a_cost_changes_the_last_answer_stands_until_the_new_one_is_there(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/settings/costs", COSTS)
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=3.0)
    owner.get(f"/offered/{tree}")
    work(shop)
    owner.send("/settings/costs", {**COSTS, "sawing": "50"})
    page = owner.get(f"/offered/{tree}").text
    assert "This is the last answer" in page and "<strong>Fetch.</strong>" in page and "Look again" in page
    work(shop)
    page = owner.get(f"/offered/{tree}").text
    assert "This is the last answer" not in page and "<strong>Leave.</strong>" in page


def test_the_answer_is_kept_with_the_money_that_stood_on_the_page(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/settings/costs", COSTS)
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=3.0)
    owner.get(f"/offered/{tree}")
    work(shop)
    page = owner.get(f"/offered/{tree}").text
    money = re.search(r'name="money" value="([-\d ]+)"', page)
    assert money is not None
    owner.send(f"/offered/{tree}", {"reply": "fetch", "reason": "straight", "seen": "1", "money": money[1]})
    (found,) = trees(shop.book)
    assert (found.reply, " ".join(map(str, found.money_cents))) == ("fetch", money[1])


def test_what_was_said_of_an_offer_is_put_right_and_the_answer_follows(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/settings/costs", COSTS)
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=3.0, where="Mill Lane", hours=1.0)
    owner.get(f"/offered/{tree}")
    work(shop)
    assert "<strong>Fetch.</strong>" in owner.get(f"/offered/{tree}").text
    nothing = owner.send(f"/offered/{tree}/again", {"species": "", "how": ""})
    assert nothing.status_code == 422 and "Nothing was written" in nothing.text
    slip = owner.send(f"/offered/{tree}/again", {"girth": "wide"})
    assert slip.status_code == 422 and 'value="wide"' in slip.text
    owner.send(f"/offered/{tree}/again", {"girth": "24 in", "way": "90 mi", "hours": "6", "grew": "yard"})
    (found,) = trees(shop.book)
    assert (found.where, found.species, found.length_m) == ("Mill Lane", "white ash", 3.0)
    assert found.girth_m == pytest.approx(0.6096) and found.hours == 6.0 and found.yard_tree is True
    assert "This is the last answer" in owner.get(f"/offered/{tree}").text
    work(shop)
    assert "<strong>Leave.</strong>" in owner.get(f"/offered/{tree}").text


def test_a_tree_that_came_is_a_stem_and_its_logs_keep_their_places(owner: Person, shop: Shop, hand: Hand) -> None:
    tree = an_offer(shop, hand, species="white ash", girth_m=1.5, length_m=5.1)
    owner.send(f"/offered/{tree}", {"reply": "fetch", "seen": "1"})
    assert owner.send(f"/offered/{tree}/came", {"felled_on": "2026-05-02"}).status_code == 303
    (stem,) = stems(shop.book)
    assert stem.length_m == 5.1 and "not yet cut to length" in owner.get("/offered").text
    assert owner.send(f"/stems/{stem.id}/cut", {"lengths": "8 ft + 8 ft"}).status_code == 303
    butt, top = logs(shop.book)
    assert (butt.from_butt_m, top.from_butt_m) == (0.0, pytest.approx(8 * 0.3048 + 0.01))
    assert {log.stem for log in (butt, top)} == {stem.id} and {log.felled_on for log in (butt, top)} == {"2026-05-02"}
    assert butt.name in owner.get(f"/stems/{stem.id}").text and "not yet cut" not in owner.get("/offered").text
    again = owner.send(f"/stems/{stem.id}/cut", {"lengths": "8 ft"})
    assert again.status_code == 422 and "was cut already" in again.text and len(logs(shop.book)) == 2


def test_a_stem_is_not_cut_longer_than_it_is(owner: Person, shop: Shop, hand: Hand) -> None:
    stem = shop.new_id()
    fell_stem(hand, StemFelled(stem, species="ash", length_m=5.1))
    answer = owner.send(f"/stems/{stem}/cut", {"lengths": "12 ft + 12 ft"})
    assert answer.status_code == 422 and "the stem has" in answer.text and logs(shop.book) == ()


# one long log or two short ones


def test_a_stem_shows_one_long_log_against_two_short_ones(anybody: Person, shop: Shop, hand: Hand) -> None:
    stem = shop.new_id()
    fell_stem(hand, StemFelled(stem, species="white ash", length_m=5.1))
    assert 'value="8 ft + 8 ft"' in anybody.get(f"/stems/{stem}").text
    assert work(shop) == 1
    page = anybody.get(f"/stems/{stem}").text
    assert "<h2>16 ft (4.88 m)</h2>" in page and "<h2>8 ft + 8 ft (2.44 + 2.44 m)</h2>" in page and "of the cases" in page


@pytest.mark.parametrize("ways", ["way=16+ft", "way=soon&way=later", "way=40+ft&way=8+ft"])
def test_ways_that_cannot_be_compared_are_answered_with_a_sentence(anybody: Person, shop: Shop, hand: Hand, ways: str) -> None:
    log = a_log(hand)
    anybody.get(f"/logs/{log}/cuts?{ways}")
    work(shop)
    page = anybody.get(f"/logs/{log}/cuts?{ways}")
    assert page.status_code == 200 and 'role="alert"' in page.text


def test_money_of_the_ways_is_only_there_with_prices(shop: Shop, hand: Hand, anybody: Person) -> None:
    log = a_log(hand, "white ash")
    anybody.get(f"/logs/{log}/cuts")
    work(shop)
    (job,) = [job for job in jobs.last_jobs(shop.book) if job.kind == CUTS]
    found = read_back(shop.book.files.read(job.answer), CutsAnswer)
    assert all("earn" not in figure.what for way in found.ways for figure in way.figures)


# logs that wait


def test_logs_stand_by_what_another_week_costs_and_no_value_last(anybody: Person, shop: Shop, hand: Hand) -> None:
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    cherry, oak, pine = (a_log(hand, wood) for wood in ("black cherry", "white oak", "loblolly pine"))
    assert "not worked out yet" in anybody.get("/logs").text
    assert work(shop) == 1
    page = anybody.get("/logs").text
    assert page.index(pine) < page.index(cherry) and page.index(pine) < page.index(oak) and "no value" in page
    assert f'href="/logs/{pine}#waits"' in page
    log = anybody.get(f"/logs/{pine}").text
    assert "/sources#wengert-log-life" in log and "/sources#noaa-ccd-2018" in log
    week = anybody.get("/").text
    assert "Dearest to leave lying" in week and pine in week.partition("Dearest")[2]


def test_sealed_ends_cost_less_and_a_slip_is_put_right(owner: Person, shop: Shop, hand: Hand) -> None:
    log = a_log(hand)

    def checks() -> Figure:
        owner.get("/logs")
        work(shop)
        content = shop.book.files.read(jobs.last_answers(shop.book, WAITING)[0])
        (row,) = waiting_answer(content).logs
        return next(one for one in row.figures if "end checks" in one.what)

    before = checks()
    owner.send(f"/logs/{log}/ends", {"sealed": "yes"})
    assert logs(shop.book)[0].sealed_on == "2026-05-04" and "sealed on" in owner.get(f"/logs/{log}").text
    after = checks()
    assert float(after.says.partition(" ")[0]) < float(before.says.partition(" ")[0])
    owner.send(f"/logs/{log}/ends", {"sealed": "no"})
    assert after.says in owner.get(f"/logs/{log}").text, "the last answer stands until the new one is there"
    work(shop)
    assert logs(shop.book)[0].sealed_on == "" and before.says in owner.get(f"/logs/{log}").text


def test_a_place_that_nobody_knows_is_told_and_the_logs_are_ordered_all_the_same(anybody: Person, shop: Shop, hand: Hand) -> None:
    settle_for_shop(hand, Setting.PLACE, "Nowhere WI")
    a_log(hand)
    anybody.get("/logs")
    work(shop)
    page = anybody.get("/logs").text
    assert "has no station" in page and "not worked out" not in page


def test_a_new_day_asks_anew_and_yesterdays_order_stands_meanwhile(anybody: Person, shop: Shop, hand: Hand, clock: Clock) -> None:
    a_log(hand)
    anybody.get("/logs")
    work(shop)
    clock.wait(86_400.0)
    page = anybody.get("/logs").text
    assert "The order is that of" in page and "not worked out yet" not in page
    assert work(shop) == 1


def test_five_hundred_logs_are_asked_about_in_a_few_milliseconds(shop: Shop, hand: Hand) -> None:
    from waney.yard.services.lying import Lying

    sheet = SHEET.format(wood="loblolly pine", day=JUNE)
    told = tuple(Lying(f"{n}", f"A-{n}", "pine_loblolly", "2026-04-01", "", sheet) for n in range(500))
    began = perf_counter()
    content = WaitingAsked(told, "2026-05-04", "", "", metric=False).as_bytes()
    assert perf_counter() - began < 0.1
    assert WaitingAsked.read(content).logs == told
