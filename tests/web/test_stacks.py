"""Stacks and loads in the app: built from a spot, added to by name or by a photo of tags, taken from, through the kiln."""

from __future__ import annotations

import pytest

from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import StackBuilt
from waney.yard.book.drying_seen import loads, on_stack, readings, stacks
from waney.yard.book.examining import examine
from waney.yard.book.kiln_seen import pieces_in
from waney.yard.book.looking import pieces
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import name_spot
from waney.yard.services.stacks import build_stack

from .conftest import Person
from .test_papers import tag_photo


@pytest.fixture
def shed(hand: Hand) -> str:
    return name_spot(hand, "Shed").id


@pytest.fixture
def boards(hand: Hand, shop: Shop, shed: str) -> list[str]:
    """Five boards in the shed."""
    idents = [shop.new_id() for _ in range(5)]
    for ident in idents:
        hand.write(PieceCounted(ident, "red oak", thickness_m=0.0286, length_m=2.5, spot=shed))
    return idents


@pytest.fixture
def stack(hand: Hand, shop: Shop, shed: str, boards: list[str]) -> str:
    ident = shop.new_id()
    build_stack(hand, StackBuilt(ident, "North", shed, (tuple(boards[:2]), tuple(boards[2:3]))))
    return ident


def test_a_stack_is_built_out_of_a_spot_in_layers(owner: Person, shop: Shop, shed: str, boards: list[str]) -> None:
    page = owner.get(f"/stacks/new?spot={shed}").text
    assert all(board in page for board in boards)
    layers = {f"layer-{boards[0]}": "1", f"layer-{boards[1]}": "2", f"layer-{boards[2]}": "1"}
    told = {"spot": shed, "called": "North", "sticker": "3/4", "apart": "16", "piece": boards[:4], **layers}
    answer = owner.send("/stacks/new", told)
    (stack,) = stacks(shop.book)
    assert answer.headers["location"] == f"/stacks/{stack.id}"
    assert (stack.called, stack.pieces, stack.spot) == ("North", 4, shed)
    assert (stack.sticker_m, stack.apart_m) == pytest.approx((0.01905, 0.4064))
    assert {piece.id: layer for layer, piece in on_stack(shop.book, stack.id)} == {
        boards[0]: 1, boards[2]: 1, boards[1]: 2, boards[3]: None,
    }  # fmt: skip
    assert "North" in owner.get("/stacks").text
    assert examine(shop.book).unsound == ()


def test_a_stack_that_cannot_be_read_is_not_built(owner: Person, shop: Shop, shed: str, boards: list[str]) -> None:
    told = {"spot": shed, "called": "", "sticker": "thick", "piece": boards[:1], f"layer-{boards[0]}": "top"}
    answer = owner.send("/stacks/new", told)
    assert answer.status_code == 422
    assert answer.text.count('role="alert"') == 3
    assert stacks(shop.book) == ()


def test_pieces_are_laid_on_by_name_and_by_photo(owner: Person, shop: Shop, stack: str, boards: list[str]) -> None:
    names = {piece.id: piece.name for piece in pieces(shop.book)}
    photo = {"tags": ("tags.jpg", tag_photo(names[boards[4]]), "image/jpeg")}
    assert owner.send(f"/stacks/{stack}/on", {"names": names[boards[3]].lower(), "layer": "3"}, photo).status_code == 303
    assert [(layer, piece.id) for layer, piece in on_stack(shop.book, stack)][3:] == [(3, boards[3]), (3, boards[4])]


@pytest.mark.parametrize("told", [{}, {"names": "K-1-0"}, {"names": "YY-1-J"}, {"layer": "0"}])
def test_what_is_not_understood_is_laid_on_nothing(owner: Person, shop: Shop, stack: str, told: dict[str, str]) -> None:
    answer = owner.send(f"/stacks/{stack}/on", told)
    assert (answer.status_code, 'role="alert"' in answer.text) == (422, True)
    assert len(on_stack(shop.book, stack)) == 3


def test_pieces_are_taken_off_and_go_to_a_spot(owner: Person, shop: Shop, hand: Hand, stack: str, boards: list[str]) -> None:
    kiln = name_spot(hand, "Kiln").id
    assert owner.send(f"/stacks/{stack}/off").status_code == 422
    owner.send(f"/stacks/{stack}/off", {"piece": boards[:2], "spot": kiln})
    assert [piece.id for _, piece in on_stack(shop.book, stack)] == boards[2:3]
    assert piece_story(shop.book, boards[0]).piece.spot == kiln
    owner.send(f"/stacks/{stack}/move", {"spot": kiln})
    assert piece_story(shop.book, boards[2]).piece.spot == kiln


def test_a_load_goes_in_and_comes_out(helper: Person, shop: Shop, stack: str, boards: list[str]) -> None:
    single = piece_story(shop.book, boards[4]).piece.name
    answer = helper.send("/loads", {"kiln": "The big one", "stack": stack, "names": single})
    (load,) = loads(shop.book)
    assert answer.headers["location"] == f"/loads/{load.id}"
    assert {held.piece.id for held in pieces_in(shop.book, load.id)} == {*boards[:3], boards[4]}
    assert "in the kiln" in helper.get("/stacks").text
    assert "Let it cool" in helper.get(f"/loads/{load.id}").text
    helper.send(f"/loads/{load.id}/out")
    assert loads(shop.book)[0].out
    assert "it is out" in helper.get(f"/loads/{load.id}").text


def test_an_empty_load_is_a_sentence_and_nothing_typed_is_lost(owner: Person, shop: Shop, stack: str) -> None:
    answer = owner.send("/loads", {"kiln": "The big one"})
    assert (answer.status_code, "at least one stack or piece" in answer.text) == (422, True)
    assert 'value="The big one"' in answer.text
    assert loads(shop.book) == ()


def test_the_moisture_is_read_of_a_piece_and_of_a_stack(owner: Person, shop: Shop, stack: str, boards: list[str]) -> None:
    for what in (f"piece:{boards[0]}", f"stack:{stack}"):
        told = {"what": what, "mc": "11.5", "by": "pin meter", "depth": "core", "wood": "68 F", "set_to": "red oak"}
        assert owner.send("/readings", told).headers["location"] == f"/{what.replace(':', 's/')}"
        (reading,) = readings(shop.book, what)
        assert (reading.mc, reading.depth, reading.wood_c) == (0.115, "core", pytest.approx(20.0))
    page = owner.get(f"/pieces/{boards[0]}").text
    assert "11.5 %" in page
    assert "alone does not say which wood" in page  # northern or southern red oak


@pytest.mark.parametrize("told", [{"mc": ""}, {"mc": "wet"}, {"mc": "0.12"}, {"mc": "12", "wood": "warm"}])
def test_a_reading_that_cannot_be_read_is_told(owner: Person, shop: Shop, boards: list[str], told: dict[str, str]) -> None:
    answer = owner.send("/readings", {"what": f"piece:{boards[0]}", **told})
    assert (answer.status_code, 'role="alert"' in answer.text or "Not done" in answer.text) == (400, True)
    assert readings(shop.book, f"piece:{boards[0]}") == ()


def test_anybody_looks_but_does_not_write(anybody: Person, shop: Shop, stack: str, boards: list[str]) -> None:
    assert anybody.get(f"/stacks/{stack}").status_code == 200
    assert anybody.send(f"/stacks/{stack}/off", {"piece": boards[:1]}).status_code == 401
    assert len(on_stack(shop.book, stack)) == 3


def test_what_is_not_there_is_told(owner: Person) -> None:
    nothing = "0d1f7c3a-52be-4f0e-8a57-6c1f90b2d4e1"
    for page in (f"/stacks/{nothing}", f"/loads/{nothing}"):
        assert owner.get(page).status_code == 404
