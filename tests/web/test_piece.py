"""The page of a piece: what is told there is kept, or said at its field with all else that was typed."""

from __future__ import annotations

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import count_piece

from .conftest import Person


def test_a_figure_that_cannot_be_kept_is_said_at_its_field_and_the_note_stays(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "walnut_black", "", 0.0508, 2.4, (0.3, 0.4)))
    told = {"figure": "curl " * 200, "words": "cracked at the butt", "name": "", "how": "lost", "wet": "dry"}
    answer = owner.send(f"/pieces/{piece}", told)
    assert answer.status_code == 422 and 'id="figure-wrong"' in answer.text and 'value="cracked at the butt"' in answer.text
    assert "<option selected>lost" in answer.text and '<option value="dry" selected>' in answer.text
    assert piece_story(shop.book, piece).piece.figure == "" and not piece_story(shop.book, piece).notes
    assert owner.send(f"/pieces/{piece}", {**told, "figure": "curl"}).status_code == 303
    story = piece_story(shop.book, piece)
    assert story.piece.figure == "curl" and [one.event.kind for one in story.events].count("note-written") == 1
