"""What pieces have cost and logs have earned, from what the book holds; by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from waney.trade.costing import BadCosting, Sharing, What
from waney.trade.earned import Beside, summed
from waney.yard.acts.logs import EndsSealed, LogArrived, PlanChosen, PlanMade
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy, Returned, Spent
from waney.yard.acts.settings import Setting, Settled
from waney.yard.book.book import Book
from waney.yard.book.looking import pieces
from waney.yard.commands import Read
from waney.yard.services import selling
from waney.yard.services.deposits import end_hold, settle_deposit
from waney.yard.services.earning import Yard, floor_of, log_costs, price_ways, year_of_logs
from waney.yard.services.hand import Hand

from .conftest import NOW, Device, Ids

LOG = 'format = "waney-log/1"\nunits = "m"\ncurrency = "USD"\nspecies = "black walnut"\n'
LOG += "length = 2.5\npaid = 90\n[top]\ndiameter = 0.4\n"
COSTS = 'format = "waney-costs/1"\nunits = "m"\ncurrency = "USD"\nhourly = 40\nsealing = 6\nshed = 73.05\nsharing = "volume"\n'
PRICES = 'format = "waney-prices/1"\nunits = "m"\ncurrency = "USD"\n'
PRICES += '[[wood]]\nspecies = "black walnut"\ncubic_metre = 5000\npiece = 250\n'
TODAY = date(2026, 5, 4)


class Sawn:
    """A log of walnut with a plan, sawn into three pieces alike; one burnt. 2 m x 0.5 m x 50 mm each."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.book, self.log = book, ids()
        self.phone = phone = Device(book, ids)
        self.hand = Hand(book, ids(), "", lambda: NOW, ids)
        for what, text in ((Setting.COSTS, COSTS), (Setting.PRICES, PRICES)):
            phone.send(Settled(what, text))
        phone.send(LogArrived(self.log, LOG, "black walnut"))
        plan = ids()
        phone.send(PlanMade(plan, self.log, 1, book.files.keep(b"plan"), "through", 3, money_cents=(100_00, 300_00, 500_00)))
        phone.send(PlanChosen(self.log, plan), Read(f"log:{self.log}", 1))
        phone.send(EndsSealed(self.log, "2026-05-04"))
        self.ids = [ids() for _ in range(3)]
        for piece in self.ids:
            phone.send(CameOff(piece, log=self.log, species="black walnut", thickness_m=0.05, length_m=2.0, widths_m=(0.5, 0.5)))
        phone.send(PieceEnded(self.ids[2], PieceEnd.BURNT))
        phone.send(Spent(f"log:{self.log}", What.HOURS, hours=1.5))
        phone.send(Spent(f"piece:{self.ids[0]}", What.FLATTENING, 35_00))
        phone.send(Spent(f"piece:{self.ids[2]}", What.KILN, 7_00))

    def yard(self, today: date = TODAY) -> Yard:
        return Yard.of(self.book, today)


@pytest.fixture
def sawn(book: Book, ids: Ids) -> Sawn:
    return Sawn(book, ids)


def test_floors_are_what_was_paid_sealed_worked_and_lost(sawn: Sawn) -> None:
    """90 paid, 6 end coat, 1.5 h at 40 = 60, and 7 of the burnt piece: 163 over two alike; 35 flattening on the first."""
    costs = log_costs(sawn.yard(), sawn.log)
    assert [piece.floor_cents for piece in costs.pieces] == [81_50 + 35_00, 81_50] and costs.lost_cents == 7_00
    first = next(each for each in pieces(sawn.book) if each.id == sawn.ids[0])
    assert floor_of(sawn.yard(), first) == floor_of(Yard.around(sawn.book, TODAY, first), first) == 116_50
    burnt = next(each for each in pieces(sawn.book) if each.id == sawn.ids[2])
    with pytest.raises(BadCosting, match="is lost or was sawn up: it bears nothing"):
        floor_of(Yard.around(sawn.book, TODAY, burnt), burnt)
    with pytest.raises(BadCosting, match="a price above zero"):
        log_costs(sawn.yard(), sawn.log, Sharing.VALUE)


def test_shed_is_area_and_time(sawn: Sawn) -> None:
    """A m2 of floor (2 m x 0.5 m) for a year of 365.25 days at 73.05: 0.20 a day."""
    later = log_costs(sawn.yard(date(2026, 6, 13)), sawn.log)  # 40 days: 8.00 each, the burnt one's on the others
    assert [piece.floor_cents for piece in later.pieces] == [116_50 + 8_00 + 4_00, 81_50 + 8_00 + 4_00]


def test_a_log_stands_beside_its_plan_and_a_year_counts_what_was_sold(sawn: Sawn) -> None:
    selling.price_piece(sawn.hand, sawn.ids[1], 240_00)
    sale = selling.new_sale(sawn.hand, [PricedPiece(sawn.ids[0], 300_00)], "2026-05-04")
    selling.sell_pieces(sawn.hand, sale)
    [all_time] = year_of_logs(sawn.yard())
    assert (all_time.spent_cents, all_time.sold_cents, all_time.standing_cents) == (198_00, 300_00, 240_00)
    assert (all_time.net_cents, all_time.with_standing_cents, all_time.beside) == (102_00, 342_00, Beside.WITHIN)
    assert (all_time.hours, all_time.pieces_sold, all_time.pieces_left, all_time.species) == (1.5, 1, 1, "black walnut")
    [this_year] = year_of_logs(sawn.yard(), 2026)
    assert (this_year.spent_cents, this_year.sold_cents) == (116_50, 300_00)
    assert this_year.hours == pytest.approx(1.5 * 116.5 / 198)
    assert year_of_logs(sawn.yard(), 2025) == ()


def test_what_stays_of_a_return_and_of_a_deposit_is_earned_by_the_log(sawn: Sawn) -> None:
    """Sold for 108 with tax, 86.40 given back: 21.60 stays, 20.00 of it for the wood. Of a deposit of 50, 30 go back: 20 stay."""
    sale = selling.new_sale(sawn.hand, [PricedPiece(sawn.ids[0], 100_00)], "2026-05-04", taxes=[("sales tax", 8_00)])
    selling.sell_pieces(sawn.hand, sale)
    assert [row.kept_cents for row in year_of_logs(sawn.yard())] == [0]
    selling.take_pieces_back(sawn.hand, Returned(sale.sale, (sawn.ids[0],), 86_40))
    hold = selling.hold_for(sawn.hand, sawn.ids[:2], "Ann", "2026-05-11", 50_00)
    end_hold(sawn.hand, hold, returned_cents=30_00)
    assert [row.kept_cents for row in year_of_logs(sawn.yard(), 2026)] == [20_00], "of the deposit nothing is said yet"
    settle_deposit(sawn.hand, hold, 0, "2026-05-04")
    [row] = year_of_logs(sawn.yard(), 2026)
    assert (row.sold_cents, row.kept_cents, row.spent_cents, row.net_cents, row.pieces_sold) == (0, 40_00, 0, 40_00, 0)
    assert year_of_logs(sawn.yard(), 2025) == () and summed("all", [row, row]).kept_cents == 80_00


def test_a_sale_that_was_never_paid_and_came_back_keeps_nothing(sawn: Sawn) -> None:
    part = [PricedPiece(sawn.ids[0], 100_00)]
    sale = selling.new_sale(sawn.hand, part, "2026-05-04", paid_by=PaidBy.OWED)
    selling.sell_pieces(sawn.hand, sale)
    selling.take_pieces_back(sawn.hand, Returned(sale.sale, (sawn.ids[0],)))
    assert [row.kept_cents for row in year_of_logs(sawn.yard())] == [0]


def test_a_row_says_by_what_its_costs_were_shared_and_why_not_as_it_is_settled(sawn: Sawn) -> None:
    """Value is settled and no price is asked: by the piece, and the row says so; where all have one, by value."""
    sawn.phone.send(Settled(Setting.COSTS, COSTS.replace('"volume"', '"sales value"')))
    [row] = year_of_logs(sawn.yard())
    assert row.shared == "piece" and "a price above zero" in row.why_shared and row.spent_cents == 198_00
    assert summed("all", [row, replace(row, shared="volume")]).shared == "in several ways"
    for piece in sawn.ids[:2]:
        selling.price_piece(sawn.hand, piece, 50_00)
    [row] = year_of_logs(sawn.yard())
    assert (row.shared, row.why_shared) == ("sales value", "")


def test_three_prices_by_the_settled_sheet(sawn: Sawn) -> None:
    piece = next(each for each in pieces(sawn.book) if each.id == sawn.ids[0])
    assert [one.cents for one in price_ways(sawn.book, piece, TODAY)] == [250_00, None, 250_00]  # 0.05 m3 x 5000


def test_what_one_piece_has_cost_reads_its_own_log_alone(sawn: Sawn) -> None:
    selling.sell_pieces(sawn.hand, selling.new_sale(sawn.hand, [PricedPiece(sawn.ids[0], 300_00)], "2026-05-04"))
    other = PieceCounted(sawn.hand.new_id(), "cherry")
    sawn.phone.send(other)
    sawn.phone.send(Spent(f"piece:{other.piece}", What.OTHER, 55_00))
    selling.price_piece(sawn.hand, other.piece, 70_00)
    selling.price_piece(sawn.hand, sawn.ids[1], 90_00)
    first, stands = (next(each for each in pieces(sawn.book) if each.id == ident) for ident in (sawn.ids[0], other.piece))
    around, whole = Yard.around(sawn.book, TODAY, first), sawn.yard()
    assert log_costs(around, sawn.log) == log_costs(whole, sawn.log) and set(around.asked) == {sawn.ids[1]}
    assert set(around.came) == set(sawn.ids) and set(around.sold) == {sawn.ids[0]} and len(around.spent) == 3
    alone = Yard.around(sawn.book, TODAY, stands)
    assert [each.id for each in alone.pieces] == [other.piece] and floor_of(alone, stands) == floor_of(whole, stands) == 55_00
    assert not alone.sales and not alone.logs


def test_wood_without_a_log_costs_what_was_spent_on_it(sawn: Sawn) -> None:
    shelf = replace(PieceCounted(sawn.hand.new_id(), "cherry"), bought=True)
    sawn.phone.send(shelf)
    sawn.phone.send(Spent(f"piece:{shelf.piece}", What.OTHER, 55_00))
    assert [(row.name, row.spent_cents) for row in year_of_logs(sawn.yard())][1:] == [("wood without a log", 55_00)]
    at = datetime(2026, 5, 4, tzinfo=UTC).date()
    assert floor_of(sawn.yard(at), next(each for each in pieces(sawn.book) if each.id == shelf.piece)) == 55_00
