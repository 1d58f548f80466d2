"""Loads: the slowest lot's own moisture rules, nobody is averaged, who must leave is told, plans fit the kiln."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.drying.loads import wrong_with

from waney.drying.kiln import LoadNeverDry, days_of_one
from waney.drying.kiln_sheet import BadKiln, Heat, KilnSheet
from waney.drying.load import days_alone, held, load
from waney.drying.load_plan import Aim, fewest, packed, proposals
from waney.drying.load_told import NOT_IN_VACUUM, said_of_load_stress, said_of_lot_sides
from waney.drying.lot import BadLot, Lot
from waney.drying.pile_check import faults
from waney.drying.pile_parts import PilePiece
from waney.drying.schedules import UnknownSchedule
from waney.drying.vacuum import RADIO_FILM_W, Plates, Radio
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.wood.species import species

GUESS = Basis(Ground.DEFAULT, "")
SHED = KilnSheet("shed", 3.2, 1.3, 1.2, 3000.0)
FEW = Scenarios(seed=1, n=8)


def lot(name: str, wood: str, thickness: float, mc: float, target: float = 0.07, count: int = 6) -> Lot:
    pieces = tuple(PilePiece(f"{name}{i}", 2.4, 0.2, thickness, Estimate(8.0, 7.0, 9.0, GUESS)) for i in range(count))
    return Lot(name, species(wood), thickness, Estimate(mc, 0.9 * mc, 1.1 * mc, GUESS), target, pieces)


OAK_8, ASH_4 = lot("oak", "oak_northern_red", 0.054, 0.25), lot("ash", "ash_white", 0.0286, 0.20)
CHERRY_8, WET_OAK = lot("cherry", "cherry_black", 0.054, 0.20), lot("wet", "oak_white", 0.0286, 0.60)


@pytest.mark.parametrize(
    "lots",
    [[OAK_8, ASH_4], [ASH_4, CHERRY_8, OAK_8], [WET_OAK, OAK_8], [ASH_4]],
    ids=lambda lots: " ".join(lot.name for lot in lots),
)
def test_a_load_is_what_a_replay_with_sample_boards_says(lots: list[Lot]) -> None:
    assert wrong_with(load(SHED, lots, FEW)) == []


def test_the_replay_finds_a_load_that_was_told_wrong() -> None:
    told = load(SHED, [OAK_8, ASH_4], FEW)
    ash = told.travellers[1]
    wrong = replace(ash, mc_at_end=ash.mc_at_end.__class__(0.07, 0.06, 0.08, GUESS))
    assert "ends at" in wrong_with(replace(told, travellers=(told.travellers[0], wrong)))[0]


def test_the_middle_of_a_lot_comes_out_wetter_than_its_mean_and_of_one_that_leaves_as_it_leaves() -> None:
    oak, ash = load(SHED, [OAK_8, ASH_4], FEW).travellers
    assert ash.early and not oak.early
    for one, mean in ((oak, oak.mc_at_end.likely), (ash, 0.07)):
        assert one.inside.mean == pytest.approx(mean)
        assert one.inside.face.likely < mean < one.inside.core.likely < mean + 0.08
        assert one.inside.core.low < one.inside.core.likely < one.inside.core.high
    assert ash.inside.core.low > ash.mc_at_end.high  # it leaves: left in, all of it would be drier than its middle is


def test_the_stress_of_a_load_is_that_of_the_lot_which_it_pulls_most() -> None:
    together = load(SHED, [OAK_8, ASH_4], FEW)
    alone = [said_of_load_stress(load(SHED, [one], FEW)) for one in (OAK_8, ASH_4)]
    kept = [float(said.split("kept from shrinking by ")[1].split(" %")[0]) for said in alone]
    assert kept[0] > kept[1] and said_of_load_stress(together) == alone[0]
    assert alone[0].startswith("oak: the surface is pulled to ") and "of what green wood bears" in alone[1]


def test_a_narrow_lot_says_by_how_much_it_is_earlier_and_in_vacuum_that_nobody_counts_it() -> None:
    squares = replace(OAK_8, pieces=tuple(replace(one, width_m=0.054) for one in OAK_8.pieces))
    assert days_alone(squares, SHED) < 0.6 * days_alone(replace(squares, edges_open=False), SHED)
    assert "by its edges too" in said_of_lot_sides(squares, SHED)
    assert said_of_lot_sides(replace(squares, edges_open=False), SHED) == ""
    plates = KilnSheet("plates", 3.2, 1.3, 1.2, 3000.0, heat=Heat.PLATES, plates=Plates(60.0, 8000.0))
    assert said_of_lot_sides(squares, plates) == NOT_IN_VACUUM and said_of_lot_sides(OAK_8, plates) == ""


def test_what_edges_do_is_told_where_the_wide_board_never_gets_there_and_where_no_schedule_is_known() -> None:
    posts = replace(lot("posts", "oak_white", 0.1143, 0.50, 0.08), code="T3-A1")
    posts = replace(posts, pieces=tuple(replace(one, width_m=0.1143) for one in posts.pieces))
    cool = replace(SHED, hottest_c=60.0)
    with pytest.raises(LoadNeverDry):
        days_alone(replace(posts, edges_open=False), cool)
    assert "instead of more days than were looked at" in said_of_lot_sides(posts, cool)
    plates = KilnSheet("plates", 3.2, 1.3, 1.2, 3000.0, heat=Heat.PLATES, plates=Plates(60.0, 8000.0))
    pear = lot("pear", "pear", 0.027, 0.30)
    with pytest.raises(UnknownSchedule):
        days_alone(pear, SHED)
    assert said_of_lot_sides(pear, plates) == "", "in vacuum no schedule is asked for"


def test_company_neither_hurries_nor_delays_the_pace_setter() -> None:
    # by a mean of all samples the dry ash would move the schedule on; it must not
    alone, shared = load(SHED, [OAK_8], FEW), load(SHED, [OAK_8, ASH_4], FEW)
    assert shared.pace.name == "oak" and shared.days.likely == pytest.approx(alone.days.likely)
    board = piece_of(OAK_8.wood, OAK_8.counted_m, 0.25, temperature_c=OAK_8.plan.steps[0].dry_c)
    assert alone.days.likely == pytest.approx(days_of_one(board, OAK_8.plan, 0.07, 1.0), rel=1e-3)


def test_the_lot_that_would_be_overdried_leaves_when_it_is_ready() -> None:
    found = load(SHED, [OAK_8, ASH_4], FEW)
    oak, ash = found.travellers
    assert ash.early and not oak.early and ash.ready_days.likely < found.days.likely
    assert ash.mc_at_end.likely < 0.06 and ash.mc_at_end.low <= ash.mc_at_end.likely <= ash.mc_at_end.high
    assert found.days.low < found.days.likely < found.days.high


def test_water_is_dry_mass_times_what_each_lot_loses_until_it_leaves() -> None:
    found = load(SHED, [OAK_8, ASH_4], FEW)
    # Wood Handbook Table 5-3b: specific gravity, green: northern red oak 0.56, white ash 0.55
    wanted = 1000 * (0.56 * OAK_8.volume_m3 * (0.25 - 0.07) + 0.55 * ASH_4.volume_m3 * (0.20 - 0.07))
    assert found.water_kg.likely == pytest.approx(wanted, rel=0.03)  # a lot leaves at the end of an interval of six hours
    # latent heat of water near 50 °C is 2.38 MJ/kg (steam tables, memory); bound water and warming the wood come on top
    assert 1.0 < found.heat_j.likely / (2.38e6 * found.water_kg.likely) < 1.6


def test_thick_oak_rules_over_thin_ash() -> None:
    # user-needs: 8/4 oak put on top of a 4/4 load checked (common practice, no source)
    ash = lot("ash", "ash_white", 0.0286, 0.45)
    thick = lot("thick", "oak_white", 0.054, 0.70)
    found = load(SHED, [ash, thick], FEW)
    assert found.pace.name == "thick" and found.plan is not None and found.plan.code == thick.plan.code


def test_dry_wood_is_not_wetted_by_the_start_of_another_load() -> None:
    found = load(SHED, [lot("maple", "maple_red", 0.0286, 0.12), WET_OAK], FEW)
    assert any("take up water" in why for why in found.against)


def test_a_schedule_that_is_too_hard_for_one_is_said_with_both_figures() -> None:
    # 8/4 white ash goes by T5-B3, which begins at 120 °F (49 °C); 4/4 white oak by T4-C2, at 110 °F (43 °C): AH-188, memory
    found = load(SHED, [WET_OAK, lot("ash", "ash_white", 0.054, 0.45)], FEW)
    assert found.pace.name == "ash" and any(
        "60 % on day 0, when it gets 49 °C; its own schedule has 43 °C." in why for why in found.against
    )
    assert all("wet" in why for why in found.against)


def test_a_kiln_that_gets_less_hot_takes_longer_and_keeps_the_depression() -> None:
    cool = replace(SHED, hottest_c=50.0)
    assert days_alone(ASH_4, cool) > days_alone(ASH_4, SHED)
    plan = held(ASH_4.plan, 50.0)
    pairs = list(zip(plan.steps, ASH_4.plan.steps, strict=True))
    assert all(a.dry_c <= 50.0 and a.dry_c - a.wet_c == pytest.approx(b.dry_c - b.wet_c) for a, b in pairs)


def test_vacuum_has_its_own_way_and_the_thicker_lot_sets_the_pace() -> None:
    plates = KilnSheet("plates", 3.2, 1.3, 1.2, 3000.0, Heat.PLATES, Plates(60.0, 7000.0))
    thin, thick = lot("thin", "maple_red", 0.0286, 0.15), lot("thick", "maple_red", 0.05, 0.15)
    found = load(plates, [thin, thick], Scenarios(1, 4))
    assert found.pace.name == "thick" and found.plan is None
    assert found.travellers[0].ready_days.likely < found.days.likely
    assert {len({p.piece.thickness_m for p in layer.laid}) for layer in packed(plates, thin.pieces + thick.pieces).layers} == {1}


def test_radio_frequency_lies_between_scarce_heat_and_plenty_and_is_no_surer_than_plates() -> None:
    room = KilnSheet("radio", 3.2, 1.3, 1.2, 3000.0, Heat.RADIO, radio=Radio(60.0, 7000.0))
    wet, some = lot("wet", "maple_red", 0.0286, 0.40), Scenarios(1, 16)
    found = load(room, [wet], some).days
    likely_w, least_w, most_w = RADIO_FILM_W
    scarce, plenty, sure = (
        load(replace(room, heat=Heat.PLATES, radio=None, plates=Plates(60.0, 7000.0, 0.0, film)), [wet], some).days
        for film in (least_w, most_w, likely_w)
    )
    assert plenty.likely < found.likely < scarce.likely
    # the same doubts and one more: never surer than if its heat were known for certain
    assert found.low <= sure.low * 1.05 and found.high >= sure.high * 0.95 and found.width > 0.95 * sure.width


def test_heat_that_no_load_is_planned_by_is_said_so() -> None:
    with pytest.raises(BadKiln, match="sample boards"):
        load(replace(SHED, heat=Heat.RADIO), [ASH_4], FEW)


def test_what_cannot_be_loaded_is_answered_with_a_sentence() -> None:
    with pytest.raises(BadLot, match="dry already"):
        lot("dry", "ash_white", 0.0286, 0.06)
    with pytest.raises(BadLot, match="name of its own"):
        load(SHED, [ASH_4, ASH_4], FEW)
    with pytest.raises(UnknownSchedule, match="write a code"):
        load(SHED, [lot("pear", "pear", 0.0286, 0.3)], FEW)
    with pytest.raises(BadKiln):
        KilnSheet("none", 3.2, 1.3, 1.2, 3000.0, Heat.PLATES)
    with pytest.raises(LoadNeverDry):
        load(SHED, [lot("thick", "oak_white", 0.30, 0.8, 0.05)], FEW)


def test_a_scenario_that_never_gets_there_is_counted_and_does_not_stop_the_load() -> None:
    found = load(SHED, [replace(lot("thick", "oak_white", 0.115, 0.50), edges_open=False)], Scenarios(1, 32))
    assert found.travellers[0].late > 0 and found.days.likely < 400.0 == found.days.high


def test_every_proposal_takes_all_pieces_once_and_passes_the_checkers() -> None:
    lots = [OAK_8, replace(CHERRY_8, pieces=lot("cherry", "cherry_black", 0.054, 0.2, count=90).pieces), ASH_4, WET_OAK]
    small = replace(SHED, height_m=0.6, load_kg=400.0)
    found = proposals(small, lots, Scenarios(1, 2))
    assert len(found) >= 2 and {aim for one in found for aim in one.aims} == set(Aim)
    names = sorted(piece.name for one in lots for piece in one.pieces)
    for one in found:
        assert sorted([p.name for each in one.loads for p in each.pile.pieces] + [p.name for p, _ in one.out]) == names
        for each in one.loads:
            assert faults(replace(each.pile, left=()), each.pile.pieces) == ()
            assert each.kg <= 400.0 and each.pile.height_m <= 0.6
            assert each.load.against == () or len(each.load.travellers) == 1
            assert sorted(p.name for t in each.load.travellers for p in t.lot.pieces) == sorted(p.name for p in each.pile.pieces)
        assert len(one.loads) >= fewest(small, lots) >= 2
    days = [one.days[0] for one in found]
    assert days == sorted(days)
    closed = next(one for one in found if Aim.CLOSED in one.aims)
    assert not any(each.early for one in closed.loads for each in one.load.travellers)


def test_a_piece_that_fits_in_no_load_is_told_with_its_reason() -> None:
    big = PilePiece("big", 4.0, 0.3, 0.0286, Estimate(30.0, 25.0, 35.0, GUESS))
    heavy = PilePiece("heavy", 2.4, 0.3, 0.0286, Estimate(4000.0, 3900.0, 4100.0, GUESS))
    (one,) = proposals(SHED, [replace(ASH_4, pieces=(*ASH_4.pieces, big, heavy))], Scenarios(1, 2))
    assert {piece.name: why for piece, why in one.out} == {"big": "longer than the room", "heavy": "the kiln bears no more"}
    assert len(one.loads) == 1 and len(one.loads[0].pile.pieces) == 6
