"""Whose wood it is: a customer's, and what is cut out of it, is none of the shop's; the sawyer's share is."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from waney.trade.way_paid import How
from waney.yard.acts.mill import CameOff, Transform
from waney.yard.acts.pieces import PieceEnd
from waney.yard.acts.promises import PricedPiece
from waney.yard.book.applying.custom import owner_of
from waney.yard.book.book import Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.engine import reading
from waney.yard.book.examining import examine
from waney.yard.book.looking import pieces
from waney.yard.book.shelf import Database
from waney.yard.problems import NotPossible
from waney.yard.services import selling
from waney.yard.services.counting import begin_count, count_at, see_tag, told
from waney.yard.services.custom import (
    part,
    suggested_parting,
    write_bill,
)
from waney.yard.services.earning import Yard, sawn_for_others, year_of_logs
from waney.yard.services.for_sale import on_sale
from waney.yard.services.mill import take_off
from waney.yard.services.parts import Part, cut_into_parts
from waney.yard.services.pieces import end_piece
from waney.yard.services.record import drying_and_sales

from .conftest import Ids
from .six_logs import BESIDE, HOURS, Six, six_logs


@pytest.fixture
def six(book: Book, ids: Ids) -> Six:
    return six_logs(book, ids)


def test_a_customers_wood_is_never_sold_and_is_none_of_the_years_logs_but_the_sawyers_share_is(six: Six) -> None:
    six.agree(How.SHARES)
    six.saw()
    job = six.job()
    names = {piece.name: piece.id for some in job.pieces.values() for piece in some}
    kept = [names[name] for name in suggested_parting(job)]
    part(six.hand, six.custom, kept)
    theirs = next(ident for ident in names.values() if ident not in kept)
    with pytest.raises(NotPossible, match="belongs to whoever brought its log"):
        selling.sell_to(six.hand, [PricedPiece(theirs, 50_00)], "Ann", "2026-05-06")
    assert {piece.id for piece in selling.free_pieces(six.book, "2026-05-06")} == set(kept)
    selling.sell_to(six.hand, [PricedPiece(kept[0], 50_00)], "Ann", "2026-05-06")
    with pytest.raises(NotPossible, match="can no longer go to the customer"):
        part(six.hand, six.custom, kept[1:])
    write_bill(six.hand, six.custom, "2026-05-06")
    yard = Yard.of(six.book, date(2026, 5, 7))
    [row] = year_of_logs(yard, 2026)
    assert (row.name, row.sold_cents) == ("wood without a log", 50_00) and theirs in customers_pieces(six.book)
    others = sawn_for_others(yard, 2026)
    assert others is not None and others.sold_cents == sum(BESIDE)
    assert others.hours == pytest.approx(float(sum(map(Fraction, HOURS.values()))) + 0.75 + 1.0)
    assert sawn_for_others(yard, 2025) is None


def shared(six: Six) -> tuple[list[str], list[str]]:
    """Agreed on shares, sawn and parted: ids of what stays with the sawyer, and of what does not."""
    six.agree(How.SHARES)
    six.saw()
    job = six.job()
    names = {piece.name: piece.id for some in job.pieces.values() for piece in some}
    kept = [names[name] for name in suggested_parting(job)]
    part(six.hand, six.custom, kept)
    return kept, [ident for ident in names.values() if ident not in kept]


def test_what_is_cut_out_of_a_piece_is_whose_the_piece_was(six: Six) -> None:
    kept, theirs = shared(six)
    ours, others = (
        cut_into_parts(six.hand, whole, Transform.CROSSCUT, [Part(length_m=1.0)] * 2) for whole in (kept[0], theirs[0])
    )
    post = six.hand.new_id()
    take_off(six.hand, CameOff(post, parent=theirs[1]))  # nobody named its log
    found = customers_pieces(six.book)
    assert found >= {*theirs, *others, post} and not found & {*kept, *ours}
    with reading(six.book.engine) as at:
        every = [piece.id for piece in pieces(six.book)]
        assert {piece for piece in every if owner_of(Database(at), piece)} == found
    for piece in (ours[0], others[0], post):
        selling.price_piece(six.hand, piece, 50_00)
    assert [one.piece.id for one in on_sale(six.book, "2026-05-06")] == [ours[0]]
    with pytest.raises(NotPossible, match="belongs to whoever brought its log"):
        selling.sell_to(six.hand, [PricedPiece(others[0], 50_00)], "Ann", "2026-05-06")
    names = {piece.id: piece.name for piece in pieces(six.book)}
    assert set(six.job().kept) == {names[piece] for piece in (*kept[1:], *ours)}
    selling.sell_to(six.hand, [PricedPiece(ours[0], 50_00)], "Ann", "2026-05-06")
    with pytest.raises(NotPossible, match="is sold, so it can no longer go to the customer"):
        part(six.hand, six.custom, [*kept[1:], ours[1]])
    part(six.hand, six.custom, [*kept[1:], *ours])
    assert examine(six.book).unsound == ()


def test_what_stayed_with_the_sawyer_goes_to_the_customer_when_another_way_is_agreed(six: Six) -> None:
    kept, theirs = shared(six)
    six.agree(How.HOUR)
    assert customers_pieces(six.book) == {*kept, *theirs} and six.job().kept == ()
    six.agree(How.SHARES)
    part(six.hand, six.custom, kept)
    selling.sell_to(six.hand, [PricedPiece(kept[0], 50_00)], "Ann", "2026-05-06")
    with pytest.raises(NotPossible, match="is sold, so it can no longer go to the customer"):
        six.agree(How.HOUR)
    assert examine(six.book).unsound == ()


def test_a_customers_wood_is_none_of_the_stock_and_none_of_the_shops_losses(six: Six) -> None:
    kept, theirs = shared(six)
    count = count_at(six.book, begin_count(six.hand))
    see_tag(six.hand, count.id, next(piece.name for piece in pieces(six.book) if piece.id == theirs[0]))
    found = told(six.book, count, "2026-05-06")
    assert {line.stands.id for line in found.not_found} == set(kept)
    assert [(line.stands.id, line.away) for line in found.away] == [(theirs[0], "a customer's")]
    for piece in (*kept, *theirs):
        end_piece(six.hand, piece, PieceEnd.LOST)
    assert drying_and_sales(six.book).losses == (), "of no log three boards were the shop's"
