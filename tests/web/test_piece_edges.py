"""The edges of a piece read from a straight line, and as its plan has them: a forecast until somebody held a tape against it."""

from __future__ import annotations

import html
import re

import pytest
from tests.cli.calling import DEMO
from tests.sawing.quick_plan import quickly_planned

from waney.pieces.piece_sheet import read_piece_sheet
from waney.sawing.plan_file import write_plan
from waney.web.asked.kinds import PLANNED
from waney.web.asked.packing import read_back
from waney.web.asked.planned import PlannedAnswer
from waney.web.measured import newest
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.looking import pieces_by_id
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, keep_plan
from waney.yard.services.pieces import count_piece, measure_piece

from .at_work import worked
from .conftest import Person

CELLS = ("at", "left", "right", "under_left", "under_right")


@pytest.fixture
def sawn(hand: Hand, shop: Shop) -> str:
    plan, sheets = quickly_planned()
    log = add_log(hand, NewLog(sheets["log"])).id
    kept, piece = keep_plan(hand, log, 1, write_plan(plan, sheets)).id, shop.new_id()
    hand.write(CameOff(piece, "", log, kept, cut=4, thickness_m=0.05, length_m=2.4, widths_m=(0.2, 0.3)))
    return piece


def fields_in(page: str) -> dict[str, list[str]]:
    return {name: re.findall(rf'name="{name}" value="([^"]*)"', page) for name in CELLS}


def sheet_of(shop: Shop, piece: str) -> str | None:
    last = newest(piece_story(shop.book, piece))
    return None if last is None else last.sheet


def test_what_the_plan_has_is_no_measure_until_somebody_says_that_the_wood_was_read(
    owner: Person, shop: Shop, hand: Hand, sawn: str
) -> None:
    page = f"/pieces/{sawn}/edges"
    assert "being cut out of the plan" in owner.get(page).text
    answer = read_back(worked(shop, PLANNED), PlannedAnswer)
    assert answer.sentence == ""
    shown = html.unescape(owner.get(page).text)
    assert "A forecast, not measured." in shown and "<svg" in shown and dict(answer.rows)["Upper face"] in shown
    assert "," in dict(answer.rows)["Upper face"], "with its range"
    begun = fields_in(html.unescape(owner.get(f"{page}?from=plan").text))
    assert begun["left"][: len(answer.stations)] == [one.left for one in answer.stations] != [""] * len(answer.stations)
    refused = owner.send(page, {**begun, "planned": "yes"})
    assert refused.status_code == 422 and "These figures are the plan's" in html.unescape(refused.text)
    assert sheet_of(shop, sawn) is None and pieces_by_id(shop.book, [sawn])[0].measured is None
    begun["left"][2] = "9 in"
    assert owner.send(page, {**begun, "planned": "yes", "read": "yes"}).status_code == 303
    read = read_piece_sheet(sheet_of(shop, sawn) or "")
    assert read.outline is not None and read.under is not None
    assert read.outline.edge_m[:, 1].max() == pytest.approx(max(0.2286, read.outline.edge_m[:, 1].max()))
    assert any(abs(y - 0.2286) < 1e-9 for y in read.outline.edge_m[:, 1])


def test_edges_take_the_place_of_sizes_and_leave_the_marks(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "walnut_black", thickness_m=0.05))
    measure_piece(hand, piece, (DEMO / "board.toml").read_text(encoding="utf-8"))
    before = read_piece_sheet(sheet_of(shop, piece) or "")
    typed = {"at": ["8 ft", "0", "4 ft", ""], "left": ["5", "6", "7", ""], "right": ["4", "-1/2", "4", ""]}
    typed |= {"under_left": [""] * 4, "under_right": [""] * 4}
    assert owner.send(f"/pieces/{piece}/edges", typed).status_code == 303
    after = read_piece_sheet(sheet_of(shop, piece) or "")
    assert before.board_m is not None and after.board_m is None and after.faces == before.faces and after.under is None
    assert after.upper_face.area_m2 == pytest.approx((5.5 + 11) / 2 * 48 * 0.0254**2 + (11 + 9) / 2 * 48 * 0.0254**2)
    again = fields_in(html.unescape(owner.get(f"/pieces/{piece}/edges").text))
    assert again["right"][:3] == ["-1/2", "4", "4"]


def test_what_cannot_be_read_is_said_at_its_field(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "walnut_black", thickness_m=0.05))
    typed = {"at": ["0", ""], "left": ["5", "6"], "right": ["", "wide"], "under_left": ["", ""], "under_right": ["", ""]}
    answer = owner.send(f"/pieces/{piece}/edges", typed)
    shown = html.unescape(answer.text)
    assert answer.status_code == 422 and "Read this edge too" in shown and "Write how far from the end" in shown
    assert 'id="right-1-wrong"' in shown and sheet_of(shop, piece) is None


def test_a_thickness_and_a_tick_stand_there_again_after_a_slip(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "walnut_black"))
    typed = {"at": ["0"], "left": ["5"], "right": [""], "under_left": [""], "under_right": [""]}
    typed |= {"thickness": ["2 1/8"], "planned": ["yes"], "read": ["yes"]}
    answer = owner.send(f"/pieces/{piece}/edges", typed)
    assert answer.status_code == 422 and 'name="thickness" type="text" value="2 1/8"' in answer.text
    assert 'name="read" value="yes" checked>' in answer.text


@pytest.mark.parametrize(("places", "stand_there"), [(60, 60), (500, 378)])
def test_a_piece_read_at_many_places_can_be_saved_again(
    owner: Person, shop: Shop, hand: Hand, places: int, stand_there: int
) -> None:
    piece, at = shop.new_id(), [10 * n for n in range(places)]
    count_piece(hand, PieceCounted(piece, "walnut_black", thickness_m=0.05))
    edges = f"[edges]\nat = {at}\nleft = {[150] * places}\nright = {[140] * places}\n"
    measure_piece(hand, piece, f'format = "waney-piece/1"\nunits = "mm"\nthickness = 50\n{edges}')
    page = html.unescape(owner.get(f"/pieces/{piece}/edges").text)
    begun = fields_in(page)
    assert len(begun["at"]) == stand_there + 2
    assert (f"has {places} places, too many for a form: {stand_there} of them" in page) == (stand_there < places)
    assert owner.send(f"/pieces/{piece}/edges", begun).status_code == 303
    read = read_piece_sheet(sheet_of(shop, piece) or "")
    assert read.upper_face.area_m2 == pytest.approx(0.29 * 0.01 * (places - 1)), "from the first place to the last"
