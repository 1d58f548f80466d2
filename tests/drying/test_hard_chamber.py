"""Sharing in vacuum: a chamber is set once; wood that needs it milder travels with its like, and says why with both figures."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.drying.air import AirState
from waney.drying.board import dry
from waney.drying.hard_chamber import Kind, Ways, hard_on, wetted
from waney.drying.kiln_sheet import Heat, KilnSheet
from waney.drying.load import Load, load
from waney.drying.load_plan import LIKELY, company
from waney.drying.lot import Lot
from waney.drying.pile_parts import PilePiece
from waney.drying.vacuum import PERMEABLE, Cycle, Plates, Radio, cycle_steps, plate_steps, with_ends
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.wood.species import species

GUESS = Basis(Ground.DEFAULT, "")
PLATES = Plates(60.0, 7000.0)
ROOM = KilnSheet("plates", 3.2, 1.3, 1.2, 3000.0, Heat.PLATES, PLATES)
TURNS = KilnSheet("turns", 3.2, 1.3, 1.2, 3000.0, Heat.CYCLES, cycle=Cycle(AirState(65.0, 0.35, 3.0), 3.0, 6000.0, 3.0))


def lot(name: str, wood: str, thickness: float, mc: float, *, sapwood: bool = False) -> Lot:
    pieces = tuple(PilePiece(f"{name}{i}", 2.4, 0.2, thickness, Estimate(8.0, 7.0, 9.0, GUESS)) for i in range(4))
    return Lot(name, species(wood), thickness, Estimate(mc, 0.9 * mc, 1.1 * mc, GUESS), 0.07, pieces, sapwood)


WET_OAK = lot("oak", "oak_white", 0.0286, 0.60)
DRY_MAPLE = lot("maple", "maple_red", 0.05, 0.15, sapwood=True)


def both(*lots: Lot, room: KilnSheet = ROOM) -> Load:
    return load(room, lots, LIKELY)


def test_wet_white_oak_and_air_dried_maple_do_not_share_and_the_oak_says_why() -> None:
    found = both(WET_OAK, DRY_MAPLE)
    oak, maple = found.travellers
    assert maple.against == () == maple.judged.hard
    hot, fast, pulled, other = oak.against
    # AH-188 (memory): 4/4 white oak goes by T4-C2, 110 °F (43 °C) down to 30 %; safe rate 2.5 % a day (wengert-oak-rates, seen)
    assert "when it is itself at 59." in hot and "its own schedule has air of 43.3 °C." in hot
    assert other == "maple, as it comes in, bears more."
    assert "of 2.5 % a day" in fast and "by its own schedule" in fast
    assert "of its strength; by its own schedule by" in pulled


def test_what_an_oak_loses_is_what_a_plain_run_of_its_piece_loses() -> None:
    # shares no code with the load: the piece, the chamber, and the most that any 24 hours take
    oak = lot("red", "oak_northern_red", 0.054, 0.25)
    fast = next(why for why in both(oak, DRY_MAPLE).travellers[0].against if "too fast" in why)
    piece = with_ends(piece_of(oak.wood, 0.054, 0.25, temperature_c=60.0, pressure_pa=7000.0), PERMEABLE.likely, 2.4, 60.0)
    course = dry(piece, plate_steps(PLATES, 3.0))
    at = np.concatenate(([0.0], course.days))
    means = np.concatenate(([0.25], course.mean))
    lost = max(float(np.interp(day, at, means) - np.interp(day + 1.0, at, means)) for day in np.linspace(0.0, 2.0, 201))
    said = float(fast.split("too fast: ")[1].split(" of")[0])
    assert said == pytest.approx(100.0 * lost, abs=0.2)


def test_wood_travels_with_its_like_however_hard_the_chamber_is_and_is_told_so() -> None:
    twin = replace(WET_OAK, name="twin", pieces=tuple(replace(one, name=f"t{one.name}") for one in WET_OAK.pieces))
    found = both(WET_OAK, twin)
    assert found.against == ()
    assert all(len(one.judged.hard) == 3 for one in found.travellers)
    assert both(WET_OAK).travellers[0].judged.hard == found.travellers[0].judged.hard


def test_air_dried_lots_of_three_woods_share_and_the_thicker_sets_the_pace() -> None:
    lots = [DRY_MAPLE, lot("red", "oak_northern_red", 0.0286, 0.15), lot("tulip", "yellow_poplar", 0.0286, 0.15)]
    assert all(pair.against == () for pair in company(ROOM, lots))


def test_sapwood_of_the_same_wood_is_ready_first_and_has_to_leave_heartwood_sets_the_pace() -> None:
    found = load(ROOM, [lot("heart", "maple_red", 0.05, 0.15), replace(DRY_MAPLE, name="sap")], Scenarios(1, 4))
    heart, sap = found.travellers
    assert found.pace.name == "heart" and sap.early and not heart.early
    assert sap.ready_days.likely < 0.5 * found.days.likely and sap.mc_at_end.likely < sap.lot.target - 0.01


def test_a_wood_without_tables_is_told_and_a_tender_one_does_not_travel_with_it() -> None:
    found = both(WET_OAK, lot("pear", "pear", 0.0286, 0.15))
    oak, pear = found.travellers
    assert pear.judged.unjudged == "pear: no table tells how hot it may get, how fast it may dry, how hard it is pulled."
    assert oak.judged.unjudged == "" and oak.against[-1] == "What pear bears, no table tells."


def test_radio_frequency_and_turns_are_judged_too() -> None:
    radio = replace(ROOM, heat=Heat.RADIO, plates=None, radio=Radio(60.0, 7000.0))
    for room in (radio, TURNS):
        assert any(
            "its own schedule has air of 43.3 °C" in why for why in both(WET_OAK, DRY_MAPLE, room=room).travellers[0].against
        )


def test_a_load_by_turns_of_warm_air_and_vacuum_is_what_a_plain_run_says_and_wets_what_is_too_dry() -> None:
    found = load(TURNS, [lot("thick", "maple_red", 0.05, 0.15), DRY_MAPLE], Scenarios(1, 4))
    heart, sap = found.travellers
    assert found.plan is None and found.pace.name == "thick"
    assert TURNS.cycle is not None
    piece = with_ends(piece_of(DRY_MAPLE.wood, 0.05, 0.15, temperature_c=65.0, pressure_pa=6000.0), PERMEABLE.likely, 2.4, 65.0)
    when = dry(piece, cycle_steps(TURNS.cycle, 60.0, 3.0), stop_at=0.07).days_to(0.07)
    # the load looks every quarter of an hour, the plain run every three minutes
    assert when is not None and sap.ready_days.likely == pytest.approx(when, rel=0.02)
    assert heart.ready_days.low < heart.ready_days.likely < heart.ready_days.high
    damp = Cycle(AirState(65.0, 0.95, 3.0), 3.0, 6000.0, 3.0)
    (told,) = wetted(lot("dry", "maple_red", 0.0286, 0.10), damp)
    assert "dry is at 10 % and would take up water: in the warm air wood settles at 21 %" in told
    assert list(wetted(DRY_MAPLE, TURNS.cycle)) == []


@settings(max_examples=12, deadline=None)
@given(plate_c=st.floats(45.0, 75.0), hotter=st.floats(1.0, 10.0), mc=st.floats(0.2, 0.8))
def test_hotter_plates_are_never_easier_on_a_wood(plate_c: float, hotter: float, mc: float) -> None:
    oak = lot("oak", "oak_northern_red", 0.0286, mc)

    def over(temperature_c: float) -> dict[Kind, float]:
        piece = with_ends(piece_of(oak.wood, 0.0286, mc, pressure_pa=3000.0), PERMEABLE.likely, 2.4, temperature_c)
        course = dry(piece, plate_steps(Plates(temperature_c, 3000.0), 2.0), profiles=True)
        return {one.kind: one.over for one in hard_on(oak, Ways(course, (course, course), oak.plan, None))}

    mild, hard = over(plate_c), over(plate_c + hotter)
    assert set(mild) == {Kind.HOT, Kind.FAST}
    assert mild[Kind.FAST] <= hard[Kind.FAST] + 1e-6
    assert mild[Kind.HOT] <= hard[Kind.HOT] + 1e-6 or hard[Kind.FAST] > 0.0
