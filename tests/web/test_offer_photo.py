"""Sizes read off an offer's photo: tapped, or measured on a print; written with their range, and the offer answered anew."""

from __future__ import annotations

import json
import re
from html import unescape
from math import pi

import pytest

from waney.web.shop import Shop
from waney.yard.book.examining import examine
from waney.yard.book.offered import TreeStands, tree_at
from waney.yard.book.stories import photos_of
from waney.yard.services.hand import Hand
from waney.yard.services.offers import fell_stem
from waney.yard.services.pieces import keep_photo
from waney.yard.services.worth import reading_of

from .conftest import Person
from .test_pages import photo
from .test_trade import COSTS, StemFelled, an_offer, work

SIZE = (4000, 3000)
TAPS = {"size": SIZE, "tapping": 4, "known": [[1500, 1900], [2500, 1900]], "across": [[1250, 1500], [2750, 1500]]}
"""a stick of 1,000 pixels below an end of 1,500"""
BUTT = {"view": "the butt end", "lies": "on the wood", "known_length": "12 in"}


@pytest.fixture
def tree(shop: Shop, hand: Hand) -> str:
    return an_offer(shop, hand, species="white ash", where="Mill Lane", length_m=3.0)


def sent(owner: Person, tree: str, taps: object = TAPS, **answers: str) -> tuple[int, str]:
    """Somebody takes a photo, taps on it and sends it."""
    picture = {"photo": ("end.jpg", photo(), "image/jpeg")}
    answer = owner.send(f"/offered/{tree}/photo", {**BUTT, **answers, "taps": json.dumps(taps) if taps else ""}, picture)
    return answer.status_code, unescape(answer.text)


def weight(owner: Person, shop: Shop, tree: str) -> tuple[str, float]:
    """The page once it is answered; how wide the range of the weight is."""
    owner.get(f"/offered/{tree}")
    assert work(shop) == 1
    page = owner.get(f"/offered/{tree}").text
    found = re.search(r"Weight, green with bark</th><td>[\d,]+ lb, ([\d,]+) to ([\d,]+) lb", page)
    assert found is not None, page
    low, high = (float(each.replace(",", "")) for each in found.groups())
    return page, high - low


def found(shop: Shop, tree: str) -> TreeStands:
    return tree_at(shop.book, tree)


def test_a_butt_end_that_was_tapped_becomes_a_girth_and_the_answer_follows(owner: Person, shop: Shop, tree: str) -> None:
    """12 in beside 1,000 of 1,500 pixels: 18 in across, 56.5 in round."""
    owner.send("/settings/costs", COSTS)
    _, before = weight(owner, shop, tree)
    assert sent(owner, tree)[0] == 303
    now = found(shop, tree)
    assert now.girth_m == pytest.approx(pi * 18 * 0.0254, rel=0.04)
    assert now.girth_at_m == 0.0 and now.length_m == 3.0 and now.length_off is None
    assert now.girth_off is not None and 0.03 < now.girth_off < 0.12
    assert "This is the last answer" in owner.get(f"/offered/{tree}").text
    page, after = weight(owner, shop, tree)
    assert after < before / 2
    assert "Girth at the butt" in page and re.search(r"off a photo, give or take \d+ %", page) and "Left at that price" in page
    assert len(photos_of(shop.book, f"tree:{tree}")) == 1
    again = unescape(owner.get(f"/offered/{tree}/photo").text)
    assert json.dumps(TAPS) in again and 'value="12 in"' in again, "what was tapped can be gone on with"
    assert examine(shop.book).unsound == ()


def test_an_offer_with_nothing_but_a_photo_leads_to_reading_it_at_once(owner: Person, shop: Shop, hand: Hand) -> None:
    bare = an_offer(shop, hand, species="white ash")
    keep_photo(hand, photo(), f"tree:{bare}")
    page = owner.get(f"/offered/{bare}").text
    assert page.count(f"/offered/{bare}/photo") == 1
    assert page.index("read its sizes off it") < page.index('id="answer"')
    assert sent(owner, bare)[0] == 303
    page = owner.get(f"/offered/{bare}").text
    assert page.index("Read its sizes off the photo") > page.index('id="answer"')


def test_a_stem_from_the_side_gives_girth_and_length_and_a_tape_takes_their_place_later(
    owner: Person, shop: Shop, tree: str
) -> None:
    side = {**TAPS, "along": [[300, 1600], [3700, 1600]]}
    assert sent(owner, tree, side, view="the stem from the side", known_length="4 ft")[0] == 303
    read = found(shop, tree)
    assert read.length_m == pytest.approx(3.4 * 4 * 0.3048, rel=0.15) and read.girth_at_m is None
    assert read.length_off is not None and read.length_off > 0.05
    owner.send(f"/offered/{tree}/again", {"girth": "60 in"})
    taped = found(shop, tree)
    assert taped.girth_m == pytest.approx(60 * 0.0254) and taped.girth_off is None and taped.length_off == read.length_off
    assert reading_of(taped).length_off == read.length_off


def test_a_thin_end_is_kept_as_its_own_diameter_and_a_print_will_do(owner: Person, shop: Shop, tree: str) -> None:
    print_of_it = {"longer_side": "150", "on_known": "40", "on_across": "60"}
    assert sent(owner, tree, None, view="the thin end", **print_of_it)[0] == 303
    now = found(shop, tree)
    assert now.small_end_m == pytest.approx(18 * 0.0254, rel=0.04) and now.girth_m is None and now.small_end_off is not None


@pytest.mark.parametrize(
    ("taps", "answers", "says"),
    [
        (None, {}, "Tap the photo; or write"),
        (TAPS, {"known_length": ""}, "how long the known thing is"),
        (TAPS, {"known_length": "a stick"}, "a stick"),
        ({**TAPS, "known": [[1, 1]]}, {}, "both ends of something of known length"),
        ({**TAPS, "across": [[1, "x"]]}, {}, "tap it once more"),
        ({**TAPS, "across": [[1, 1e300], [2, 2]]}, {}, "tap it once more"),
        ({**TAPS, "across": []}, {}, "Nothing of the wood was tapped"),
        ([1, 2], {}, "tap it once more"),
        (TAPS, {"view": "the sky"}, "what the photo shows"),
        (None, {"longer_side": "150", "on_known": "wide", "on_across": "60"}, "wide"),
    ],
)
def test_what_gives_no_size_is_said_and_the_photo_alone_is_kept(
    owner: Person, shop: Shop, tree: str, taps: object, answers: dict[str, str], says: str
) -> None:
    status, page = sent(owner, tree, taps, **answers)
    assert status == 422 and says in page and found(shop, tree).girth_m is None
    assert [one.file in page for one in photos_of(shop.book, f"tree:{tree}")] == [True], "nobody chooses it twice"


def test_another_offers_photo_is_not_read_and_what_came_is_measured_as_it_lies(
    owner: Person, anybody: Person, shop: Shop, hand: Hand, tree: str
) -> None:
    answer = owner.send(f"/offered/{tree}/photo", {**BUTT, "taps": json.dumps(TAPS), "kept": "0" * 64})
    assert answer.status_code == 422 and "none of this offer" in answer.text
    assert "sign in" in anybody.get(f"/offered/{tree}/photo").text
    fell_stem(hand, StemFelled(shop.new_id(), tree, "white ash", 3.0))
    assert "measure it as it lies" in owner.get(f"/offered/{tree}/photo").text
