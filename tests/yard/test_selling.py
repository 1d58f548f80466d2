"""A piece is promised once: holds, requests from out of reach, leases, sales, returns; money is always written."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from waney.trade.costing import What
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.people_places import Moved, PersonAdded, PersonForgotten, SpotNamed
from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded, SetMade
from waney.yard.acts.promises import DepositSettled, HoldAsked, LeaseClosed, PricedPiece
from waney.yard.acts.sales import PaidBy, Returned, SoldAway, Spent
from waney.yard.acts.stacks import IntoKiln, MoistureRead, OutOfKiln, ReadBy
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.around import buyers, people
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.looking import PieceStands, open_tasks, pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.book.selling_seen import (
    asked_in_vain,
    holds,
    leases,
    money_taken,
    prices_asked,
    promises,
    sales,
    wishes,
)
from waney.yard.book.spent_seen import spent_on
from waney.yard.commands import Command, Read, write_commands
from waney.yard.problems import BadAct, NotPossible, Stale
from waney.yard.services import deposits, selling
from waney.yard.services.hand import Hand
from waney.yard.services.lists import Came, take_in
from waney.yard.services.nearest import others_like
from waney.yard.services.quotes import quote_pieces
from waney.yard.services.spending import note_spent

from .conftest import NOW, Device, Ids

TODAY, FRIDAY, LATER = "2026-05-04", "2026-05-08", "2026-06-30"


class Shop:
    """A book with some pieces of walnut, two buyers, a laptop at the desk."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.book, self.ids, self.now = book, ids, NOW
        self.phone = Device(book, ids)
        self.hand = Hand(book, ids(), "", lambda: self.now, ids)
        self.pieces = [ids() for _ in range(4)]
        for n, piece in enumerate(self.pieces):
            self.phone.send(
                PieceCounted(piece, "black walnut" if n % 2 else "Juglans nigra", "", 0.054, 2.4 + 0.1 * n, (0.40, 0.45))
            )
        self.ann, self.ben = (selling.add_buyer(self.hand, called).id for called in ("Ann", "Ben"))

    def stands(self, piece: str) -> PieceStands:
        return next(each for each in pieces(self.book) if each.id == piece)

    def sell(self, *some: str, person: str = "", hold: str = "", breaks_set: bool = False, cents: int = 100_00) -> str:
        from dataclasses import replace

        sale = selling.new_sale(self.hand, [PricedPiece(piece, cents) for piece in some], TODAY, person)
        selling.sell_pieces(self.hand, replace(sale, hold=hold, breaks_set=breaks_set))
        return sale.sale

    def sold_away(self, *some: str, lease: str = "", cents: int = 80_00) -> SoldAway:
        parts = tuple(PricedPiece(piece, cents) for piece in some)
        return SoldAway(self.ids(), parts, TODAY, paid_cents=cents * len(parts), lease=lease)

    def tasks(self) -> list[str]:
        return [task.kind for task in open_tasks(self.book) if not task.words.startswith("No tag yet")]

    def sound(self) -> None:
        with reading(self.book.engine) as at:
            assert standing(at) == standing_anew(at)


@pytest.fixture
def shop(book: Book, ids: Ids) -> Shop:
    return Shop(book, ids)


def test_two_buyers_at_once_and_the_second_is_told_why(shop: Shop) -> None:
    [piece, *_] = shop.pieces
    read = Read(f"piece:{piece}", 1)
    other = Device(shop.book, shop.ids)
    selling.hold_pieces(shop.hand, shop.ann, [piece], FRIDAY, 50_00)
    sale = selling.new_sale(shop.hand, [PricedPiece(piece, 1)], TODAY, shop.ben)
    with pytest.raises(Stale, match="held"):  # who looked before the hold was written
        other.send(sale, read, Read(f"sale:{sale.sale}", 0))
    with pytest.raises(NotPossible, match=r"A-1-\w is held for somebody; look again"):  # who looks now and tries all the same
        shop.sell(piece, person=shop.ben)
    with pytest.raises(NotPossible, match="held"):
        selling.hold_pieces(shop.hand, shop.ben, [piece], FRIDAY)
    assert promises(shop.book, TODAY)[piece].called == "Ann" and money_taken(shop.book) == 50_00
    shop.sound()


def test_a_hold_leads_to_a_sale_with_its_deposit_counted(shop: Shop) -> None:
    one, other, *_ = shop.pieces
    hold = selling.hold_pieces(shop.hand, shop.ann, [one, other], FRIDAY, 50_00).id
    with pytest.raises(NotPossible, match="somebody else than the buyer"):
        shop.sell(one, person=shop.ben, hold=hold)
    sale = shop.sell(one, person=shop.ann, hold=hold)
    [told] = sales(shop.book, sale=sale)
    assert (told.called, told.paid_cents, told.owed_cents) == ("Ann", 150_00, -50_00)
    assert shop.stands(one).ended == "sold" and other not in promises(shop.book, TODAY)
    with pytest.raises(NotPossible, match="does not stand"):
        shop.sell(other, person=shop.ann, hold=hold)
    shop.sound()


def test_who_takes_one_of_two_that_are_held_keeps_the_hold_on_the_other(shop: Shop) -> None:
    """90 asked for one and 10 for the other: of 50.01 deposited, 45.01 goes with the first (the odd cent by the larger part)."""
    one, other, *_ = shop.pieces
    for piece, cents in ((one, 90_00), (other, 10_00)):
        selling.price_piece(shop.hand, piece, cents)
    hold = selling.hold_pieces(shop.hand, shop.ann, [one, other], FRIDAY, 50_01).id
    first = selling.sell_to(shop.hand, [PricedPiece(one, 90_00)], "Ann", TODAY)
    assert promises(shop.book, TODAY)[other].called == "Ann" and [each.ended for each in holds(shop.book)] == [""]
    [sale] = sales(shop.book, sale=first)
    assert (sale.paid_cents, sale.owed_cents, money_taken(shop.book)) == (90_00, 0, 50_01 + 90_00 - 45_01)
    assert [(each.cents, each.over) for each in deposits.deposits(shop.book, TODAY)] == [(5_00, False)]
    with pytest.raises(NotPossible, match="held"):
        selling.sell_to(shop.hand, [PricedPiece(other, 10_00)], "Ben", TODAY)
    selling.sell_to(shop.hand, [PricedPiece(other, 4_00)], "Ann", TODAY)
    assert [each.ended for each in holds(shop.book)] == ["sold"] and money_taken(shop.book) == 90_00 + 5_00
    assert [(each.cents, each.over) for each in deposits.deposits(shop.book, TODAY)] == [(1_00, True)], "more than was bought"
    deposits.settle_deposit(shop.hand, hold, 1_00, TODAY)
    assert deposits.deposits(shop.book, TODAY) == () and money_taken(shop.book) == 94_00
    shop.sound()


def test_a_sale_that_does_not_say_what_of_a_deposit_goes_in_takes_it_whole_as_in_older_books(shop: Shop) -> None:
    one, other, *_ = shop.pieces
    hold = selling.hold_pieces(shop.hand, shop.ann, [one, other], FRIDAY, 50_00).id
    shop.sell(one, person=shop.ann, hold=hold)
    assert deposits.deposits(shop.book, TODAY) == () and [each.ended for each in holds(shop.book)] == ["sold"]
    more = selling.hold_pieces(shop.hand, shop.ann, [other], FRIDAY, 50_00).id
    sale = selling.new_sale(shop.hand, [PricedPiece(other, 90_00)], TODAY, shop.ann)
    with pytest.raises(NotPossible, match="Less of the deposit is left"):
        selling.sell_pieces(shop.hand, replace(sale, hold=more, deposit_cents=50_01))
    with pytest.raises(BadAct, match="name the hold"):
        replace(sale, deposit_cents=1)


def test_a_deposit_outlives_its_hold_until_somebody_says_what_becomes_of_it(shop: Shop) -> None:
    one, other, *_ = shop.pieces
    hold = selling.hold_pieces(shop.hand, shop.ann, [one], TODAY, 50_00).id
    with pytest.raises(NotPossible, match="still stands"):
        deposits.settle_deposit(shop.hand, hold, 50_00, TODAY)
    shop.now = NOW + timedelta(days=1)
    later = shop.now.date().isoformat()
    assert [(each.cents, each.over) for each in deposits.deposits(shop.book, later)] == [(50_00, True)]
    shop.sell(one, person=shop.ben)
    [left] = deposits.deposits(shop.book, later, shop.ann)
    assert (left.hold.called, left.hold.ended, left.cents) == ("Ann", "ran out", 50_00)
    with pytest.raises(NotPossible, match="no more than lies here"):
        deposits.settle_deposit(shop.hand, hold, 50_01, later)
    deposits.settle_deposit(shop.hand, hold, 30_00, later)
    assert deposits.deposits(shop.book, later) == () and money_taken(shop.book) == 120_00
    with pytest.raises(NotPossible, match="Nothing of this deposit lies here"):
        deposits.settle_deposit(shop.hand, hold, 0, later)
    shop.phone.send(DepositSettled(hold, 1))
    assert shop.tasks() == ["two facts that cannot both be so"] and money_taken(shop.book) == 120_00
    free = selling.hold_pieces(shop.hand, shop.ann, [other], TODAY, 10_00).id
    deposits.end_hold(shop.hand, free)
    assert [each.hold.id for each in deposits.deposits(shop.book, later)] == [free], "nobody said that it is kept"
    shop.sound()


def test_a_hold_runs_out_by_the_clock_of_the_book(shop: Shop) -> None:
    [piece, *_] = shop.pieces
    hold = selling.hold_pieces(shop.hand, shop.ann, [piece], TODAY).id
    assert promises(shop.book, TODAY)[piece].stands and not promises(shop.book, "2026-05-05")[piece].stands
    shop.now = NOW + timedelta(days=1)
    shop.sell(piece, person=shop.ben)
    assert [each.ended for each in holds(shop.book) if each.id == hold] == ["ran out"]
    shop.sound()


def test_holds_asked_out_of_reach_are_granted_in_order_of_arrival_and_the_loser_is_named(shop: Shop) -> None:
    piece, free, *_ = shop.pieces
    phones = [Device(shop.book, shop.ids) for _ in range(2)]
    asked = [HoldAsked(shop.ids(), person, (piece,), FRIDAY) for person in (shop.ben, shop.ann)]
    queues = [phone.command(act) for phone, act in zip(phones, asked, strict=True)]
    for phone, command in zip(phones, queues, strict=True):  # Ben's phone comes into reach first
        [taken] = take_in(shop.book, write_commands(phone.id, (command,)), NOW)
        assert taken.came is Came.WRITTEN
    assert promises(shop.book, TODAY)[piece].called == "Ben"
    [lost] = asked_in_vain(shop.book)
    assert (lost.called, lost.first_called) == ("Ann", "Ben")
    [sentence] = selling.came_second(shop.book).values()
    assert sentence.startswith("Ann asked for A-1-") and sentence.endswith("Ben was first.")
    assert shop.tasks() == ["somebody else was first"]
    deposits.end_hold(shop.hand, lost.hold)
    assert selling.came_second(shop.book) == {}
    phones[0].send(HoldAsked(shop.ids(), shop.ann, (free,), FRIDAY))
    assert promises(shop.book, TODAY)[free].called == "Ann"
    shop.sound()


def test_market_day_with_the_phone_cut_off(shop: Shop) -> None:
    sold, home, missing, stays = shop.pieces
    lease = selling.take_along(shop.hand, [sold, home, missing], TODAY, "market in Alder Hollow", shop.phone.id).id
    with pytest.raises(NotPossible, match="taken along"):
        shop.sell(sold)
    queue = [
        shop.phone.command(shop.sold_away(sold, lease=lease)),
        shop.phone.command(shop.sold_away(stays)),  # not taken along, sold from a photo
        shop.phone.command(LeaseClosed(lease, (home,))),
    ]
    shop.sell(stays, person=shop.ann)  # meanwhile at the desk
    assert all(each.came is Came.WRITTEN for each in take_in(shop.book, write_commands(shop.phone.id, tuple(queue)), NOW))
    assert shop.stands(sold).ended == "sold" and shop.stands(home).ended == "" and not promises(shop.book, TODAY).get(home)
    assert sorted(shop.tasks()) == ["did not come home", "money was taken for a piece that is gone"]
    assert money_taken(shop.book) == 80_00 + 80_00 + 100_00, "money that was taken is always written"
    gone = [part for sale in sales(shop.book) for part in sale.pieces if part.gone]
    assert [part.piece for part in gone] == [stays]
    assert [each.id for each in others_like(shop.book, stays, TODAY)] == [missing, home], "the nearest in length first"
    [closed] = leases(shop.book)
    assert closed.closed and dict(closed.home) == {sold: None, home: True, missing: False}
    shop.sound()


def test_what_comes_back_to_the_stall_is_still_the_stalls_to_sell(shop: Shop) -> None:
    first, second, *_ = shop.pieces
    lease = selling.take_along(shop.hand, [first, second], TODAY, "", shop.phone.id).id
    sold = [shop.sold_away(piece, lease=lease) for piece in (first, second)]
    for act in sold:
        shop.phone.send(act)
    shop.phone.send(Returned(sold[0].sale, (first,), 80_00))
    assert promises(shop.book, TODAY)[first].kind == "lease"
    with pytest.raises(NotPossible, match="taken along"):
        shop.sell(first)
    selling.take_pieces_back(shop.hand, Returned(sold[1].sale, (second,), 80_00))  # over the desk: here it is free
    shop.sell(second)
    shop.phone.send(shop.sold_away(first, lease=lease))
    assert shop.stands(first).ended == "sold" and shop.tasks() == []
    shop.sound()


def test_whoever_comes_too_late_is_shown_only_what_is_free_in_no_kiln_and_as_dry(shop: Shop) -> None:
    gone, near, wet, away = shop.pieces  # of walnut, each 10 cm longer than the one before
    thick, ash = shop.ids(), shop.ids()
    shop.phone.send(PieceCounted(thick, "black walnut", "", 0.027, 2.4, (0.40, 0.45)))  # half as thick: further off than any
    shop.phone.send(PieceCounted(ash, "white ash", "", 0.054, 2.4, (0.40, 0.45)))

    def offered() -> list[str]:
        return [each.id for each in others_like(shop.book, gone, TODAY)]

    shop.sell(gone)
    assert offered() == [near, wet, away]
    load = shop.ids()
    shop.phone.send(IntoKiln(load, "kiln", (), (away,)))
    assert offered() == [near, wet, thick]
    for piece, mc in ((gone, 0.08), (wet, 0.28), (near, 0.08), (thick, 0.09), (away, 0.08)):
        shop.phone.send(MoistureRead(f"piece:{piece}", mc, ReadBy.PINS, corrected=True))
    assert offered() == [near, thick]
    selling.hold_pieces(shop.hand, shop.ann, [near], FRIDAY)
    shop.phone.send(OutOfKiln(load))  # nobody read it since: a dry one is not stood in for by it
    assert offered() == [thick]
    assert [each.id for each in others_like(shop.book, gone, "2026-05-09")] == [near, thick], "the hold ran out"


def test_part_of_a_set_is_sold_only_when_somebody_says_so(shop: Shop) -> None:
    first, second, third, _ = shop.pieces
    shop.phone.send(SetMade(shop.ids(), (first, second, third), "boule"))
    with pytest.raises(NotPossible, match=r"part of a set; the rest of it is A-2-\w, A-3-\w\."):
        shop.sell(first)
    shop.phone.send(HoldAsked(shop.ids(), shop.ann, (first,), FRIDAY))
    assert len(asked_in_vain(shop.book)) == 1
    shop.sell(first, breaks_set=True)
    shop.sell(second, third)
    shop.sound()


def test_a_return_frees_the_piece_and_gives_the_money_back(shop: Shop) -> None:
    [piece, *_] = shop.pieces
    rack = shop.ids()
    shop.phone.send(SpotNamed(rack, "rack 2"))
    sale = shop.sell(piece, person=shop.ann)
    back = Returned(sale, (piece,), 90_00, rack, "a check on the back")
    selling.take_pieces_back(shop.hand, back)
    assert (shop.stands(piece).ended, shop.stands(piece).spot, money_taken(shop.book)) == ("", rack, 10_00)
    selling.take_pieces_back(shop.hand, back)  # told twice: a task, no second refund
    assert shop.tasks() == ["two facts that cannot both be so"] and money_taken(shop.book) == 10_00
    shop.sell(piece, person=shop.ben)
    assert sales(shop.book, shop.ann)[0].pieces[0].returned
    shop.sound()


def test_a_sold_piece_may_still_be_moved_and_one_that_burns_is_asked_about(shop: Shop) -> None:
    sold, held, *_ = shop.pieces
    rack = shop.ids()
    shop.phone.send(SpotNamed(rack, "by the door"))
    shop.sell(sold)
    shop.phone.send(Moved(f"piece:{sold}", rack))
    assert shop.stands(sold).spot == rack and shop.tasks() == []
    selling.hold_pieces(shop.hand, shop.ann, [held], FRIDAY)
    shop.phone.send(PieceEnded(held, PieceEnd.BURNT))
    assert shop.tasks() == ["a promised piece is no more"]
    with pytest.raises(NotPossible, match="no more"):
        shop.sell(held, person=shop.ann)
    shop.sound()


def test_quotes_keep_nothing_back_and_prices_are_kept(shop: Shop) -> None:
    [piece, *_] = shop.pieces
    selling.price_piece(shop.hand, piece, 240_00, "by volume")
    quote_pieces(shop.hand, shop.ann, [PricedPiece(piece, 220_00)], FRIDAY)
    assert prices_asked(shop.book) == {piece: (240_00, "by volume")}
    shop.sell(piece, person=shop.ben)
    with pytest.raises(NotPossible, match="is sold"):
        quote_pieces(shop.hand, shop.ann, [PricedPiece(piece, 200_00)], FRIDAY)
    selling.price_piece(shop.hand, piece, None)
    assert prices_asked(shop.book) == {}
    shop.sound()


def test_a_wish_is_met_while_it_stands_and_goes_with_the_name(shop: Shop) -> None:
    wish = WishLeft(shop.ids(), shop.ann, LATER, "walnut_black", 0.05, 0.06, 0.38, 2.55)
    selling.leave_wish(shop.hand, wish)
    [met] = selling.wishes_met(shop.book, TODAY)
    assert (met.wish.called, [piece.id for piece in met.pieces]) == ("Ann", [shop.pieces[3], shop.pieces[2]])
    shop.sell(shop.pieces[3], shop.pieces[2])
    assert selling.wishes_met(shop.book, TODAY) == () and wishes(shop.book, "2026-07-01") == ()
    shop.phone.send(PersonForgotten(shop.ann), Read(f"person:{shop.ann}", 2))
    assert wishes(shop.book, TODAY) == ()
    shop.phone.send(WishLeft(shop.ids(), shop.ann, LATER))  # a phone that had it still
    assert wishes(shop.book, TODAY) == ()
    shop.sound()


def test_somebody_who_bought_is_forgotten_while_the_sums_stay(shop: Shop) -> None:
    sale = shop.sell(shop.pieces[0], person=shop.ann)
    shop.phone.send(PersonForgotten(shop.ann), Read(f"person:{shop.ann}", 2))
    [told] = sales(shop.book, sale=sale)
    assert (told.called, told.pieces_cents, money_taken(shop.book)) == ("somebody", 100_00, 100_00)
    assert [each.called for each in buyers(shop.book)] == ["Ben"]
    with reading(shop.book.engine) as at:
        assert "Ann" not in repr(standing(at))
    shop.sound()


def test_who_buys_does_not_work_here(shop: Shop) -> None:
    worker = shop.ids()
    shop.phone.send(PersonAdded(worker, "Cy"))
    assert [each.called for each in people(shop.book)] == ["Cy"]
    assert [each.called for each in buyers(shop.book)] == ["Ann", "Ben"]


def test_what_was_spent_is_told_as_money_or_hours(shop: Shop) -> None:
    piece = f"piece:{shop.pieces[0]}"
    note_spent(shop.hand, Spent(piece, What.FLATTENING, 35_00))
    slip = shop.phone.command(Spent(piece, What.HOURS, hours=1.5))
    shop.book.send(slip, NOW)
    assert [(each.what, each.cents, each.hours) for each in spent_on(shop.book)] == [
        ("flattening", 35_00, None),
        ("hours", None, 1.5),
    ]
    shop.phone.send(TakenBack(slip.id, piece))
    assert len(spent_on(shop.book)) == 1
    with pytest.raises(BadAct, match="one of them"):
        Spent(piece, What.KILN)
    shop.sound()


def test_money_may_come_later(shop: Shop) -> None:
    sale = selling.new_sale(shop.hand, [PricedPiece(shop.pieces[0], 100_00)], TODAY, shop.ann, [("tax", 6_00)], PaidBy.OWED)
    selling.sell_pieces(shop.hand, sale)
    selling.pay(shop.hand, f"sale:{sale.sale}", 60_00, PaidBy.CHECK)
    [told] = sales(shop.book)
    assert (told.owed_cents, told.taxes) == (46_00, (("tax", 6_00),))


@pytest.mark.parametrize(("by", "refund", "owed"), [(PaidBy.CASH, 84_80, 0), (PaidBy.OWED, 0, 127_20)])
def test_what_came_back_is_owed_no_more_nor_its_tax(shop: Shop, by: PaidBy, refund: int, owed: int) -> None:
    """80 and 120 with 6 %: 212 in all, 84.80 of it for the first."""
    first, second, *_ = shop.pieces
    parts = [PricedPiece(first, 80_00), PricedPiece(second, 120_00)]
    sale = selling.new_sale(shop.hand, parts, TODAY, shop.ann, [("tax", 12_00)], by)
    selling.sell_pieces(shop.hand, sale)
    selling.take_pieces_back(shop.hand, Returned(sale.sale, (first,), refund))
    [told] = sales(shop.book)
    assert (told.owed_cents, told.back_cents) == (owed, 84_80)
    assert (told.taxes_of(first), told.taxes_of(second)) == ((("tax", 4_80),), (("tax", 7_20),))


def test_a_request_that_comes_before_its_buyer_waits(shop: Shop) -> None:
    who = shop.ids()
    shop.phone.send(HoldAsked(shop.ids(), who, (shop.pieces[0],), FRIDAY))
    assert promises(shop.book, TODAY) == {}
    shop.phone.send(PersonAdded(who, "Dee"))
    assert promises(shop.book, TODAY)[shop.pieces[0]].called == "Dee"
    shop.sound()


def at(day: str) -> datetime:
    return datetime.fromisoformat(f"{day}T10:00:00").replace(tzinfo=UTC)


def test_the_same_request_sent_twice_is_one(shop: Shop) -> None:
    command: Command = shop.phone.command(HoldAsked(shop.ids(), shop.ann, (shop.pieces[0],), FRIDAY))
    shop.book.send(command, NOW)
    assert shop.book.send(command, at("2026-05-05")).before and len(holds(shop.book)) == 1
