"""A photo is wet, dry, or nobody said: of logs and their ends, of offered trees, of pieces and at count-in."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from hashlib import sha256

import pytest
from PIL import Image

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.looking import pieces
from waney.yard.book.offered import trees
from waney.yard.book.stories import Photo, log_story, photos_of, piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.pieces import count_piece

from .conftest import ROOT, Person

SHEET = (ROOT / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")
SAID = {"wet": True, "dry": False, "": None}
Sent = Callable[[Person, Shop, Hand, str], tuple[Photo, str]]


def picture() -> bytes:
    content = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(content, "JPEG")
    return content.getvalue()


def named(field: str) -> dict[str, tuple[str, bytes, str]]:
    return {field: ("one.jpg", picture(), "image/jpeg")}


def of_a_log(owner: Person, shop: Shop, hand: Hand, said: str) -> tuple[Photo, str]:
    log = add_log(hand, NewLog(SHEET, code="W")).id
    owner.send(f"/logs/{log}/photo", {"wet": said}, named("photo"))
    return log_story(shop.book, log).photos[0], f"/logs/{log}"


def of_the_end_of_a_log(owner: Person, shop: Shop, hand: Hand, said: str) -> tuple[Photo, str]:
    log = add_log(hand, NewLog(SHEET, code="W")).id
    owner.send(f"/logs/{log}/outline", {"top_wet": said}, named("top_photo"))
    return log_story(shop.book, log).photos[0], f"/logs/{log}"


def of_an_end_as_the_log_comes_in(owner: Person, shop: Shop, _hand: Hand, said: str) -> tuple[Photo, str]:
    page = owner.send("/logs/new", {"sheet": SHEET, "butt_wet": said}, named("butt_photo")).headers["location"]
    return log_story(shop.book, page.removeprefix("/logs/")).photos[0], page


def of_an_offered_tree(owner: Person, shop: Shop, _hand: Hand, said: str) -> tuple[Photo, str]:
    page = owner.send("/offered", {"species": "white ash", "wet": said}, named("photo")).headers["location"]
    [tree] = trees(shop.book)
    return photos_of(shop.book, f"tree:{tree.id}")[0], page


def of_a_piece(owner: Person, shop: Shop, hand: Hand, said: str) -> tuple[Photo, str]:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "white ash"))
    owner.send(f"/pieces/{piece}", {"wet": said}, named("photo"))
    return piece_story(shop.book, piece).photos[0], f"/pieces/{piece}"


def at_count_in(owner: Person, shop: Shop, _hand: Hand, said: str) -> tuple[Photo, str]:
    sizes = {"thickness": "2", "length": "8 ft", "width": "10", "other_width": "12"}
    page = owner.get(
        owner.send("/pieces/count", {"species": "white ash", **sizes, "wet": said}, named("photo")).headers["location"]
    ).text
    assert not said or f'<option value="{said}" selected>' in page, "the next one of the heap is likely the same"
    [piece] = pieces(shop.book)
    return piece_story(shop.book, piece.id).photos[0], f"/pieces/{piece.id}"


@pytest.mark.parametrize("said", SAID)
@pytest.mark.parametrize(
    "send", [of_a_log, of_the_end_of_a_log, of_an_end_as_the_log_comes_in, of_an_offered_tree, of_a_piece, at_count_in]
)
def test_what_was_said_of_the_wood_is_kept_and_stands_under_the_photo(
    owner: Person, shop: Shop, hand: Hand, send: Sent, said: str
) -> None:
    photo, page = send(owner, shop, hand, said)
    assert photo.wet is SAID[said]
    shown = owner.get(page).text
    under = shown.partition(f'src="/photos/{photo.file}" alt="Photo of')[2].partition("</figure>")[0]
    assert under
    assert [word for word in ("wet", "dry") if f"{word}</figcaption>" in under] == ([said] if said else [])


def test_a_piece_counted_out_of_reach_brings_its_photo_with_that_word(shop: Shop, hand: Hand) -> None:
    file, piece = shop.book.files.keep(picture()), shop.new_id()
    assert file == sha256(picture()).hexdigest()
    hand.write(PieceCounted(piece, "white ash", photo=file, wet=False))
    story = piece_story(shop.book, piece)
    assert [photo.wet for photo in story.photos] == [False]


def test_the_history_says_which(owner: Person, shop: Shop, hand: Hand) -> None:
    _, page = of_a_log(owner, shop, hand, "dry")
    assert re.search(r"a photo \([^)]*\bdry\)", owner.get(page).text)
