"""The page of a piece: what is told there is kept, or said at its field with all else that was typed."""

from __future__ import annotations

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.stories import piece_story
from waney.yard.names import Name
from waney.yard.services.hand import Hand
from waney.yard.services.mill import names_for_paper
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


def test_four_characters_of_a_tag_are_enough_and_one_that_cannot_be_is_said_at_its_field(
    owner: Person, shop: Shop, hand: Hand
) -> None:
    one, other = shop.new_id(), shop.new_id()
    for piece in (one, other):
        count_piece(hand, PieceCounted(piece, "walnut_black", "", 0.0508, 2.4, (0.3, 0.4)))
    tag = str(names_for_paper(hand, 9, "BACK")[3])
    assert owner.send(f"/pieces/{one}", {"name": tag.replace("-", "").lower()[-4:]}).status_code == 303
    assert piece_story(shop.book, one).piece.name == tag
    assert owner.send(f"/pieces/{one}", {"name": tag}).status_code == 303, "told once more it changes nothing"
    for written, says in (
        (tag[-6:], "stands on another piece already"),
        ("ck4", "fits no tag"),
        (str(Name("W", 0)), "tag of a log"),
    ):
        answer = owner.send(f"/pieces/{other}", {"name": written, "words": "cracked"})
        assert answer.status_code == 422 and says in answer.text and 'id="name-wrong"' in answer.text, written
        assert f'value="{written}"' in answer.text and 'value="cracked"' in answer.text
    assert not piece_story(shop.book, other).notes and piece_story(shop.book, other).piece.name != tag
