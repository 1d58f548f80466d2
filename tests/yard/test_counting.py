"""A stock count: what is there, not found, elsewhere, gone; put right by later acts, and told the same long after."""

from __future__ import annotations

from datetime import timedelta

import pytest

from waney.yard.acts.counts import CountBegun, TagSeen
from waney.yard.acts.mill import Transform
from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded
from waney.yard.acts.promises import PricedPiece
from waney.yard.book.book import Book
from waney.yard.book.counting_seen import counts, seen
from waney.yard.book.engine import reading
from waney.yard.book.looking import PieceStands, history, open_tasks, pieces
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.problems import BadName
from waney.yard.services import counting, selling
from waney.yard.services.counting import Listed
from waney.yard.services.hand import Hand
from waney.yard.services.parts import Part, cut_into_parts
from waney.yard.services.pieces import move, name_spot

from .conftest import NOW, Device, Ids

TODAY = "2026-05-04"


class Yard:
    """A shed with a rack in it, and the mill; three pieces in each of shed and rack, one by the mill."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.now = NOW
        self.book, self.ids = book, ids
        self.hand = Hand(book, ids(), "", lambda: self.now, ids)
        self.shed = name_spot(self.hand, "Shed").id
        self.rack = name_spot(self.hand, "Rack 2", self.shed).id
        self.mill = name_spot(self.hand, "By the mill").id
        self.pieces = [self.piece(spot) for spot in (self.shed, self.shed, self.rack, self.rack, self.mill)]
        self.count = counting.begin_count(self.hand, self.shed)

    def piece(self, spot: str) -> str:
        piece = self.ids()
        self.hand.write(PieceCounted(piece, "ash", "", 0.05, 2.4, (0.2, 0.3), spot))
        return piece

    def stands(self, piece: str) -> PieceStands:
        return next(each for each in pieces(self.book) if each.id == piece)

    def see(self, *some: str) -> None:
        for piece in some:
            counting.see_tag(self.hand, self.count, self.stands(piece).name)

    def told(self) -> dict[str, set[str]]:
        told = counting.told(self.book, counting.count_at(self.book, self.count), TODAY)
        assert told.missing == len(told.not_found)
        tags = {tag.piece for tag in seen(self.book, self.count)}
        every = counting.looked_for(self.book, counting.count_at(self.book, self.count), TODAY)
        looked = {line.stands.id for line in every if line.expected and line.stands.id not in tags}
        assert looked == {line.stands.id for line in told.not_found}, "what a phone takes along and what the book counts agree"
        named = {"counted": told.counted, "missing": told.not_found, "elsewhere": told.elsewhere, "away": told.away}
        return {name: {line.stands.id for line in lines} for name, lines in named.items()}

    def line(self, piece: str) -> Listed:
        found = counting.looked_for(self.book, counting.count_at(self.book, self.count), TODAY, [piece])
        return counting.in_full(self.book, found)[0]

    def sound(self) -> None:
        with reading(self.book.engine) as at:
            assert standing(at) == standing_anew(at)


@pytest.fixture
def yard(book: Book, ids: Ids) -> Yard:
    return Yard(book, ids)


def test_a_count_tells_what_is_there_not_found_elsewhere_and_gone(yard: Yard) -> None:
    one, sold, burnt, missing, elsewhere = yard.pieces
    selling.sell_pieces(yard.hand, selling.new_sale(yard.hand, [PricedPiece(sold, 1)], TODAY))
    yard.hand.write(PieceEnded(burnt, PieceEnd.BURNT))
    yard.see(one, sold, burnt, elsewhere)
    assert yard.told() == {"counted": {one}, "missing": {missing}, "elsewhere": {elsewhere}, "away": {sold, burnt}}
    assert [yard.line(piece).away for piece in (sold, burnt)] == ["sold", "burnt"]
    yard.sound()


def test_what_is_put_right_stands_in_the_history_of_the_piece(yard: Yard) -> None:
    _, _, burnt, missing, elsewhere = yard.pieces
    yard.hand.write(PieceEnded(burnt, PieceEnd.BURNT))
    yard.see(burnt, elsewhere)
    counting.is_here(yard.hand, yard.line(burnt), yard.rack)
    counting.is_here(yard.hand, yard.line(elsewhere), yard.rack)
    counting.lose(yard.hand, yard.line(missing))
    assert (yard.stands(burnt).ended, yard.stands(elsewhere).spot, yard.stands(missing).ended) == ("", yard.rack, "lost")
    assert yard.told()["away"] == yard.told()["elsewhere"] == set() and missing not in yard.told()["missing"]
    kinds = [event.kind for event in history(yard.book, f"piece:{burnt}")]
    assert kinds == ["piece-counted", "piece-ended", "tag-seen", "taken-back", "moved"]
    assert not [task for task in open_tasks(yard.book) if "tag" not in task.words]
    yard.sound()


def test_what_was_cut_up_is_not_there_again_beside_its_parts(yard: Yard) -> None:
    whole, slip, *_ = yard.pieces
    parts = cut_into_parts(yard.hand, whole, Transform.CROSSCUT, [Part(length_m=1.0)] * 2)
    yard.hand.write(PieceEnded(slip, PieceEnd.SAWN))  # and nobody told what came of it
    yard.see(whole, slip)
    assert yard.told()["away"] == {whole, slip} and yard.told()["missing"] >= set(parts)
    assert yard.line(whole).end == "" and yard.line(slip).end != ""


def test_a_count_that_is_over_is_told_the_same_whatever_happens_later(yard: Yard) -> None:
    one, two, three, missing, elsewhere = yard.pieces
    yard.see(one, two, three, elsewhere)
    counting.end_count(yard.hand, yard.count)
    before = yard.told()
    assert before == {"counted": {one, two, three}, "missing": {missing}, "elsewhere": {elsewhere}, "away": set()}
    yard.now += timedelta(days=30)
    selling.sell_pieces(yard.hand, selling.new_sale(yard.hand, [PricedPiece(one, 1)], TODAY))
    move(yard.hand, f"piece:{two}", yard.mill)
    yard.piece(yard.shed)
    assert yard.told() == before
    yard.sound()


def test_what_is_not_found_says_where_it_was_seen_last_and_when(yard: Yard) -> None:
    piece = yard.pieces[3]
    assert (yard.line(piece).last_on, yard.line(piece).piece.spot_called) == ("2026-05-04", "Rack 2")
    yard.now += timedelta(days=3)
    yard.see(piece)
    selling.price_piece(yard.hand, piece, 5)  # at the desk: nobody saw it
    yard.now += timedelta(days=3)
    yard.count = counting.begin_count(yard.hand)
    assert yard.line(piece).last_on == "2026-05-07"


def test_what_was_taken_along_is_not_looked_for(yard: Yard) -> None:
    selling.take_along(yard.hand, yard.pieces[:1], TODAY)
    assert yard.pieces[0] not in yard.told()["missing"]
    assert yard.line(yard.pieces[0]).away == "taken along to be sold"


def test_a_slip_is_taken_back_and_a_tag_that_stands_on_nothing_is_kept(yard: Yard, ids: Ids) -> None:
    yard.see(yard.pieces[0], yard.pieces[1])
    counting.take_tag_back(yard.hand, seen(yard.book, yard.count)[-1])
    assert yard.told()["counted"] == {yard.pieces[0]}
    counting.see_tag(yard.hand, yard.count, "AB-12-P")
    told = counting.told(yard.book, counting.count_at(yard.book, yard.count), TODAY)
    assert told.unknown == ("AB-12-P",)
    with pytest.raises(BadName, match="check character"):
        counting.see_tag(yard.hand, yard.count, "AB-12-R")
    assert counts(yard.book)[0].tags == 2
    yard.sound()


def test_a_tag_that_a_phone_did_not_know_is_the_piece_that_bears_it_when_it_arrives(yard: Yard, ids: Ids) -> None:
    phone, later = Device(yard.book, ids), ids()
    count, name = ids(), yard.stands(yard.pieces[4]).name
    phone.send(TagSeen(count, name))  # the phone's list was older than the piece; the count itself arrives after
    phone.send(CountBegun(count))
    assert [tag.piece for tag in seen(yard.book, count)] == [yard.pieces[4]]
    phone.send(TagSeen(count, "AB-12-P", later))
    assert len(seen(yard.book, count)) == 1, "it waits for its piece"
    yard.sound()
