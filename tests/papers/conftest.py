"""Plans made by hand, so that papers are tested without an optimiser. The log and its owner are invented."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

import numpy as np
import pytest
import shapely

from waney.logs.frames import Placing, placing
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.pieces.piece import Piece
from waney.prices.worth import Term, Worth
from waney.sawing.lie import half_turned, lies
from waney.sawing.mill import End, Mill
from waney.sawing.moves import EdgeTogether, Move, Pass, RollOn, Turn
from waney.sawing.plan import Grid, Plan, PlannedPiece, Setting, Standing
from waney.sawing.wants import Pattern, Tip

INCH = 0.0254
STEP = INCH / 16
KERF = INCH / 8


@dataclass(frozen=True)
class Case:
    """A plan with the log and the mill it belongs to."""

    plan: Plan
    shape: LogShape
    mill: Mill


def a_log(
    butt_in: float = 27.0, top_in: float = 24.0, length_m: float = 3.048, lobes: float = 0.03, zones: tuple[Zone, ...] = ()
) -> LogShape:
    """A slightly lobed, tapered log with an inch of bark at the butt and the pith off centre."""
    z = np.linspace(0.0, length_m, 9)
    angle = 2 * np.pi * np.arange(72) / 72
    form = 1 + lobes * np.cos(2 * angle + 0.6) + lobes / 2 * np.cos(5 * angle)
    radius = (butt_in + (top_in - butt_in) * z / length_m)[:, None] / 2 * INCH * form
    bark = np.repeat((0.9 - 0.3 * z / length_m)[:, None] * INCH, 72, axis=1)
    pith = np.array([[[0.9 * INCH, -0.6 * INCH], [0.3 * INCH, 0.2 * INCH]]])
    return LogShape(z, np.zeros((9, 2)), radius, bark, a_ring_field(z, radius, angle, pith), zones)


def a_ring_field(z: np.ndarray, radius: np.ndarray, angle: np.ndarray, pith: np.ndarray) -> RingField:
    """Reaches from the pith to the outline, by shapely, at both ends."""
    reach = np.empty((1, 2, 72))
    for end in (0, 1):
        outline = shapely.LinearRing(np.column_stack([radius[-end] * np.cos(angle), radius[-end] * np.sin(angle)]))
        start = pith[0, end]
        for j, a in enumerate(angle):
            ray = shapely.LineString([start, start + 9 * np.array([np.cos(a), np.sin(a)])])
            reach[0, end, j] = shapely.Point(start).distance(ray.intersection(outline))
    return RingField(z[[0, -1]], pith, reach)


def a_mill(end: End = End.BUTT, step_m: float = STEP) -> Mill:
    return Mill(
        kerf_m=KERF,
        widest_cut_m=32 * INCH,
        lowest_m=INCH,
        highest_m=30 * INCH,
        bed_length_m=5.0,
        step_m=step_m,
        backstop_lowest_m=0.75 * INCH,
        backstop_highest_m=8 * INCH,
        crossbars_m=(0.3, 1.1, 1.9, 2.7),
        sawyer_stands_at=end,
    )


def a_piece(name: str, shape: LogShape, to_saw: Placing, low_m: float, high_m: float) -> Piece:
    """The slice between two heights, with its edges at both ends."""
    edges = np.full((3, 2), nan), np.full((3, 2), nan)
    for end in (0, 1):
        outline = to_saw.there(shape.surface(bark=False)[-end])
        polygon = shapely.Polygon(outline[:, :2])
        for face, v in enumerate((low_m, (low_m + high_m) / 2, high_m)):
            chord = polygon.intersection(shapely.LineString([(-9, v), (9, v)]))
            if not chord.is_empty:
                edges[0][face, end], _, edges[1][face, end], _ = chord.bounds
    middle = (low_m + high_m) / 2
    # piece frame x, y, z are saw frame w, u, v about the middle of the slice
    to_piece = placing(np.array([[0, 0, 1.0], [1, 0, 0], [0, 1, 0]]), np.array([-shape.length_m / 2, 0.0, -middle]))
    pith = np.zeros((0, 2, 2))
    along = np.array([-0.5, 0.5]) * shape.length_m
    home = to_piece.after(to_saw).inverse()
    return Piece(name, "QUAL", high_m - low_m, along, edges[0], edges[1], pith, log="W12", to_log=home, rings=shape.rings)


def a_worth(product: str | None, length_m: float = 3.0, cents: int = 8400) -> Worth:
    terms = (Term("price less loss", cents), Term("drying", -cents // 12)) if product else (Term("salvage", 40),)
    return Worth(product, terms, 0.02, length_m, nan, nan, 0.45, 0.044, 20.0)


class Saw:
    """Cuts from the top down in one lie after another and keeps the books."""

    def __init__(self, shape: LogShape, to_saw: Placing) -> None:
        self.shape, self.lies = shape, [to_saw]
        self.moves: list[Move] = []
        self.pieces: list[PlannedPiece] = []
        self.at: int | None = None

    def cut(self, steps: int, name: str, product: str | None = "slab", stop_m: float = 6 * INCH, step_m: float = STEP) -> None:
        """One pass; what comes off is a piece when there was a pass above it."""
        self.moves.append(Pass(steps, name, stop_m))
        if self.at is not None:
            self._keep(name, product, steps, self.at, steps * step_m + KERF, self.at * step_m)
        self.at = steps

    def last(self, name: str, product: str | None = "slab", step_m: float = STEP) -> None:
        assert self.at is not None
        self._keep(name, product, 0, self.at, 0.0, self.at * step_m)

    def half_turn(self, step_m: float = STEP) -> None:
        assert self.at is not None
        self.lies.append(half_turned(self.lies[-1], self.at * step_m))
        self.moves.append(Turn(2, onto_flat=True))
        self.at = None

    def _keep(self, name: str, product: str | None, lower: int, upper: int, low_m: float, high_m: float) -> None:
        piece = a_piece(name, self.shape, self.lies[-1], low_m, high_m)
        self.pieces.append(PlannedPiece(piece, a_worth(product), len(self.lies) - 1, lower, upper))


def a_plan(saw: Saw, roll_deg: float, tip: Tip, tip_m: float, pattern: Pattern, lift_m: float = 0.0) -> Plan:
    terms = (Term("loading", -900), Term("passes", -2400), Term("turns", -300))
    cents = sum(p.worth.cents for p in saw.pieces) + sum(t.cents for t in terms)
    setting = Setting("slab", 38, 36 * STEP, 0.044, 0.003, 0.002, 0.0015, 0.0035, 0.001, 0.00215, 0.95, 0.012)
    grid = Grid(STEP, STEP, tuple(float(r) for r in range(0, 360, 10)), (Tip.AS_IT_LIES, Tip.PITH), 42)
    moves = (RollOn(roll_deg, tip, tip_m, lift_m), *saw.moves)
    return Plan(
        *("W12", pattern, roll_deg, tip, tip_m, tuple(saw.lies), moves, tuple(saw.pieces), (setting,), terms),
        *(cents, cents + 850, Standing.GAP, grid, 11800, 7),
    )


def through_case(end: End = End.BUTT, roll_deg: float = 70.0, tip: Tip = Tip.PITH, zones: tuple[Zone, ...] = ()) -> Case:
    """Through-and-through into eight live-edge slabs and two boards, all from one side."""
    shape, mill = a_log(zones=zones), a_mill(end)
    lie = lies(shape, (roll_deg,), (tip,), mill.crossbars_m)[0]
    saw, at = Saw(shape, lie.to_saw), 25 * 16
    saw.cut(at, "outside slab 1", None)
    for number, thick in enumerate((18, 18, 36, 36, 36, 36, 36, 36, 36), 1):
        at -= thick + 2
        saw.cut(at, f"W12-{number}", "4/4 board" if thick == 18 else "slab", stop_m=min(8 * INCH, at * STEP - 0.25 * INCH))
    return Case(a_plan(saw, roll_deg, tip, lie.tip_m, Pattern.THROUGH), shape, mill)


def half_turn_case(end: End = End.BUTT) -> Case:
    """Five pieces from one side, a half turn onto the flat, the rest from the other."""
    shape, mill = a_log(18.0, 16.5, 2.5), a_mill(end)
    lie = lies(shape, (340.0,), (Tip.AS_IT_LIES,), mill.crossbars_m)[0]
    saw, at = Saw(shape, lie.to_saw), 17 * 16
    saw.cut(at, "outside slab 1", None)
    for number in range(1, 4):
        at -= 38
        saw.cut(at, f"W12-{number}")
    saw.half_turn()
    top = at
    at = top - 24
    saw.cut(at, "outside slab 2", None)
    number = 4
    while at > 46:
        at -= 38
        saw.cut(at, f"W12-{number}", stop_m=min(4 * INCH, at * STEP - 0.25 * INCH))
        number += 1
    saw.last(f"W12-{number}")
    return Case(a_plan(saw, 340.0, Tip.AS_IT_LIES, 0.0, Pattern.HALF_TURN), shape, mill)


def edging_case() -> Case:
    """The half-turn plan with two flitches edged together at the end."""
    case = half_turn_case()
    edging = EdgeTogether(("W12-1", "W12-5"), (True, False), 12 * 16, (10 * 16, 8 * 16), (160, 128))
    plan = case.plan
    moves = (*plan.moves, edging)
    values = {name: getattr(plan, name) for name in plan.__dataclass_fields__} | {"moves": moves}
    return Case(Plan(**values), case.shape, case.mill)


A_NAIL = Zone(Hidden.METAL, 0.9, 1.0, -0.2, 0.12, 0.012, chance=0.6, note="fence wire")
ROT = Zone(Hidden.ROT, 0.0, 0.7, 0.01, -0.03, 0.05)


@pytest.fixture(scope="session")
def through() -> Case:
    return through_case(zones=(A_NAIL, ROT))


@pytest.fixture(scope="session")
def half_turn() -> Case:
    return half_turn_case()


@pytest.fixture(scope="session")
def edging() -> Case:
    return edging_case()
