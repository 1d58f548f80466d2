"""Services that ask before deciding: what is read from the book is what the sums are given."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.trade.crosscut import compared
from waney.trade.fetch import Costs, Reply, worth_fetching
from waney.trade.reading import Reading
from waney.wood.climate import station
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.offers import Reply as Answered
from waney.yard.acts.offers import StemFelled, TreeAnswered, TreeOffered
from waney.yard.book.book import Book
from waney.yard.book.offered import stem, stem_at, tree, tree_at, trees
from waney.yard.commands import Read
from waney.yard.problems import NotInBook
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, end_log
from waney.yard.services.waiting import waiting_logs
from waney.yard.services.worth import reading_of, stem_sheet

from .conftest import NOW, Device, Ids

N = Scenarios(seed=5, n=16)
COSTS = Costs("USD", per_board_foot_cents=Estimate.known(300.0, Basis(Ground.READING, "the shop")))
EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"


def clock() -> datetime:
    return NOW


@pytest.fixture
def hand(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", clock, ids)


def test_an_offer_of_the_book_is_answered_as_its_readings_alone(book: Book, phone: Device) -> None:
    ident = phone.ids()
    phone.send(TreeOffered(ident, "black walnut", girth_m=1.6, length_m=3.0, asked_cents=10_000, where="Alder Hollow"))
    found = worth_fetching(reading_of(tree_at(book, ident)), COSTS, 10_000, N)
    alone = worth_fetching(Reading("Alder Hollow", "black walnut", girth_m=1.6, length_m=3.0), COSTS, 10_000, N)
    assert found.reply is Reply.FETCH and found.money_cents == alone.money_cents and found.weight_kg == alone.weight_kg
    with pytest.raises(NotInBook):
        tree_at(book, phone.ids())


def test_the_words_of_the_answer_are_those_of_the_book() -> None:
    assert [reply.value for reply in Reply] == [reply.value for reply in Answered]


def test_trees_that_were_answered_leave_the_list_of_open_ones(book: Book, phone: Device) -> None:
    one, other = phone.ids(), phone.ids()
    for ident in (one, other):
        phone.send(TreeOffered(ident, "ash"))
    phone.send(TreeAnswered(one, Answered.LEAVE, "too far", (-3, -2, -1)), Read(f"tree:{one}", 1))
    assert [each.id for each in trees(book)] == [one, other]
    assert [each.id for each in trees(book, unanswered=True)] == [other]
    found = tree(book, one)
    assert found is not None and (found.version, found.money_cents, found.reason) == (2, (-3, -2, -1), "too far")


def test_logs_wait_in_the_order_of_what_they_lose_and_those_that_are_gone_do_not(book: Book, hand: Hand) -> None:
    sheet = 'format = "waney-log/1"\nunits = "in"\nspecies = "{}"\nfelled = 2026-07-01\nlength = "8 ft"\n[top]\ndiameter = 14\n'
    names = {
        wood: add_log(hand, NewLog(sheet.format(wood))).id
        for wood in ("white oak", "loblolly pine", "black cherry", "shortleaf pine")
    }
    end_log(hand, names["shortleaf pine"], LogEnd.SAWN)
    costs = waiting_logs(book, date(2026, 7, 6), N, station("CO", "Denver"))
    assert [cost.log.species for cost in costs] == ["pine_loblolly", "oak_white", "cherry_black"]
    assert costs[0].log.days == 5 and costs[0].log.length_m == pytest.approx(2.4384)
    assert all(cost.cents is None for cost in costs)


def test_a_log_with_no_day_of_felling_and_no_place_is_still_in_the_list(book: Book, hand: Hand) -> None:
    add_log(hand, NewLog((EXAMPLES / "log-rough.toml").read_text(encoding="utf-8")))
    (cost,) = waiting_logs(book, date(2026, 7, 6), N)
    assert cost.log.days is None and cost.log.air is None


def test_a_stem_of_the_book_is_compared_by_what_was_read_off_its_tree(book: Book, phone: Device) -> None:
    ident, felled = phone.ids(), phone.ids()
    phone.send(TreeOffered(ident, "white ash", girth_m=1.5, small_end_m=0.36, length_m=9.0))
    phone.send(StemFelled(felled, ident, length_m=5.1))
    there = stem(book, felled)
    assert there is not None and there.tree is not None and there.tree.id == ident
    found = compared(stem_sheet(stem_at(book, felled)), ((4.9,), (2.45, 2.45)), N)
    assert {len(way.logs) for way in found.ways} == {1, 2}
    with pytest.raises(NotInBook):
        stem_at(book, phone.ids())
