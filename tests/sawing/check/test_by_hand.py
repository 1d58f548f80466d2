"""A whole plan worked out with closed forms only: a round log, sawn through and through, every length and every cent by hand.

Nothing from the checker goes into the plan: chords are 2 sqrt(r2 - d2), the pith is the axis, rings are circles about it, so that
the angle between radius and upright at (u, v) has the cosine v / sqrt(u2 + v2).
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import atan, ceil, floor, sqrt

import numpy as np
import pytest

from waney.logs.frames import placing
from waney.logs.shape import LogShape
from waney.pieces.piece import Piece
from waney.prices.product import Edges, Per, PriceRule, Product, Surface, WidthRule
from waney.prices.worth import Term, Worth
from waney.sawing.check.check import check_plan
from waney.sawing.check.verdict import Reason
from waney.sawing.mill import Feed, Mill
from waney.sawing.moves import Pass, RollOn
from waney.sawing.plan import Grid, Plan, PlannedPiece, Setting, Standing
from waney.sawing.wants import Pattern, Tip

R, LENGTH, STEP, KERF = 0.2, 3.0, 0.001, 0.003
STATIONS, SPACING = 41, 0.075
PASSES = (330, 286, 242, 217)
S_R, S_T, DRYNESS = 0.05, 0.09, 1 - 0.12 / 0.30

MILL = Mill(
    kerf_m=KERF, widest_cut_m=0.45, lowest_m=0.03, highest_m=0.6, bed_length_m=3.0, step_m=STEP, backstop_lowest_m=0.02,
    feeds=(Feed(0.1, 10.0, 8.0), Feed(0.5, 6.0, 4.0)), minutes_per_pass=1.0, minutes_per_loading=10.0, hourly_cents=5000.0,
    blade_cents=3000.0, blade_life_m2=60.0,
)  # fmt: skip

TABLE = Product(
    "table", 0.0317, PriceRule(Per.BOARD_FOOT, 800.0, WidthRule.MEAN_OF_FACES, wide_factors=((0.25, 1.1), (0.35, 1.5))),
    Edges.LIVE, (2.4,), 0.2, nominal_quarters=6, trim_m=0.05, planing_m=0.001, finishing_cents_per_m2=300.0, pith_factor=0.9,
)  # fmt: skip
PLANK = Product(
    "plank", 0.020, PriceRule(Per.SQUARE_METRE, 4000.0), Edges.EDGED, (1.8,), 0.1, widths_m=(0.15, 0.20, 0.25, 0.30),
    surface=Surface.ROUGH, trim_m=0.02,
)  # fmt: skip


def half_up(cents: float) -> int:
    return floor(abs(cents) + 0.5) * (1 if cents >= 0 else -1)


def chord(height: float) -> float:
    return 2 * sqrt(R**2 - (height - R) ** 2)


def upright2(height: float) -> float:
    """Mean squared cosine between radius and upright along the chord, the same at every station of a cylinder: straight between
    points of a lattice of 20 mm about its middle, across (summed by hand over each gap) and upright."""
    half = chord(height) / 2
    row = floor((height - R) / 0.02)
    part = (height - R) / 0.02 - row

    def at(column: int) -> float:
        below, above = (point(column * 0.02, r * 0.02) for r in (row, row + 1))
        return below + part * (above - below)

    def point(x: float, y: float) -> float:
        return 0.5 if x * x + y * y < 0.005**2 else y * y / (x * x + y * y)

    whole = floor(half / 0.02)
    area = sum((at(c) + at(c + 1)) / 2 * 0.02 for c in range(whole))
    rest = half - whole * 0.02
    area += rest * (at(whole) + (at(whole + 1) - at(whole)) * rest / 0.02 / 2)
    return area / half


class Sawn:
    """One slice between two faces."""

    def __init__(self, lower: float, upper: float) -> None:
        self.lower, self.upper = lower, upper
        self.thick, self.middle = upper - lower, (lower + upper) / 2
        self.chords = [chord(v) for v in (lower, self.middle, upper)]
        c2 = upright2(self.middle)
        self.through = 1 - (S_R * c2 + S_T * (1 - c2)) * DRYNESS
        self.across = 1 - (S_R * (1 - c2) + S_T * c2) * DRYNESS
        a, m, b = self.chords
        self.section = self.thick * (a + 4 * m + b) / 6

    def finished(self, half: float) -> float:
        """Dry, flat thickness before planing."""
        distance = max(abs(self.middle - R), self.thick / 2)
        return self.thick * self.through - (S_T - S_R) * DRYNESS * half * atan(half / distance)

    def piece(self, name: str, shape: LogShape) -> Piece:
        half = np.repeat(np.array(self.chords)[:, None] / 2, STATIONS, axis=1)
        turn = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]])
        to_log = placing(turn, np.array([0.0, self.middle - R, LENGTH / 2]))
        pith = np.repeat([[[0.0, R - self.middle]]], STATIONS, axis=1)
        along = np.linspace(-LENGTH / 2, LENGTH / 2, STATIONS)
        return Piece(name, "beech", self.thick, along, -half, half, pith, (), "round log", to_log, shape.rings)


def table_of(cut: Sawn) -> Worth:
    """The whole width, from the butt on, 33 intervals of 0.075 m for 2.4 m and its trim."""
    assert ceil((2.4 + 0.05) / SPACING) == 33
    wide, narrow = max(cut.chords[0], cut.chords[2]), min(cut.chords[0], cut.chords[2])
    assert cut.finished(wide / 2) - 0.001 >= 0.0317
    assert narrow * cut.across >= 0.2
    width = (wide + narrow) / 2 * cut.across
    feet = 2.4 * width * 6 * 0.25 * 0.0254 / (0.0254 * 0.3048**2)
    factor = 1.5 if width >= 0.35 else 1.1 if width >= 0.25 else 1.0
    loss = 0.08
    terms = (
        Term("price, less what drying spoils", half_up(800 * feet * factor * (1 - loss))),
        Term("salvage of what is spoilt", half_up(2500 * cut.section * LENGTH * loss)),
        Term("finishing", half_up(-300 * 2.4 * width)),
        Term("drying", half_up(-35 * 20 * cut.section * 33 * SPACING)),
    )
    nan = float("nan")
    return Worth("table", terms, -LENGTH / 2, 2.4, nan, nan, width, 0.0317, feet)


def plank_of(cut: Sawn) -> Worth:
    """Edged in the middle of the narrower face to the widest width that fits when dry."""
    free = min(cut.chords[0], cut.chords[2])
    width = max(w for w in PLANK.widths_m if w <= free * cut.across)
    green = width / cut.across
    assert cut.thick * cut.through >= 0.020
    loss = 0.3 if cut.lower <= R <= cut.upper else 0.08
    terms = (
        Term("price, less what drying spoils", half_up(4000 * 1.8 * width * (1 - loss))),
        Term("salvage of what is spoilt", half_up(2500 * cut.section * LENGTH * loss)),
        Term("drying", half_up(-35 * 20 * green * cut.thick * 1.82)),
        Term("edging", -220),
    )
    return Worth("plank", terms, -LENGTH / 2, 1.8, -green / 2, green / 2, width, 0.020, 1.8 * width)


def pass_cents(height: float) -> int:
    width = chord(height)
    feed = 8.0 + (width - 0.1) / 0.4 * (4.0 - 8.0)
    return -half_up((1.0 + LENGTH / feed) * 5000 / 60 + width * LENGTH * 3000 / 60)


@pytest.fixture(scope="module")
def shape(make) -> LogShape:
    # 3600 corners: chords are short by less than a micrometre, the size that the checker still calls the same
    return make.cylinder(R, LENGTH, stations=2, m=3600)


@pytest.fixture(scope="module")
def plan(shape) -> Plan:
    cuts = [Sawn(b * STEP + KERF, a * STEP) for a, b in pairwise(PASSES)]
    worths = [table_of(cuts[0]), table_of(cuts[1]), plank_of(cuts[2])]
    names = ["T1", "T2", "B1"]
    pieces = tuple(
        PlannedPiece(cut.piece(name, shape), worth, 0, lower, upper)
        for cut, worth, name, upper, lower in zip(cuts, worths, names, PASSES[:-1], PASSES[1:], strict=True)
    )
    moves = (
        RollOn(0.0, Tip.AS_IT_LIES, 0.0),
        *(Pass(p, name, p * STEP) for p, name in zip(PASSES, ["outside", *names], strict=True)),
    )
    settings = (
        Setting("table", 44, 0.041, 0.0317, 0.001, 0.0, 0.0043, 0.003, 0.0005, 0.0005, 0.95, 0.0),
        Setting("plank", 25, 0.022, 0.020, 0.0, 0.0, 0.0, 0.0012, 0.0004, 0.0004, 0.95, 0.0),
    )
    terms = (Term("loading", half_up(-10 * 5000 / 60)), Term("passes", sum(pass_cents(p * STEP) for p in PASSES)))
    cents = sum(p.worth.cents for p in pieces) + sum(t.cents for t in terms)
    upright = placing(np.eye(3), np.array([0.0, R, 0.0]))
    grid = Grid(STEP, STEP, (0.0,), (Tip.AS_IT_LIES,), STATIONS)
    return Plan(
        "round log", Pattern.THROUGH, 0.0, Tip.AS_IT_LIES, 0.0, (upright,), moves, pieces, settings, terms, cents, cents,
        Standing.OPTIMAL, grid, 0, 1,
    )  # fmt: skip


@pytest.fixture(scope="module")
def wanted(make):
    return replace(make.wants(TABLE, PLANK), target_mc=0.12)


def test_a_plan_worked_by_hand_is_accepted(plan, shape, wanted) -> None:
    verdict = check_plan(plan, shape, MILL, wanted, (S_R, S_T), hardwood=True)
    assert verdict.accepted, (verdict.reason, verdict.sentence)


def test_in_softwood_its_passes_cost_less(plan, shape, wanted) -> None:
    assert check_plan(plan, shape, MILL, wanted, (S_R, S_T), hardwood=False).reason is Reason.MONEY


def test_with_other_shrinkage_its_widths_are_others(plan, shape, wanted) -> None:
    assert check_plan(plan, shape, MILL, wanted, (S_R, S_T + 0.001), hardwood=True).reason is Reason.SIZE


@pytest.mark.parametrize(("density", "heaviest", "held"), [(1000.0, 380.0, True), (1010.0, 380.0, False)])
def test_its_weight_is_that_of_a_cylinder(plan, shape, wanted, density, heaviest, held) -> None:
    """pi r2 l = 0.377 m3: 377 kg at 1000 kg/m3, 381 kg at 1010."""
    mill = replace(MILL, heaviest_log_kg=heaviest)
    verdict = check_plan(plan, shape, mill, wanted, (S_R, S_T), hardwood=True, green_kg_per_m3=density)
    assert verdict.accepted == held
    assert held or verdict.reason is Reason.LIMIT


@pytest.mark.parametrize("which", [0, 1, 2])
def test_each_of_its_pieces_a_nickel_dearer_is_rejected(plan, shape, wanted, which) -> None:
    planned = plan.pieces[which]
    first, *rest = planned.worth.terms
    dearer = replace(planned, worth=replace(planned.worth, terms=(replace(first, cents=first.cents + 5), *rest)))
    pieces = (*plan.pieces[:which], dearer, *plan.pieces[which + 1 :])
    spoilt = replace(plan, pieces=pieces, cents=plan.cents + 5, bound_cents=plan.cents + 5)
    assert check_plan(spoilt, shape, MILL, wanted, (S_R, S_T), hardwood=True).reason is Reason.PRICE
