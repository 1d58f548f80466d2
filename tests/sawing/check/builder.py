"""A builder of small valid plans: fixed heights, geometry from the checker's own parts.

What it makes proves nothing about the geometry or the money by itself: that is what the closed forms in test_polygon, test_lie,
test_inside, test_offers and test_by_hand are for. It gives the mutation tests something valid to spoil.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from waney.logs.frames import placing
from waney.logs.shape import LogShape
from waney.pieces.piece import Piece, PieceZone
from waney.prices.product import Product
from waney.prices.worth import Term, Worth
from waney.sawing.check.cents import whole
from waney.sawing.check.edging import cut_of, saved_cents
from waney.sawing.check.left import Left
from waney.sawing.check.lie import lie_of, named_tips_m, rest_slopes, turned_onto_bark, turned_onto_flat
from waney.sawing.check.offers import AS_IT_COMES, EXACT, Judge, Offer, Shrinking
from waney.sawing.check.passes import Costs, near_metal
from waney.sawing.check.pieces import sawn_edges
from waney.sawing.check.polygon import Run
from waney.sawing.check.sections import Sections
from waney.sawing.check.slices import Slice
from waney.sawing.check.worths import Judged
from waney.sawing.mill import Mill
from waney.sawing.moves import EdgeTogether, Move, Pass, RollOn, Turn
from waney.sawing.plan import Grid, Plan, PlannedPiece, Setting, Standing
from waney.sawing.wants import Pattern, Tip, Wants


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
        self.together = 0
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
        for name in names:
            self._cut_to(name, cut_of(move, name, self.judged[name].judge.piece, self.mill.step_m))
        by_name = {planned.piece.name: planned.piece for planned in self.pieces}
        self.saved.append(saved_cents(move, by_name, self.costs, self.wants.rules.edging_cents))
        return self

    def _cut_to(self, name: str, edges: Run) -> None:
        """The piece as two heights leave it."""
        judged = self.judged[name]
        assert judged.offer is not None
        left = judged.judge.cut_to(judged.offer, edges, EXACT)
        worth = self._worth(left, judged.judge)
        i = [planned.piece.name for planned in self.pieces].index(name)
        self.together += worth.cents - self.pieces[i].worth.cents
        self.pieces[i] = replace(self.pieces[i], worth=worth)

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
            self.together + sum(map(whole, self.saved)),
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
