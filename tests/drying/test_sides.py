"""Edges and ends: the thinner board takes a section's days; wide long boards dry as they did; the middle is told no drier."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.drying import crank

from waney.drying.air import DAY, AirState, air_steps, filmed, part
from waney.drying.board import Drying, dry
from waney.drying.kernel.records import AirSteps
from waney.drying.outdoors import Exposure, outdoor_air
from waney.drying.pace import likely_pace
from waney.drying.particles import Case
from waney.drying.section import Section, dry_section, live_edge, rectangle, short_piece
from waney.drying.sides import ORDINARY, BadSides, Sides, counted_m, fitted, middle_over, of_length, of_width
from waney.drying.sides_told import sides_said
from waney.drying.stack import Line, Stack, stack_dates
from waney.drying.watch import said_of_sides
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.wood.climate import station
from waney.wood.diffusion import ease_along
from waney.wood.species import species

OAK, PINE = species("oak_white"), species("pine_eastern_white")
PLACE = station("IN", "Indianapolis")
SPRING = outdoor_air(PLACE, date(2026, 4, 1), 900, Exposure.OPEN)
YARD = filmed(SPRING, likely_pace().film)
KILN = air_steps([(DAY / 2, AirState(55.0, 0.35, 1.5, stack_m=1.2))] * 200)
WIDTHS = st.floats(0.02, 1.2)


def days_of(section: Section, piece: Drying, air: AirSteps, target: float) -> tuple[float, float, float]:
    """Days of a section to the target, and what its middle and the middle of its face hold then."""
    moistures, warm, before, days = np.full(section.volumes.size, piece.mean), piece.temperature_c, piece.mean, 0.0
    face = int(np.flatnonzero(section.points[:, 1] == 0.0)[-1])
    for at in range(0, air.seconds.size, 4):
        now = part(air, at, at + 4)
        course = dry_section(section, piece.law, piece.sg_green, now, moistures, warm, piece.factor)
        moistures, warm = course.moistures, float(course.temperature_c[-1])
        for seconds, mean in zip(now.seconds, course.mean, strict=True):
            if mean <= target:
                gone = days + (before - target) / (before - mean) * seconds / DAY
                return gone, float(moistures[-1]), float(moistures[face])
            days, before = days + seconds / DAY, float(mean)
    raise AssertionError("the section is not dry in this air")


def board(piece: Drying, thickness_m: float, air: AirSteps, target: float) -> float:
    found = dry(replace(piece, thickness_m=thickness_m), air, stop_at=target).days_to(target)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("wood", "thickness", "width", "air", "mc", "target"),
    [(OAK, 0.054, 0.054, YARD, None, 0.20), (PINE, 0.029, 0.076, YARD, None, 0.20), (OAK, 0.054, 0.12, KILN, 0.30, 0.08)],
    ids=["square in the yard", "strip in the yard", "narrow in a kiln"],
)
def test_the_thinner_board_takes_the_days_of_the_section(
    wood: object, thickness: float, width: float, air: AirSteps, mc: float | None, target: float
) -> None:
    # tools/fit_sides.py --check: half of other pieces within 2 %, nine in ten within 5 %
    piece = piece_of(wood, thickness, mc, temperature_c=float(air.source[0]))  # type: ignore[arg-type]
    days, middle, face = days_of(rectangle(width, thickness, (12, 12)), piece, air, target)
    share = of_width(thickness, width)
    assert board(piece, share * thickness, air, target) == pytest.approx(days, rel=0.06)
    assert board(piece, thickness, air, target) > 1.2 * days
    alike = dry(replace(piece, thickness_m=share * thickness), air, stop_at=target)
    over = middle_over(thickness, Sides(width))
    told = float(alike.surface[-1]) + over * float(alike.core[-1] - alike.surface[-1])
    assert told == pytest.approx(middle, abs=0.012) and face == pytest.approx(float(alike.surface[-1]), abs=0.012)


@pytest.mark.parametrize(("thickness", "air", "mc", "target"), [(0.054, YARD, None, 0.20), (0.054, KILN, 0.30, 0.08)])
def test_a_two_foot_piece_with_bare_ends_takes_the_days_of_its_section(
    thickness: float, air: AirSteps, mc: float | None, target: float
) -> None:
    piece, length = piece_of(OAK, thickness, mc, temperature_c=float(air.source[0])), 0.61
    along = ease_along(piece.sg_green, float(air.source.mean()))
    days, _, _ = days_of(short_piece(length, thickness, along, cells=(16, 12)), piece, air, target)
    counted = counted_m(thickness, Sides(length_m=length, ends_open=True), piece.sg_green, air)
    assert board(piece, counted, air, target) == pytest.approx(days, rel=0.06)
    assert board(piece, thickness, air, target) > 1.1 * days


def test_a_leaning_live_edge_takes_the_days_of_the_mean_width_that_is_counted() -> None:
    thickness, width, lean = 0.054, 0.17, 0.5
    piece = piece_of(OAK, thickness, 0.3, temperature_c=55.0)
    # half of the piece: from the edge to its middle, wider at one face than at the other
    leaning = live_edge(thickness, lean, width / 2 - lean * thickness / 2, 1.0, (12, 11))
    days, _, _ = days_of(leaning, piece, KILN, 0.10)
    assert board(piece, of_width(thickness, width) * thickness, KILN, 0.10) == pytest.approx(days, rel=0.06)


def test_edges_and_ends_together_are_the_product_of_three_sheets() -> None:
    """One coefficient, no film, to a fifth: exact in three dimensions, which no section is. Crank's series."""
    times = np.geomspace(0.01, 1.0, 400)
    half, width, length, along = 1.0, 2.0, 9.0, 9.0

    def left(size: float, ease: float = 1.0) -> np.ndarray:
        return 1.0 - crank.dried(1000.0 * size / ease, ease * times / size**2)

    box = float(np.interp(0.2, (left(half) * left(width) * left(length, along))[::-1], times[::-1]))
    sheet = float(np.interp(0.2, left(half)[::-1], times[::-1]))
    counted = of_width(half, width)
    counted *= of_length(counted * half, length, along, 0.0)
    assert counted == pytest.approx((box / sheet) ** 0.5, abs=0.02)


@given(st.floats(0.02, 0.12), WIDTHS, st.floats(0.3, 5.0), st.booleans(), st.booleans())
def test_a_piece_is_never_counted_thicker_nor_as_nothing(t: float, w: float, length: float, edges: bool, ends: bool) -> None:
    found = counted_m(t, Sides(w, length, edges, ends), 0.5, YARD)
    assert 0.1 * min(t, w) < found <= t


@given(st.floats(0.02, 0.12), WIDTHS, WIDTHS)
def test_a_narrower_piece_is_never_counted_thicker(t: float, one: float, other: float) -> None:
    narrow, wide = (counted_m(t, Sides(w), 0.5, YARD) for w in sorted((one, other)))
    assert narrow <= wide + 1e-12


@given(st.floats(0.02, 0.12), st.floats(ORDINARY, 30.0), st.floats(0.3, 5.0))
def test_an_ordinary_board_with_coated_ends_counts_as_it_is(t: float, wide: float, length: float) -> None:
    assert counted_m(t, Sides(wide * t, length), 0.5, YARD) == t


def test_bark_keeps_edges_shut_and_coating_ends() -> None:
    assert counted_m(0.081, Sides(0.2, 0.6, edges_open=False), 0.5, YARD) == 0.081
    bare = counted_m(0.081, Sides(0.2, 0.6, edges_open=False, ends_open=True), 0.5, YARD)
    assert counted_m(0.081, Sides(0.2, 0.6, ends_open=True), 0.5, YARD) < bare < 0.081


def stack(*sides: Sides) -> Stack:
    lines = tuple(Line(f"line {i}", OAK, 0.0286, 1, sides=one) for i, one in enumerate(sides))
    return Stack(PLACE, date(2026, 4, 1), Exposure.OPEN, 0.20, lines)


def test_a_wide_long_board_is_ready_on_the_day_it_always_was() -> None:
    unsized, wide, strip = stack_dates(stack(Sides(), Sides(0.3, 2.4), Sides(0.0286, 2.4)), Scenarios(1, 24)).lines
    assert wide.forecast.after.days == unsized.forecast.after.days and not wide.remarks
    assert strip.forecast.after.days.likely < 0.7 * unsized.forecast.after.days.likely
    assert "by its edges too" in strip.remarks[0] and "leave a gap" in strip.remarks[0]


def test_what_edges_and_ends_do_is_a_sentence_with_both_days() -> None:
    case = Case(OAK, 0.054, SPRING, 0.20, sides=Sides(0.054, 0.6, ends_open=True))
    said = said_of_sides(case)
    assert said.startswith("It dries by its edges and bare ends too: by the model likely in ") and "so coat them" in said
    assert said_of_sides(replace(case, sides=Sides(0.5, 2.4))) == ""
    coated = said_of_sides(replace(case, sides=Sides(0.5, 0.6)))
    assert coated.startswith("Its ends count as coated; bare, by the model likely ") and "check" in coated
    bark = said_of_sides(replace(case, sides=Sides(0.1, 2.4, edges_open=False)))
    assert bark.startswith("Its edges count as closed by bark; without it")


def test_of_wood_that_is_dry_already_no_days_are_told() -> None:
    read = Estimate(0.15, 0.14, 0.16, Basis(Ground.READING, "pins"))
    assert said_of_sides(Case(OAK, 0.054, SPRING, 0.20, start=read, sides=Sides(0.054, 2.4))) == ""


def test_sides_that_cannot_be_are_refused() -> None:
    with pytest.raises(BadSides, match="above zero"):
        Sides(0.0)
    with pytest.raises(BadSides, match="--ends: 'waxed' is none of coated, bare"):
        sides_said("open", "waxed")


def test_the_middle_of_a_wide_piece_is_that_of_the_board() -> None:
    assert middle_over(0.03, Sides()) == middle_over(0.03, Sides(0.1, edges_open=False)) == 1.0
    assert 1.0 < middle_over(0.03, Sides(0.6)) < 1.01 < middle_over(0.03, Sides(0.03)) < 1.0 + fitted()["deeper"]
