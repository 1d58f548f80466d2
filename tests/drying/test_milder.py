"""Milder: what helps where a vacuum chamber is too hard: begun so, nothing is too hard on the way, by plain runs too."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from waney.drying.board import dry
from waney.drying.kiln_sheet import Heat, KilnSheet
from waney.drying.load import borne_days, load
from waney.drying.load_plan import LIKELY
from waney.drying.lot import Lot
from waney.drying.milder import Milder, borne_from, milder_for, settles_at, warmth_c
from waney.drying.pile_parts import PilePiece
from waney.drying.vacuum import PERMEABLE, Plates, Radio, plate_steps, with_ends
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.wood.species import species

GUESS = Basis(Ground.DEFAULT, "")
ROOM = KilnSheet("plates", 3.2, 1.3, 1.2, 3000.0, Heat.PLATES, Plates(60.0, 7000.0))


def lot(wood: str, thickness: float, mc: float, *, sapwood: bool = False) -> Lot:
    pieces = (PilePiece(wood, 2.4, 0.2, thickness, Estimate(8.0, 7.0, 9.0, GUESS)),)
    return Lot(wood, species(wood), thickness, Estimate(mc, 0.9 * mc, 1.1 * mc, GUESS), 0.07, pieces, sapwood)


MAPLE = lot("maple_red", 0.0286, 0.60, sapwood=True)


def helped(kiln: KilnSheet, one: Lot) -> Milder | None:
    return milder_for(load(kiln, [one], LIKELY))


def begun_maple() -> tuple[KilnSheet, tuple[float, float], float]:
    """Where wet maple begins, its days there and after, and the moisture from which on it bears the chamber."""
    found = helped(ROOM, MAPLE)
    assert found is not None and found.begin is not None
    [(_, mc)] = found.from_mc
    assert mc is not None
    return found.begin.kiln, found.begin.days, mc


def test_begun_milder_nothing_is_too_hard_until_the_chamber_as_it_is_set_no_longer_is() -> None:
    kiln, (then, after), mc = begun_maple()
    assert warmth_c(kiln) < warmth_c(ROOM) and ROOM.pressure_pa <= kiln.pressure_pa
    assert borne_days(kiln, [replace(MAPLE, target=mc)]) == pytest.approx(then)
    drier = replace(MAPLE, start=Estimate(mc, mc, mc, GUESS))
    assert borne_days(ROOM, [drier]) == pytest.approx(after)
    wetter = replace(MAPLE, start=Estimate(mc + 0.03, mc, mc + 0.05, GUESS))
    assert borne_days(ROOM, [wetter]) is None, "a little wetter it does not bear the chamber as it is set"


def test_by_a_plain_run_it_gets_there_in_these_days_and_loses_less_in_a_day() -> None:
    # shares no code with the judging: the piece, the chamber and the most that any 24 hours take
    kiln, (then, _), mc = begun_maple()
    assert kiln.plates is not None
    at = warmth_c(kiln)
    piece = with_ends(piece_of(MAPLE.wood, 0.0286, 0.60, temperature_c=at, pressure_pa=7000.0), PERMEABLE.likely, 2.4, at)
    course = dry(piece, plate_steps(kiln.plates, 20.0))
    days, means = np.concatenate(([0.0], course.days)), np.concatenate(([0.60], course.mean))
    lost = max(float(np.interp(day, days, means) - np.interp(day + 1.0, days, means)) for day in np.linspace(0.0, 3.0, 301))
    assert course.days_to(mc) == pytest.approx(then, rel=0.05)
    hard = dry(piece_of(MAPLE.wood, 0.0286, 0.60, temperature_c=60.0, pressure_pa=7000.0), plate_steps(ROOM.plates, 1.0))  # type: ignore[arg-type]
    assert lost < 0.60 - float(hard.mean[-1]), "less than the chamber as it is set takes on its first day"


def test_wet_white_oak_is_sent_out_to_be_air_dried_first() -> None:
    # the trade air-dries oak before vacuum (common practice, no source)
    found = helped(ROOM, lot("oak_white", 0.0286, 0.60))
    assert found is not None and found.begin is None
    [(_, mc)] = found.from_mc
    assert mc is not None and 0.15 <= mc <= 0.25


def test_what_bears_the_chamber_needs_no_help_and_heated_air_is_not_asked() -> None:
    assert helped(ROOM, lot("maple_red", 0.05, 0.15)) is None
    assert helped(replace(ROOM, heat=Heat.AIR, plates=None), MAPLE) is None


def test_a_chamber_that_settles_wood_above_where_it_is_wanted_is_never_named() -> None:
    kiln, _, mc = begun_maple()
    assert settles_at(kiln) < mc


def test_radio_frequency_is_set_milder_too() -> None:
    kiln = replace(ROOM, heat=Heat.RADIO, plates=None, radio=Radio(60.0, 7000.0))
    found = helped(kiln, MAPLE)
    assert found is not None and found.from_mc[0][0] == "maple_red"
    begin = found.begin
    assert begin is None or (begin.kiln.radio is not None and begin.temperature_c < 60.0)


def test_wood_that_bears_the_chamber_at_nothing_above_its_target_says_so() -> None:
    hot = replace(ROOM, plates=Plates(95.0, 7000.0))
    assert borne_from(hot, lot("oak_white", 0.08, 0.60)) is None
