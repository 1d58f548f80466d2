"""A piece is cut into pieces in the app: parts on the page of the whole, the whole on theirs; what is promised stays whole."""

from __future__ import annotations

import pytest

from waney.web.shop import Shop
from waney.yard.acts.kilns import HandedPiece, LoadHandedOver
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.promises import PricedPiece
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.selling import add_buyer, hold_pieces, new_sale, sell_pieces

from .conftest import Person


@pytest.fixture
def piece(hand: Hand, shop: Shop) -> str:
    ident = shop.new_id()
    hand.write(PieceCounted(ident, "white ash", "", 0.0508, 3.0, (0.30, 0.36)))
    return ident


def rows(*told: tuple[str, str, str, str]) -> dict[str, list[str]]:
    return {name: [row[i] for row in told] for i, name in enumerate(("number", "thick", "wide", "long"))}


def test_parts_and_whole_are_shown_on_each_others_pages(owner: Person, shop: Shop, piece: str) -> None:
    assert f"/pieces/{piece}/cut" in owner.get(f"/pieces/{piece}").text
    told = rows(("2", "", "", "4 ft"), ("", "", "6", "20 in"), ("", "", "", ""))
    assert owner.send(f"/pieces/{piece}/cut", {"how": "crosscut", **told}).status_code == 303
    story = piece_story(shop.book, piece)
    assert [round(one.length_m or 0, 4) for one in story.gave] == [1.2192, 1.2192, 0.508]
    assert {one.thickness_m for one in story.gave} == {0.0508}
    whole, part = owner.get(f"/pieces/{piece}").text, owner.get(f"/pieces/{story.gave[0].id}").text
    assert all(one.name in whole for one in story.gave) and "sawn up" in whole and "Cut into pieces" not in whole
    assert f'href="/pieces/{piece}">{story.piece.name}</a>, crosscut' in part
    listed = owner.get("/pieces").text
    assert f'/pieces/{piece}"' not in listed and f"/pieces/{story.gave[0].id}" in listed
    assert owner.get(f"/pieces/{piece}/history.pdf").content.startswith(b"%PDF")
    assert owner.send(f"/pieces/{piece}/cut", {"how": "crosscut", **told}).status_code == 422, "sent twice, cut once"
    assert len(piece_story(shop.book, piece).gave) == 3


def test_what_cannot_be_read_is_said_beside_it_and_what_was_typed_stays(owner: Person, shop: Shop, piece: str) -> None:
    answer = owner.send(f"/pieces/{piece}/cut", {"how": "ripped", **rows(("two", "", "wide", "7 ft"))})
    assert answer.status_code == 422
    assert 'id="number-1-wrong"' in answer.text and 'id="wide-1-wrong"' in answer.text and 'value="7 ft"' in answer.text
    assert "<option selected>ripped" in answer.text
    for told in (rows(), rows(("", "", "5 ft", ""))):
        again = owner.send(f"/pieces/{piece}/cut", {"how": "ripped", **told})
        assert again.status_code == 422 and 'role="alert"' in again.text
    assert piece_story(shop.book, piece).gave == ()


@pytest.mark.parametrize(("how", "why"), [("sold", "is sold"), ("held", "is held"), ("kiln", "stands at the kiln")])
def test_a_piece_that_somebody_counts_on_stays_whole(
    owner: Person, hand: Hand, shop: Shop, piece: str, how: str, why: str
) -> None:
    if how == "sold":
        sell_pieces(hand, new_sale(hand, [PricedPiece(piece, 400_00)], "2026-05-04"))
    elif how == "held":
        hold_pieces(hand, add_buyer(hand, "Ann").id, [piece], "2026-05-11")
    else:
        hand.write(LoadHandedOver(shop.new_id(), "plate kiln", "Bo", (HandedPiece(piece),)))
    assert why in owner.get(f"/pieces/{piece}/cut").text
    answer = owner.send(f"/pieces/{piece}/cut", {"how": "edged", **rows(("", "", "8", ""))})
    assert answer.status_code == 422 and why in answer.text
    assert piece_story(shop.book, piece).gave == ()
