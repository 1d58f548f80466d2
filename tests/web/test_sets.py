"""Pieces are kept together as a set from the list, seen together, and taken apart from the page of one of them."""

from __future__ import annotations

import re

import pytest

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted, PieceEnd
from waney.yard.book.looking import history
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import end_piece

from .conftest import Person


@pytest.fixture
def some(hand: Hand, shop: Shop) -> list[str]:
    found = [shop.new_id() for _ in range(3)]
    for ident in found:
        hand.write(PieceCounted(ident, "white ash", "", 0.0508, 3.0, (0.30, 0.36)))
    return found


def together(shop: Shop, piece: str) -> str:
    return piece_story(shop.book, piece).piece.together


def test_ticked_pieces_are_kept_together_shown_so_and_taken_apart(owner: Person, shop: Shop, some: list[str]) -> None:
    assert owner.get("/pieces").text.count('type="checkbox"') == 3
    answer = owner.send("/pieces/set", {"piece": some[:2], "called": "leaves of a door"})
    assert answer.status_code == 303
    one_set = together(shop, some[0])
    assert one_set and together(shop, some[1]) == one_set and not together(shop, some[2])
    shown = owner.get(answer.headers["location"]).text
    assert set(re.findall(r'<th><a href="/pieces/([0-9a-f-]+)">', shown)) == set(some[:2]) and "leaves of a door" in shown
    assert "Take the set apart" in shown and 'type="checkbox"' not in shown
    page = owner.get(f"/pieces/{some[0]}").text
    assert "Kept together: leaves of a door" in page and f'href="/pieces/{some[1]}"' in page
    assert "Kept together" not in owner.get(f"/pieces/{some[2]}").text
    assert owner.send("/pieces/apart", {"set": one_set, "piece": some[0]}).headers["location"] == f"/pieces/{some[0]}"
    assert {together(shop, each) for each in some} == {""}
    after = owner.get(f"/pieces/{some[1]}").text
    assert "the set was taken apart" in after and "Kept together" not in after
    assert owner.send("/pieces/set", {"piece": some[1:]}).status_code == 303, "apart, they may be kept with others"


def test_what_cannot_be_a_set_is_said_and_the_ticks_stay(owner: Person, hand: Hand, shop: Shop, some: list[str]) -> None:
    alone = owner.send("/pieces/set", {"piece": some[:1], "called": "pair"})
    assert alone.status_code == 422 and "Tick two pieces" in alone.text
    assert re.search(rf'value="{some[0]}"[^>]* checked', alone.text) and 'value="pair"' in alone.text
    owner.send("/pieces/set", {"piece": some[:2]})
    end_piece(hand, some[2], PieceEnd.BURNT)
    before = [len(history(shop.book, f"piece:{each}")) for each in some]
    for taken, why in ((some[:2], "in a set already"), (some[1:], "already"), ([some[2], some[2]], "Tick two")):
        refused = owner.send("/pieces/set", {"piece": taken})
        assert refused.status_code == 422 and why in refused.text
    gone = owner.send("/pieces/apart", {"set": shop.new_id()})
    assert gone.status_code == 400 and "no such set" in gone.text
    assert [len(history(shop.book, f"piece:{each}")) for each in some] == before


def test_who_only_looks_has_nothing_to_tick(anybody: Person, some: list[str]) -> None:
    shown = anybody.get("/pieces").text
    assert 'type="checkbox"' not in shown and "Keep the ticked" not in shown
