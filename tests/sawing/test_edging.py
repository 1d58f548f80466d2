"""Flitches edged together: never worse than one by one, worth what an arithmetic of its own says, and the best there is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations
from math import ceil, floor, inf
from random import Random

import numpy as np
import pytest
from tests.rings import short_first

from waney.prices.product import Edges, Per, PriceRule, Product
from waney.prices.rules import DryingAllowance, PriceRules, Ranking
from waney.prices.strip import Strip
from waney.prices.worth import worth
from waney.sawing.bench import Bench
from waney.sawing.check.check import check_plan
from waney.sawing.edging.groups import NEXT
from waney.sawing.edging.together import Together, edged_together
from waney.sawing.facts.plan_facts import minutes
from waney.sawing.facts.sawn_log import SawnLog
from waney.sawing.kernel.records import Ask
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Feed, Mill
from waney.sawing.moves import EdgeTogether, Pass
from waney.sawing.orders import wanted
from waney.sawing.outcome.outcome import Sawyer
from waney.sawing.outcome.worlds import likely_world
from waney.sawing.plan import Plan, PlannedPiece
from waney.sawing.search import plan_half_turn, plan_through
from waney.sawing.wants import Tip, Wants

from .drawn_logs import INCH, SHRINKING, drawn_shape, sure

MILL = Mill(
    kerf_m=INCH / 16, widest_cut_m=0.8, lowest_m=0.03, highest_m=0.9, bed_length_m=5.0, step_m=INCH / 8, backstop_lowest_m=0.02,
    minutes_per_pass=1.5, minutes_per_turn=4.0, minutes_per_edging=5.0, hourly_cents=4500.0, blade_cents=2800.0,
    blade_life_m2=60.0, feeds=(Feed(0.1, 12.0, 9.0), Feed(0.5, 5.0, 3.0)),
)  # fmt: skip
SEEDS = range(6)


def boards(name: str, thickness: float, length: float, **more: object) -> Product:
    given = {
        "planing_m": 0.003,
        "trim_m": 0.05,
        "price": PriceRule(Per.BOARD_FOOT, 450.0),
        "lengths_m": (length - 0.1, length / 2),
    }
    return Product(name, thickness, edges=Edges.EDGED, least_width_m=0.08, **(given | more))  # type: ignore[arg-type]


@cache
def bench(seed: int, edging_cents: float = 650.0, *, pith_matters: bool = True) -> Bench:
    """A bent, lobed log without metal; boards of any width, of set widths, and of no more than a width."""
    rng = Random(seed)
    shape = replace(drawn_shape(rng), zones=())
    products = (
        boards("any width", 0.022, shape.length_m, pith_factor=0.6 if pith_matters else 1.0),
        boards("set widths", 0.035, shape.length_m, widths_m=(0.1, 0.15, 0.2, 0.25), price=PriceRule(Per.BOARD_FOOT, 470.0)),
        boards("not too wide", 0.045, shape.length_m, most_width_m=0.2, price=PriceRule(Per.BOARD_FOOT, 430.0)),
    )
    allowances = {p.name: DryingAllowance(sure(40.0), sure(0.1), sure(0.3 if pith_matters else 0.1)) for p in products}
    rules = PriceRules(Ranking.MONEY, "USD", 0.0, 20.0, edging_cents)
    wants = Wants(products, rules, allowances, 0.08, 0.08, rolls_deg=(rng.uniform(0, 360),), tips=(Tip.AS_IT_LIES,))
    return Bench.of(LogToSaw("log", "oak", True, shape, SHRINKING), MILL, wants)


@cache
def plan_of(seed: int, edging_cents: float = 650.0, *, pith_matters: bool = True) -> Plan:
    search = plan_half_turn if seed % 2 else plan_through
    return search(bench(seed, edging_cents, pith_matters=pith_matters))


def edged_alone(plan: Plan, of: Bench) -> tuple[PlannedPiece, ...]:
    """The pieces of a plan, each worth what it is by itself."""
    products = {p.name: p for p in wanted(of.wants)}

    def alone(p: PlannedPiece) -> PlannedPiece:
        if p.worth.product is None:
            return p
        product = (products[p.worth.product],)
        return replace(p, worth=worth(p.piece, product, of.wants.rules, of.wants.allowances, of.log.shrinking))

    return tuple(map(alone, plan.pieces))


def batches(plan: Plan) -> list[EdgeTogether]:
    return [move for move in plan.moves if isinstance(move, EdgeTogether)]


def pass_minutes(thick: float, long: float) -> float:
    widths, speeds = [f.width_m for f in MILL.feeds], [f.hard_m_per_min for f in MILL.feeds]
    return MILL.minutes_per_pass + long / float(np.interp(thick, widths, speeds))


def group_minutes(plan: Plan, batch: EdgeTogether) -> tuple[float, float]:
    """Minutes of one group, and the area that its band saws [m2]."""
    pieces = [p.piece for p in plan.pieces if p.piece.name in batch.names]
    thick, long = sum(p.thickness_m for p in pieces), max(p.length_m for p in pieces)
    passes = 1 + len(batch.then_height_steps)
    return MILL.minutes_per_edging + passes * pass_minutes(thick, long), passes * thick * long


def test_most_of_these_logs_have_flitches_that_stand_together() -> None:
    assert sum(bool(batches(plan_of(seed))) for seed in SEEDS) >= 4
    assert any(len(batch.names) > 2 for seed in SEEDS for batch in batches(plan_of(seed)))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_checker_cuts_every_flitch_again(seed: int) -> None:
    of, plan = bench(seed), plan_of(seed)
    shrinking = (SHRINKING.radial, SHRINKING.tangential)
    verdict = check_plan(plan, of.log.shape, of.mill, of.wants, shrinking, hardwood=True)
    assert verdict.accepted, verdict.sentence


@pytest.mark.parametrize("seed", SEEDS)
def test_it_saves_what_one_by_one_costs_less_what_the_groups_cost(seed: int) -> None:
    plan = plan_of(seed)
    saved = 0
    for batch in batches(plan):
        minutes_, area = group_minutes(plan, batch)
        saved += round(650 * len(batch.names) - minutes_ * 75.0 - area * 2800.0 / 60.0)
    assert sum(term.cents for term in plan.terms if term.what == "edging saved") == saved


@pytest.mark.parametrize("seed", SEEDS)
def test_it_never_lowers_what_a_plan_leaves(seed: int) -> None:
    of, plan = bench(seed), plan_of(seed)
    alone = edged_alone(plan, of)
    saved = sum(term.cents for term in plan.terms if term.what == "edging saved")
    given_up = sum(a.worth.cents - p.worth.cents for a, p in zip(alone, plan.pieces, strict=True))
    assert plan.together_cents == saved - given_up >= 0
    one_by_one = sum(p.worth.cents for p in alone) + sum(term.cents for term in plan.terms) - saved
    assert plan.cents - plan.together_cents == one_by_one <= plan.bound_cents - plan.together_cents


@pytest.mark.parametrize("seed", SEEDS)
def test_time_at_the_mill_counts_the_groups(seed: int) -> None:
    of, plan = bench(seed), plan_of(seed)
    log_alone = replace(plan, moves=tuple(move for move in plan.moves if not isinstance(move, EdgeTogether)))
    more = sum(group_minutes(plan, batch)[0] for batch in batches(plan))
    now, before = (minutes(SawnLog.of(p, of.log.shape, MILL), of) for p in (plan, log_alone))
    assert now - before == pytest.approx(more)


@pytest.mark.parametrize("seed", SEEDS)
def test_flitches_are_edged_when_the_log_is_off_the_bed(seed: int) -> None:
    kinds = [type(move) for move in plan_of(seed).moves]
    assert EdgeTogether not in kinds[: len(kinds) - kinds[::-1].index(Pass)]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_likely_case_still_gives_the_plans_own_cents(seed: int) -> None:
    of, plan = bench(seed), plan_of(seed)
    sawyer = Sawyer.of(plan, of)
    assert sawyer.settled(sawyer.saw(likely_world(of))).cents == plan.cents


def test_where_edging_costs_nothing_nobody_gives_width_away() -> None:
    for seed in SEEDS:
        plan = plan_of(seed, 0.0)
        assert plan.together_cents == 0
        assert edged_alone(plan, bench(seed, 0.0)) == plan.pieces or not batches(plan)


def test_where_time_has_no_price_set_widths_stand_together_all_the_same() -> None:
    of = bench(1)
    free = replace(of.mill, hourly_cents=None, blade_cents=None, blade_life_m2=None)
    wants = replace(
        of.wants, products=of.wants.products[1:2], rules=replace(of.wants.rules, edging_cents=0.0, drying_cents_per_m3_day=0.0)
    )
    plan = plan_through(Bench.of(of.log, free, wants))
    assert plan.together_cents == 0
    assert any(len(batch.names) > 1 for batch in batches(plan))


# brute force: every grouping, every first height, every choice of later heights


def partitions(items: Sequence[int]) -> Iterator[list[list[int]]]:
    if not items:
        yield []
        return
    first, *rest = items
    for n in range(len(rest) + 1):
        for others in combinations(rest, n):
            for more in partitions([i for i in rest if i not in others]):
                yield [[first, *others], *more]


class Brute:
    """Widths by whole steps tried out one by one, on the pieces themselves."""

    def __init__(self, pieces: Sequence[PlannedPiece], of: Bench, step: float) -> None:
        products = {p.name: p for p in wanted(of.wants)}
        self.pieces, self.of, self.step = pieces, of, step
        self.products = [products[p.worth.product or ""] for p in pieces]
        self.strips = [
            Strip.of(p.piece, product, p.worth, of.wants.rules, of.wants.allowances, of.log.shrinking)
            for p, product in zip(pieces, self.products, strict=True)
        ]
        self.heights = range(ceil(MILL.lowest_m / step), floor(MILL.highest_m / step) + 1)
        self.least = [
            ceil((p.worth.high_y_m - p.worth.low_y_m) / step - 1e-6) if product.widths_m else 1
            for p, product in zip(pieces, self.products, strict=True)
        ]

    @cache  # noqa: B019
    def change(self, i: int, first: int, width: int) -> float:
        """The better of both ways to stand it."""
        piece, strip = self.pieces[i].piece, self.strips[i]
        assert strip is not None
        low = float(np.nanmin(piece.low_y_m[[0, 2]]))
        high = float(np.nanmax(piece.high_y_m[[0, 2]]))
        best = -inf
        if width < self.least[i]:
            return best
        for edges in (
            (high - first * self.step, high - first * self.step + width * self.step),
            (low + first * self.step - width * self.step, low + first * self.step),
        ):
            if edges[0] >= strip.free[0] - 1e-9 and edges[1] <= strip.free[1] + 1e-9:
                found = strip.worth_between(*edges)
                if found is not None:
                    best = max(best, found.cents - self.pieces[i].worth.cents)
        return best

    @cache  # noqa: B019
    def group(self, members: tuple[int, ...]) -> float:
        pieces = [self.pieces[i].piece for i in members]
        thick, long = sum(p.thickness_m for p in pieces), max(p.length_m for p in pieces)
        if thick > MILL.widest_cut_m:
            return -inf
        cut = pass_minutes(thick, long) * 75.0 + thick * long * 2800.0 / 60.0
        before = len(members) * self.of.wants.rules.edging_cents - MILL.minutes_per_edging * 75.0 - cut
        return max(self.at(members, first, before, cut) for first in self.heights)

    def at(self, members: tuple[int, ...], first: int, before: float, cut: float) -> float:
        widths = sorted({w for w in self.heights for i in members if w <= first and self.change(i, first, w) > -inf})
        best = -inf
        for n in range(1, len(members) + 1):
            for chosen in combinations(widths, n):
                changes = sum(max(self.change(i, first, width) for width in chosen) for i in members)
                if changes > -inf:
                    best = max(best, float(np.floor(before - n * cut + 0.5)) + changes)
        return best

    def best(self) -> float:
        return max(sum(max(0.0, self.group(tuple(group))) for group in way) for way in partitions(range(len(self.pieces))))


def coarse(of: Bench, step: float) -> Ask:
    return of.ask._replace(step=step)


@pytest.mark.parametrize("seed", short_first(SEEDS, 2))
def test_no_grouping_of_six_flitches_gains_more(seed: int) -> None:
    """A pith that takes from the price is left out: a board is not cut narrower to be rid of it, though that might pay."""
    of, step = bench(seed, pith_matters=False), 1.25 * INCH
    edged = [p for p in edged_alone(plan_of(seed, pith_matters=False), of) if p.worth.product is not None][-6:]
    found = edged_together(tuple(edged), of.wants, of.log, coarse(of, step))
    assert found.gained_cents == Brute(edged, of, step).best()


def test_more_flitches_than_are_tried_at_once_still_come_to_their_groups() -> None:
    """Twice the same log: no less than twice what it gains alone, and never a piece in two groups."""
    of = bench(0)
    edged = [p for p in edged_alone(plan_of(0), of) if p.worth.product is not None]
    doubled = tuple(replace(p, piece=replace(p.piece, name=f"{p.piece.name}{twin}")) for twin in "ab" for p in edged)
    assert len(doubled) > NEXT + 1
    once, twice = (edged_together(tuple(ps), of.wants, of.log, of.ask) for ps in (edged, doubled))
    assert twice.gained_cents >= 2 * once.gained_cents
    names = [name for move in twice.moves for name in move.names]
    assert len(names) == len(set(names))


def test_guides_stops_and_the_blades_reach_are_kept() -> None:
    of = bench(0)
    edged = tuple(p for p in edged_alone(plan_of(0), of) if p.worth.product is not None)

    def grouped(**limits: float) -> Together:
        return edged_together(edged, of.wants, of.log, of.ask._replace(effort=of.ask.effort._replace(**limits)))

    def heights(found: Together) -> list[float]:
        return [h * of.ask.step for move in found.moves for h in (move.first_height_steps, *move.then_height_steps)]

    free = grouped()
    top, bottom = max(heights(free)), min(heights(free))
    thick = {p.piece.name: p.piece.thickness_m for p in edged}
    widest = max(sum(thick[name] for name in move.names) for move in free.moves)
    lower, over, two = grouped(highest=top - 0.001), grouped(backstop=bottom), grouped(widest=widest - 0.001)
    assert all(height <= top - 0.001 for height in heights(lower))
    assert all(height > bottom for height in heights(over))
    assert all(sum(thick[name] for name in move.names) <= widest - 0.001 for move in two.moves)
    for limited in (lower, over, two, grouped(thickest=0.01)):
        assert limited.gained_cents <= free.gained_cents and limited.moves != free.moves
