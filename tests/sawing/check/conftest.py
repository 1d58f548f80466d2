"""Logs of known form, and a builder of small valid plans: fixed heights, geometry from the checker's own parts.

What the builder makes proves nothing about the geometry or the money by itself: that is what the closed forms in
test_chords, test_lie, test_by_hand and test_offers are for. It gives the mutation tests something valid to spoil.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import pytest

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.frames import placing
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.pieces import shrinking as pieces_shrinking
from waney.pieces.piece import Piece, PieceZone
from waney.prices.product import Edges, Grain, Per, PriceRule, Product, Surface, WidthRule
from waney.prices.rules import DryingAllowance, PriceRules, Ranking
from waney.prices.worth import Term, Worth
from waney.sawing.check.cents import whole
from waney.sawing.check.edging import saved_cents
from waney.sawing.check.left import Left
from waney.sawing.check.lie import lie_of, named_tips_m, rest_slopes, turned_onto_bark, turned_onto_flat
from waney.sawing.check.offers import AS_IT_COMES, EXACT, Judge, Offer, Shrinking
from waney.sawing.check.passes import Costs, near_metal
from waney.sawing.check.pieces import sawn_edges
from waney.sawing.check.sections import Sections
from waney.sawing.check.slices import Slice
from waney.sawing.check.worths import Judged
from waney.sawing.lay import ask_of, outline_of
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Feed, Mill
from waney.sawing.moves import EdgeTogether, Move, Pass, RollOn, Turn
from waney.sawing.plan import Grid, Plan, PlannedPiece, Setting, Standing
from waney.sawing.search import Bench, plan_half_turn, plan_through
from waney.sawing.wants import Pattern, Tip, Wants

GUESS = Basis(Ground.DEFAULT, "")


def sure(value: float) -> Estimate:
    return Estimate.known(value, GUESS)


def rings_about(
    z: np.ndarray, pith: Callable[[float], tuple[float, float]], centre: np.ndarray, radius: np.ndarray, m: int = 72
) -> RingField:
    """Circles about the centre of each section; the pith anywhere inside, its reach in closed form."""
    angle = 2 * np.pi * np.arange(m) / m
    ways = np.column_stack([np.cos(angle), np.sin(angle)])
    piths = np.array([pith(float(h)) for h in z])
    off = piths - centre
    along = off @ ways.T
    reach = -along + np.sqrt(radius[:, None] ** 2 - np.sum(off**2, axis=1)[:, None] + along**2)
    return RingField(z, piths[None], reach[None])


def log(
    length: float,
    radius: Callable[[float, np.ndarray], np.ndarray],
    *,
    centre: Callable[[float], tuple[float, float]] = lambda z: (0.0, 0.0),
    pith: Callable[[float], tuple[float, float]] | None = None,
    bark: float = 0.0,
    stations: int = 13,
    m: int = 72,
    zones: Sequence[Zone] = (),
) -> LogShape:
    """A log whose radius inside bark is a function of z and direction."""
    z = np.linspace(0.0, length, stations)
    angle = 2 * np.pi * np.arange(m) / m
    radii = np.array([np.broadcast_to(radius(float(h), angle), (m,)) for h in z])
    centres = np.array([centre(float(h)) for h in z])
    rings = rings_about(z, pith or centre, centres, radii.mean(axis=1))
    return LogShape(z, centres, radii, np.full_like(radii, bark), rings, tuple(zones))


def cylinder(radius: float, length: float, **more: object) -> LogShape:
    return log(length, lambda z, a: np.full_like(a, radius), **more)  # type: ignore[arg-type]


def cone(butt: float, top: float, length: float, **more: object) -> LogShape:
    return log(length, lambda z, a: np.full_like(a, butt + (top - butt) * z / length), **more)  # type: ignore[arg-type]


def live_slab(name: str = "slab", thickness: float = 0.036, **more: object) -> Product:
    rule = PriceRule(Per.BOARD_FOOT, 900.0, WidthRule.MEAN_OF_FACES, wide_factors=((0.3, 1.25), (0.4, 1.5)))
    kept = {
        "price": rule, "edges": Edges.LIVE, "lengths_m": (2.4, 1.8), "least_width_m": 0.15, "trim_m": 0.05, "planing_m": 0.003,
        "flattening_m": 0.002, "finishing_cents_per_m2": 400.0, "nominal_quarters": 6, "pith_factor": 0.8,
    }  # fmt: skip
    return Product(name, thickness, **(kept | more))  # type: ignore[arg-type]


def board(name: str = "board", thickness: float = 0.019, **more: object) -> Product:
    kept = {
        "price": PriceRule(Per.BOARD_FOOT, 500.0), "edges": Edges.EDGED, "lengths_m": (2.4, 1.2), "least_width_m": 0.10,
        "trim_m": 0.05, "planing_m": 0.002, "finishing_cents_per_m2": 150.0, "nominal_quarters": 4, "pith_kept": False,
    }  # fmt: skip
    return Product(name, thickness, **(kept | more))  # type: ignore[arg-type]


@dataclass(frozen=True)
class Case:
    """A plan and all that it is to be checked against."""

    plan: Plan
    shape: LogShape
    mill: Mill
    wants: Wants
    shrinking: tuple[float, float]
    hardwood: bool = True


@dataclass
class Builder:
    """Saws a log at given heights and writes down what comes off."""

    shape: LogShape
    mill: Mill
    wants: Wants
    steps: dict[str, int]
    """setting of each product"""
    shrinking: tuple[float, float] = (0.045, 0.085)
    hardwood: bool = True

    def __post_init__(self) -> None:
        self.left = Left(self.shape)
        self.costs = Costs(self.mill, self.hardwood)
        self.moves: list[Move] = []
        self.pieces: list[PlannedPiece] = []
        self.judged: dict[str, Judged] = {}
        self.lies: list[Sections] = []
        self.passes: list[float] = []
        self.metal: list[float] = []
        self.saved: list[float] = []
        self.count = 0
        self.last: int | None = None

    def roll_on(self, roll: float, tip: Tip) -> Builder:
        slope = rest_slopes(self.shape, roll, self.mill.crossbars_m)[0]
        move = RollOn(roll, tip, named_tips_m(self.shape, roll, slope, tip)[0])
        self.moves.append(move)
        self.lies.append(Sections.of(self.left, lie_of(self.shape, move, slope, self.mill.crossbars_m)))
        return self

    def turn(self, quarters: int, onto_flat: bool) -> Builder:
        lie = self.lies[-1].lie
        if onto_flat:
            lie = turned_onto_flat(self.left, lie, quarters)
        else:
            lie = next(turned_onto_bark(self.left, lie, quarters, self.mill.crossbars_m))
        self.moves.append(Turn(quarters, onto_flat))
        self.lies.append(Sections.of(self.left, lie))
        self.last = None
        return self

    def saw(self, *heights: int) -> Builder:
        for steps in heights:
            sections, height = self.lies[-1], steps * self.mill.step_m
            name = self._take_off(steps, height + self.mill.kerf_m) if self.last is not None else f"outside-{len(self.moves)}"
            self.moves.append(Pass(steps, name, max(self.mill.backstop_lowest_m, height - 0.02)))
            self.passes.append(self.costs.cut(sections.widest_m(height), sections.square_length_m))
            near = near_metal(sections, height, self.mill.kerf_m, self.wants.metal_margin_m)
            self.metal.append(sum(map(self.costs.metal, near)))
            self.lies[-1] = sections.below(height)
            self.left, self.last = self.lies[-1].left, steps
        return self

    def finish_on_flat(self) -> Builder:
        self._take_off(0, 0.0)
        return self

    def _take_off(self, lower_steps: int, lower: float) -> str:
        self.count += 1
        name, upper = f"P{self.count}", self.last
        assert upper is not None
        sections = self.lies[-1]
        whole_cut = Slice(sections, lower, upper * self.mill.step_m, 0, len(sections.w_m) - 1)
        wood = sorted(whole_cut.stations_with_wood)
        cut = replace(whole_cut, first=min(wood[0], len(sections.w_m) - 2), last=max(wood[-1], 1))
        piece = self._piece(name, cut)
        judge = Judge(cut, self.wants, Shrinking(*self.shrinking), all(piece.sawn_edges))
        keeps = tuple(p for p in self.wants.products if self._keeps(p, lower_steps, upper))
        offer = judge.best(keeps, EXACT)
        if offer is not None and offer.cents <= whole(judge.salvage_cents()):
            offer = None
        worth = self._worth(offer, judge)
        self.pieces.append(PlannedPiece(piece, worth, len(self.lies) - 1, lower_steps, upper))
        self.judged[name] = Judged(self.pieces[-1], judge, offer)
        return name

    def _keeps(self, product: Product, lower: int, upper: int) -> bool:
        steps = self.steps.get(product.name)
        if steps is None:
            return False
        green = steps * self.mill.step_m - self.mill.kerf_m
        return green - 1e-9 <= upper * self.mill.step_m and upper <= steps if lower == 0 else upper - lower == steps

    def _piece(self, name: str, cut: Slice) -> Piece:
        u, w = cut.box_middle_u_m, float(cut.w_m[0] + cut.w_m[-1]) / 2
        turn = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]])
        to_log = cut.sections.lie.inverse().after(placing(turn, np.array([u, cut.middle_m, w])))
        zones = []
        for zone in self.shape.zones:
            ends = to_log.back(np.array([[zone.x_m, zone.y_m, zone.from_m], [zone.x_m, zone.y_m, zone.to_m]]))
            if np.min(np.abs(ends[:, 2])) < cut.thickness_m / 2 + zone.radius_m:
                start, end = (tuple(float(c) for c in point) for point in ends)
                zones.append(PieceZone(zone.kind, start, end, zone.radius_m, zone.chance, zone.note))  # type: ignore[arg-type]
        return Piece(
            name, "oak", cut.thickness_m, cut.w_m - w, cut.low - u, cut.high - u, cut.piths - np.array([u, cut.middle_m]),
            tuple(zones), "log", to_log, self.shape.rings, sawn_edges(cut),
        )  # fmt: skip

    def _worth(self, offer: Offer | None, judge: Judge) -> Worth:
        nan = float("nan")
        if offer is None:
            return Worth(None, (Term(AS_IT_COMES, whole(judge.salvage_cents())),), 0.0, 0.0, nan, nan, 0.0, 0.0, 0.0)
        terms = tuple(Term(what, whole(cents)) for what, cents in offer.terms.items())
        u, start = judge.piece.box_middle_u_m, judge.piece.own_x_m(offer.start)
        edges = (offer.low_m - u, offer.high_m - u)
        product = offer.product
        return Worth(product.name, terms, start, offer.length_m, *edges, offer.width_m, product.thickness_m, offer.measure)

    def edge(self, low_up: Sequence[bool], names: Sequence[str], first: int, widths: Sequence[int]) -> Builder:
        then = tuple(sorted(set(widths), reverse=True))
        move = EdgeTogether(tuple(names), tuple(low_up), first, then, tuple(widths))
        self.moves.append(move)
        self.saved.append(saved_cents(move, self.judged, self.costs, self.wants.rules.edging_cents))
        return self

    def plan(self, pattern: Pattern) -> Case:
        first = self.moves[0]
        assert isinstance(first, RollOn)
        turns = sum(isinstance(move, Turn) for move in self.moves)
        terms = (
            Term("loading", whole(-self.costs.minutes(self.mill.minutes_per_loading))),
            Term("passes", sum(whole(-cents) for cents in self.passes)),
            Term("turns", whole(-turns * self.costs.minutes(self.mill.minutes_per_turn))),
            Term("metal", sum(whole(-cents) for cents in self.metal)),
            Term("edging saved", sum(whole(cents) for cents in self.saved)),
        )
        cents = sum(planned.worth.cents for planned in self.pieces) + sum(term.cents for term in terms)
        grid = Grid(self.mill.step_m, self.mill.step_m, (first.roll_deg,), (first.tip,), len(self.lies[0].w_m))
        plan = Plan(
            "log", pattern, first.roll_deg, first.tip, first.tip_m, tuple(s.lie for s in self.lies), tuple(self.moves),
            tuple(self.pieces), tuple(self._settings()), terms, cents, cents + 500, Standing.GAP, grid, 0, 1,
        )  # fmt: skip
        return Case(plan, self.shape, self.mill, self.wants, self.shrinking, self.hardwood)

    def _settings(self) -> list[Setting]:
        rows = []
        for product in self.wants.products:
            steps = self.steps[product.name]
            green = steps * self.mill.step_m - self.mill.kerf_m
            parts = (product.thickness_m, product.planing_m, product.flattening_m, 0.001, 0.002, 0.0005)
            rows.append(Setting(product.name, steps, green, *parts, green - sum(parts), 0.95, 0.01))
        return rows


STEP = 0.0254 / 16
MILL = Mill(
    kerf_m=0.0022, widest_cut_m=0.75, lowest_m=0.02, highest_m=0.70, bed_length_m=4.0, step_m=STEP, thickest_m=0.5,
    backstop_lowest_m=0.015, feeds=(Feed(0.2, 12.0, 9.0), Feed(0.6, 5.0, 3.5)), minutes_per_pass=1.3, minutes_per_turn=4.0,
    minutes_per_edging=3.0, minutes_per_loading=8.0, hourly_cents=6000.0, blade_cents=3200.0, blade_life_m2=90.0,
)  # fmt: skip

NAIL = Zone(Hidden.METAL, 1.0, 1.02, -0.16, 0.03, 0.015, 0.6, "nail")
KNOT = Zone(Hidden.KNOT, 0.6, 0.9, 0.05, 0.11, 0.02)
ROT = Zone(Hidden.ROT, 0.0, 0.55, 0.02, 0.01, 0.04)


def wants(*products: Product) -> Wants:
    allowances = {p.name: DryingAllowance(sure(35.0), sure(0.08), sure(0.3)) for p in products}
    rules = PriceRules(Ranking.MONEY, "USD", 2500.0, 20.0, 220.0)
    return Wants(products, rules, allowances, 0.08, 0.09, metal_margin_m=0.01)


def lobed(z: float, a: np.ndarray) -> np.ndarray:
    return (0.24 - 0.012 * z) * (1 + 0.04 * np.cos(3 * a + 0.5) + 0.02 * np.cos(5 * a))


def bowed(z: float) -> tuple[float, float]:
    return 0.03 * np.sin(np.pi * z / 3.0), -0.01 * np.sin(np.pi * z / 3.0)


def _through() -> Case:
    shape = cone(0.24, 0.20, 3.0, bark=0.012, pith=lambda z: (0.01 + 0.004 * z, -0.012), zones=(NAIL, KNOT))
    saw = Builder(shape, MILL, wants(live_slab(), board()), {"slab": 36, "board": 19}).roll_on(30.0, Tip.PITH)
    return saw.saw(285, 249, 230, 194, 158, 122, 103, 84, 65, 46, 27).plan(Pattern.THROUGH)


def _half_turn() -> Case:
    shape = log(3.0, lobed, centre=bowed, bark=0.01, zones=(ROT, NAIL))
    saw = Builder(shape, MILL, wants(live_slab(), board()), {"slab": 36, "board": 19}).roll_on(200.0, Tip.AS_IT_LIES)
    saw.saw(270, 234, 215, 179).turn(2, onto_flat=True)
    return saw.saw(163, 144, 108, 72, 36).finish_on_flat().plan(Pattern.HALF_TURN)


def _cant() -> Case:
    shape = log(3.0, lobed, centre=bowed, bark=0.01, zones=(ROT, NAIL, KNOT))
    narrow = board("narrow board", widths_m=(0.10, 0.15, 0.20, 0.25), grain=Grain.QUARTER, grain_share=0.5)
    saw = Builder(shape, MILL, wants(board(surface=Surface.ROUGH), narrow), {"board": 19, "narrow board": 22})
    saw.roll_on(75.0, Tip.BARK).saw(270, 251, 232).turn(2, onto_flat=True).saw(190, 171)
    return saw.turn(1, onto_flat=False).saw(270, 248, 229, 210, 191, 172, 150, 128, 109, 90, 71).plan(Pattern.CANT)


def _edged_together() -> Case:
    shape = cone(0.22, 0.21, 3.0, bark=0.008)
    mill = replace(MILL, crossbars_m=(0.2, 1.1, 2.0, 2.8))
    boards = board("board", 0.019, widths_m=(0.15, 0.20), lengths_m=(2.4,), pith_kept=True)
    saw = Builder(shape, mill, wants(boards), {"board": 19}).roll_on(10.0, Tip.AS_IT_LIES)
    saw.saw(230, 211, 192, 173, 154)
    high = {"P1": True, "P2": False, "P3": True}
    steps = {name: int(np.ceil((saw.judged[name].offer.high_m - saw.judged[name].offer.low_m) / STEP)) for name in high}  # type: ignore[union-attr]
    room = []
    for name, low_up in high.items():
        cut, free = saw.judged[name].judge.piece, saw.judged[name].offer.free  # type: ignore[union-attr]
        assert free is not None
        width = steps[name] * STEP
        outer = float(np.nanmax(cut.high[[0, 2]])) if low_up else -float(np.nanmin(cut.low[[0, 2]]))
        near, far = (free[0], free[1]) if low_up else (-free[1], -free[0])
        room.append((outer - (far - width), outer - near))
    first = int(np.ceil(max(low for low, _ in room) / STEP))
    assert first * STEP <= min(high for _, high in room)
    return saw.edge(list(high.values()), list(high), first, list(steps.values())).plan(Pattern.THROUGH)


def _in_pairs() -> Case:
    shape = cylinder(0.2, 2.6, bark=0.01, pith=lambda z: (0.0, 0.02))
    pair = live_slab("pair", 0.036, set_of=2, set_factor=1.2, lengths_m=(2.4,))
    case = (
        Builder(shape, MILL, wants(pair), {"pair": 36})
        .roll_on(0.0, Tip.AS_IT_LIES)
        .saw(240, 204, 168, 132, 96)
        .plan(Pattern.THROUGH)
    )
    pieces, added = [], 0
    for i, planned in enumerate(case.plan.pieces):
        bonus = whole(0.2 * planned.worth.cents)
        worth = replace(planned.worth, terms=(*planned.worth.terms, Term("set", bonus)))
        pieces.append(replace(planned, worth=worth, set_number=i // 2 + 1))
        added += bonus
    cents = case.plan.cents + added
    return replace(case, plan=replace(case.plan, pieces=tuple(pieces), cents=cents, bound_cents=cents + 1))


def _found(search: Callable[[Bench], Plan]) -> Case:
    """What the optimiser itself finds; the builder has no part in it."""
    shape = log(
        3.0, lobed, centre=bowed, bark=0.01, pith=lambda z: (bowed(z)[0] + 0.01, bowed(z)[1] - 0.015), zones=(ROT, NAIL, KNOT)
    )
    wanted = replace(wants(live_slab(), board()), rolls_deg=(40.0, 200.0))
    to_saw = LogToSaw("log", "oak", True, shape, pieces_shrinking.Shrinking(0.045, 0.085, wanted.target_mc))
    bench = Bench(to_saw, MILL, wanted, outline_of(shape), ask_of(to_saw, MILL, wanted))
    return Case(search(bench), shape, MILL, wanted, (0.045, 0.085))


class Cases:
    """Valid plans of every kind, by name, each made when it is first asked for."""

    def __init__(self) -> None:
        self._made: dict[str, Case] = {}
        self._makers: dict[str, Callable[[], Case]] = {
            "through": _through,
            "half turn": _half_turn,
            "cant": _cant,
            "edged": _edged_together,
            "pairs": _in_pairs,
            "found through": lambda: _found(plan_through),
            "found half turn": lambda: _found(plan_half_turn),
        }

    def __getitem__(self, name: str) -> Case:
        if name not in self._made:
            self._made[name] = self._makers[name]()
        return self._made[name]


@pytest.fixture(scope="session")
def cases() -> Cases:
    return Cases()


@dataclass(frozen=True)
class Logs:
    """Makers of logs of known form."""

    log: Callable[..., LogShape] = log
    cylinder: Callable[..., LogShape] = cylinder
    cone: Callable[..., LogShape] = cone
    live_slab: Callable[..., Product] = live_slab
    board: Callable[..., Product] = board
    wants: Callable[..., Wants] = wants
    mill: Mill = MILL
    builder: type[Builder] = Builder


@pytest.fixture(scope="session")
def make() -> Logs:
    return Logs()
