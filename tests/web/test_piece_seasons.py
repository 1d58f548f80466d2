"""A piece in winter and in summer: the page says what the command says, goes by its own rings, asks for what is missing."""

from __future__ import annotations

import html

import pytest
from tests.cli.calling import DEMO, run
from tests.papers.conftest import half_turn_case, through_case

from waney.pieces.ring_samples import samples
from waney.sawing.facts.sawn_piece import piece_of_cut
from waney.sawing.moves import Pass
from waney.sawing.plan_file import write_plan
from waney.web.asked.kinds import SEASONS
from waney.web.asked.packing import read_back
from waney.web.asked.seasons import SeasonsAnswer
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, keep_plan
from waney.yard.services.pieces import count_piece, measure_piece
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.stacks import read_moisture

from .at_work import worked
from .conftest import Person

PIECE = DEMO / "piece.toml"


def counted(hand: Hand, shop: Shop, species: str = "white oak") -> str:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, species, thickness_m=0.05, length_m=2.4, widths_m=(0.2, 0.3)))
    return piece


def answer_at(owner: Person, shop: Shop, page: str) -> SeasonsAnswer:
    assert "stands in line" in owner.get(page).text
    return read_back(worked(shop, SEASONS), SeasonsAnswer)


def test_the_page_says_what_the_command_says_of_the_same_sheet_and_room(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop)
    measure_piece(hand, piece, PIECE.read_text(encoding="utf-8"))
    page = f"/pieces/{piece}/seasons?place=Denver%2C+CO&indoors=68+F%2C+70+F%2C+76+F%2C+70+F&finish=shellac%2C+2+coats&highest=55"
    answer = answer_at(owner, shop, page)
    room = ("--indoors", "68 F, 70 F, 76 F, 70 F", "--finish", "shellac, 2 coats", "--highest-humidity", "55")
    lines = run("measure", str(PIECE), "--state", "CO", "--place", "Denver", *room)[1]
    assert f"narrowest {answer.narrowest}" in lines and f"widest {answer.widest}" in lines and answer.moves in lines
    shown = html.unescape(owner.get(page).text)
    assert answer.narrowest in shown and answer.moves in shown and "<svg" in shown and "at 9 % moisture" in answer.width
    assert [row[0] for row in answer.months][:2] == ["January", "February"] and len(answer.months) == 12
    assert {"fpl-gtr-282", "noaa-ccd-2018", "wood-magazine-mee"} <= {figure.source for figure in answer.stands_on}


def test_a_piece_goes_by_its_own_rings_where_the_plan_knows_them_and_was_green_when_it_was_taped(
    owner: Person, shop: Shop, hand: Hand
) -> None:
    sheets = {name: (DEMO / f"{name}.toml").read_text(encoding="utf-8") for name in ("log", "mill", "wants")}
    case, log = through_case().plan, add_log(hand, NewLog(sheets["log"])).id
    plan, piece = keep_plan(hand, log, 1, write_plan(case, sheets)).id, shop.new_id()
    hand.write(CameOff(piece, "", log, plan, cut=4, thickness_m=0.05, length_m=2.4, widths_m=(0.2, 0.3)))
    settle_for_shop(hand, Setting.PLACE, "Madison WI")
    page = f"/pieces/{piece}/seasons"
    own = answer_at(owner, shop, page)
    sawn = piece_of_cut(case, 4)
    assert sawn is not None
    rings = next(figure for figure in own.stands_on if "rings" in figure.what)
    assert rings.says.startswith(f"{100 * samples(sawn).mean_c2:.0f} % of") and "where the plan has it" in rings.basis
    assert own.width.endswith("wide, green") and "as they stand in the plan" in owner.get(page).text
    said = answer_at(owner, shop, f"{page}?grain=quarter")
    assert "the grain stands" in next(figure for figure in said.stands_on if "rings" in figure.what).basis


def test_each_cut_of_a_plan_gives_its_own_piece_and_without_one_it_is_what_stayed_on_the_bed() -> None:
    plan = half_turn_case().plan
    cuts = sum(isinstance(move, Pass) for move in plan.moves)
    found = [piece_of_cut(plan, cut) for cut in range(1, cuts + 1)]
    last = piece_of_cut(plan, None)
    assert [piece.name for piece in [*found, last] if piece] == [planned.piece.name for planned in plan.pieces]
    assert found[0] is None  # the outside slab
    assert piece_of_cut(plan, cuts + 1) is last


def test_a_counted_piece_is_asked_for_what_is_missing_and_then_as_it_was_read_last(owner: Person, shop: Shop, hand: Hand) -> None:
    page = f"/pieces/{(piece := counted(hand, shop))}/seasons"
    text = owner.get(page).text
    assert "how moist it was" in text and "the place where it will stand" in text and "how wide" not in text
    read_moisture(hand, MoistureRead(f"piece:{piece}", 0.1, ReadBy.OVEN, Depth.WHOLE))
    assert "how moist it was" not in owner.get(page).text
    assert answer_at(owner, shop, f"{page}?place=Denver%2C+CO").width.endswith("wide at 10 % moisture")
    typed = answer_at(owner, shop, f"{page}?place=Denver%2C+CO&mc=12&width=14")
    assert typed.width == "14 in wide at 12 % moisture"
    other = counted(hand, shop, "a wood of nobody")
    assert "which wood it is" in owner.get(f"/pieces/{other}/seasons?place=Denver%2C+CO&mc=9").text


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("indoors=68+F%2C+70+F", "one temperature or four"),
        ("indoors=200", "A room kept at 200 °F is none for people; write 41 °F to 104 °F."),
        ("mc=wet", "wet"),
        ("place=Nowhere%2C+CO", "no station"),
        ("finish=paint", "Choose one of the list"),
    ],
)
def test_what_cannot_be_read_stays_in_the_form_with_a_sentence(
    owner: Person, shop: Shop, hand: Hand, query: str, said: str
) -> None:
    answer = owner.get(f"/pieces/{counted(hand, shop)}/seasons?{query}")
    assert answer.status_code == 422 and said in html.unescape(answer.text)


def test_looking_needs_no_sign_in_and_the_page_of_the_piece_leads_there(anybody: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop)
    assert f'href="/pieces/{piece}/seasons"' in anybody.get(f"/pieces/{piece}").text
    assert "Tell first" in anybody.get(f"/pieces/{piece}/seasons").text
