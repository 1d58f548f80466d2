"""A stock count in the app without scripts: tags read, the answer, each line put right with one press."""

from __future__ import annotations

import json

import pytest

from waney.web.names_along import ID_LENGTH
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded
from waney.yard.book.counting_seen import counts
from waney.yard.book.looking import PieceStands, pieces
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import name_spot

from .conftest import Person


@pytest.fixture
def ash(hand: Hand, shop: Shop) -> tuple[str, list[PieceStands]]:
    """The shed with three pieces, and one by the mill."""
    shed, mill = (name_spot(hand, called).id for called in ("Shed", "By the mill"))
    for spot in (shed, shed, shed, mill):
        hand.write(PieceCounted(shop.new_id(), "ash", "", 0.05, 2.4, (0.2, 0.3), spot))
    return shed, list(pieces(shop.book))


def test_a_count_is_walked_with_plain_forms_and_put_right_line_by_line(
    helper: Person, shop: Shop, hand: Hand, ash: tuple[str, list[PieceStands]]
) -> None:
    shed, (there, missing, lost, elsewhere) = ash
    hand.write(PieceEnded(lost.id, PieceEnd.LOST))
    page = helper.send("/stock-count", {"spot": shed}).headers["location"]
    for name in (there.name, lost.name, elsewhere.name, "AB-12-P"):
        assert helper.send(page, {"do": "seen", "name": name}).status_code == 303
    wrong = helper.send(page, {"do": "seen", "name": "AB-12-R"})
    assert wrong.status_code == 422 and "check character" in wrong.text
    assert helper.get(page).headers["waney-keep"] == "yes"
    helper.send(page, {"do": "end"})
    answer = helper.get(page)
    assert "waney-keep" not in answer.headers and "3 counted" not in answer.text
    for words in (
        "1 counted, 1 not found",
        "By the book it is lost",
        "Last: By the mill",
        "AB-12-P",
        f"{missing.name}: It is lost",
    ):
        assert words in answer.text
    for do, piece in (("here", lost), ("here", elsewhere), ("lost", missing)):
        assert helper.send(page, {"do": do, "piece": piece.id}).status_code == 303
    now = {piece.id: (piece.ended, piece.spot_called) for piece in pieces(shop.book)}
    assert [now[piece.id] for piece in (lost, elsewhere, missing)] == [("", "Shed"), ("", "Shed"), ("lost", "Shed")]
    assert "seen at a stock count" in helper.get(f"/pieces/{elsewhere.id}").text
    assert "Shed</a>" in helper.get("/stock-count").text and counts(shop.book)[0].ended_seq is not None


def test_the_last_tag_is_taken_back_and_what_makes_no_sense_is_said(
    helper: Person, shop: Shop, ash: tuple[str, list[PieceStands]]
) -> None:
    _, (there, *_) = ash
    page = helper.send("/stock-count", {}).headers["location"]
    helper.send(page, {"do": "seen", "name": f"WANEY:{there.name}"})
    assert "1 counted, 3 not found yet" in helper.get(page).text
    helper.send(page, {"do": "back"})
    assert "0 counted, 4 not found yet" in helper.get(page).text
    assert helper.send(page, {"do": "burn"}).status_code == 400
    assert helper.send(page, {"do": "lost", "piece": "none"}).status_code == 400
    assert helper.get(f"{page[:-3]}000").status_code == 404
    assert 'value="AB-12-P"' in helper.get("/pieces/count?name=AB-12-P").text


def test_of_a_large_yard_the_page_is_there_at_once_and_asks_for_what_is_looked_for(
    helper: Person, hand: Hand, ash: tuple[str, list[PieceStands]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("waney.web.counting.MOST_ITEMS", 1)
    monkeypatch.setattr("waney.web.pages.stock_count.A_PAGE", 1)
    shed, (there, missing, lost, _) = ash
    hand.write(PieceEnded(lost.id, PieceEnd.LOST))
    address = helper.send("/stock-count", {"spot": shed}).headers["location"]
    page = helper.get(address)
    assert f"{missing.name}</a>" not in page.text, "the second of two that were not found stands on the next page"
    assert f"{missing.name}</a>" in helper.get(f"{address}?from=1").text
    holds = json.loads(page.text.partition('id="holds">')[2].partition("</script>")[0])
    assert (holds["items"], holds["others"]["names"], holds["missing"]) == ([], [], 2)
    answer = helper.get(holds["more"])
    assert answer.headers["waney-keep"] == "yes"
    [item], others = answer.json()["items"], answer.json()["others"]
    assert item["name"] == there.name
    at = [others["places"][int(others["at"][4 * n : 4 * n + 4], 16)] for n in range(3)]
    assert [(one["expected"], one["away"], one["where"]) for one in at] == [
        (True, "", "Shed"),
        (False, "lost", "Shed"),
        (False, "", "By the mill"),
    ]
    [run] = others["names"]
    assert (f"{run['code']}-{run['first']}", len(run["ids"])) == (missing.name.rpartition("-")[0], 3 * ID_LENGTH)
    news = helper.get(f"/api{address}").json()
    assert (news["missing"], news["items"]) == (2, [])
