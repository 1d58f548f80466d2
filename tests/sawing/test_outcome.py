"""The outcome of a plan: the likely case is the plan to the cent; other logs are judged as real pieces are; doubt only widens."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from random import Random

import numpy as np
import pytest
from tests.rings import short_first

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.logs.frames import Placing, placing
from waney.logs.measured import Hidden
from waney.logs.shape import LogShape
from waney.pieces.measures import board_feet
from waney.pieces.shrinking import Shrinking
from waney.prices.product import Per, PriceRule, Product, Surface
from waney.prices.rules import DryingAllowance
from waney.prices.worth import salvage, worth
from waney.sawing.bench import Bench
from waney.sawing.build import load_cents, turn_cents
from waney.sawing.check.left import Left, upper_face
from waney.sawing.check.lie import furthest_apart, lie_of, rest_slopes, turned_onto_bark
from waney.sawing.counts.counts import plan_counted
from waney.sawing.kernel.chords import NM, widest_within
from waney.sawing.kernel.passes import metal_cents, pass_cents
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.slices import Cut, whole
from waney.sawing.kernel.tables import tables_of
from waney.sawing.lay import laid_at, outline_of
from waney.sawing.lie import half_turned, quarter_turned, rested, set_down
from waney.sawing.make_pieces import slice_piece
from waney.sawing.moves import Pass, RollOn, Turn
from waney.sawing.orders import wanted
from waney.sawing.outcome.left_over import NothingLeft, rested_between
from waney.sawing.outcome.outcome import Sawyer, outcome_of
from waney.sawing.outcome.plan_outcome import Outcome, PlanOutcome
from waney.sawing.outcome.worlds import World, likely_world, worlds
from waney.sawing.plan import Plan
from waney.sawing.search import plan_cant, plan_half_turn, plan_through, plans
from waney.sawing.sheets.from_sheets import ready
from waney.sawing.wants import Pattern, Tip, Wants
from waney.wood.species import Species, species
from waney.wood.traits import Trait

from .drawn_logs import INCH, NONE, SHRINKING, Drawn, drawn, sure
from .test_flats import BEAM, BOARDS, MILL, set_up

SEARCHES = [plan_through, plan_half_turn, plan_cant]
Search = Callable[..., Plan]


def bench_of(case: Drawn, **more: object) -> Bench:
    wants = replace(case.wants, tips=(Tip.PITH, Tip.BARK), face_step_m=2 * INCH, **more)  # type: ignore[arg-type]
    return Bench.of(case.log, replace(case.mill, step_m=INCH / 8, blade_cents=2800.0), wants)


@cache
def planned_for(seed: int, search: Search) -> tuple[Bench, Plan]:
    bench = bench_of(drawn(seed))
    return bench, search(bench)


def easy(product: Product) -> Product:
    """The same, so that hardly a slice falls short of it."""
    return replace(
        product,
        surface=Surface.ROUGH,
        least_width_m=0.04,
        grain=None,
        pith_kept=True,
        pith_factor=1.0,
        may_hold=frozenset(Hidden),
        price=PriceRule(Per.CUBIC_METRE, 90000.0),
    )


def in_pairs(wants: Wants) -> Wants:
    """The same wants, one product easy and sold only in pairs, which pay well."""
    return replace(
        wants, products=tuple(replace(easy(p), set_of=2, set_factor=3.0) if p.name == "c" else p for p in wants.products)
    )


def assert_likely_case_is_the_plan(plan: Plan, bench: Bench) -> None:
    sawyer = Sawyer.of(plan, bench)
    sawn = sawyer.settled(sawyer.saw(likely_world(bench)))
    assert sawn.cents == plan.cents
    products = {p.name: p for p in wanted(bench.wants)}
    kept = [(p.worth, products[p.worth.product]) for p in plan.pieces if p.worth.product is not None]
    feet = sum(board_feet(w.width_m, w.length_m, p.nominal_m, thin_counts_as_inch=True) for w, p in kept)
    assert sawn.board_feet == pytest.approx(feet, abs=1e-4)
    # rings are sampled in the piece's own frame there and in the saw's here: widths differ by some nanometres
    assert sawn.usable_m3 == pytest.approx(sum(w.width_m * w.length_m * w.thickness_m for w, _ in kept), abs=1e-7)
    assert [p.worth.product for p in plan.pieces] == [None if j < 0 else wanted(bench.wants)[j].name for j in sawn.product]


@pytest.mark.parametrize("search", SEARCHES, ids=lambda f: f.__name__)
@pytest.mark.parametrize("seed", [2, 3, 5, 8, 11])
def test_the_likely_case_gives_the_plan_to_the_cent(seed: int, search: Search) -> None:
    bench, plan = planned_for(seed, search)
    assert_likely_case_is_the_plan(plan, bench)


@pytest.mark.parametrize("search", SEARCHES, ids=lambda f: f.__name__)
def test_so_it_does_with_sets_and_with_a_setting_for_each_piece(search: Search) -> None:
    case = drawn(3)
    pairs = bench_of(replace(case, wants=in_pairs(case.wants)))
    plan = search(pairs)
    assert any(p.set_number is not None for p in plan.pieces)
    assert_likely_case_is_the_plan(plan, pairs)
    own = bench_of(case, own_settings=True)
    assert_likely_case_is_the_plan(search(own), own)


def test_so_it_does_with_counts_and_no_other_log_gets_past_them() -> None:
    case = drawn(3)
    free = plan_through(bench_of(case))
    names = [p.worth.product for p in free.pieces if p.worth.product is not None]
    common = max(names, key=names.count)
    most = names.count(common) - 1
    products = tuple(replace(p, at_most=most) if p.name == common else p for p in case.wants.products)
    bench = bench_of(case, products=products)
    plan = plan_counted(bench)
    assert_likely_case_is_the_plan(plan, bench)
    sawyer = Sawyer.of(plan, bench)
    number = [p.name for p in products].index(common)
    for world in other_worlds(bench, 5):
        assert np.count_nonzero(sawyer.settled(sawyer.saw(world)).product == number) <= most


def other_log(shape: LogShape, rng: Random) -> LogShape:
    """A log a little thicker or thinner, bowed, its zones and pith moved."""
    scale = rng.uniform(0.94, 1.06)
    t = shape.z_m / shape.length_m
    bow = np.outer(4 * t * (1 - t), [rng.uniform(-0.02, 0.02), rng.uniform(-0.02, 0.02)])
    moved = [replace(z, x_m=z.x_m + rng.uniform(-0.03, 0.03), y_m=z.y_m + rng.uniform(-0.03, 0.03)) for z in shape.zones]
    taper = 1 + rng.uniform(-0.05, 0.05) * t
    rings = replace(
        shape.rings, pith_m=shape.rings.pith_m + rng.uniform(-0.01, 0.01) + bow[None], reach_m=shape.rings.reach_m * scale
    )
    radius = shape.radius_m * scale * taper[:, None]
    return LogShape(shape.z_m.copy(), shape.centre_m + bow, radius, shape.bark_m * rng.uniform(0.5, 2.0), rings, tuple(moved))


def other_worlds(bench: Bench, count: int) -> tuple[World, ...]:
    rng = Random(17)
    found = []
    for _ in range(count):
        shrinking = Shrinking(SHRINKING.radial * rng.uniform(0.8, 1.2), SHRINKING.tangential * rng.uniform(0.8, 1.2), 0.08)
        loss = {
            name: DryingAllowance(a.days, sure(rng.uniform(0, 0.5)), a.loss_with_pith)
            for name, a in bench.wants.allowances.items()
        }
        log = replace(bench.log, shape=other_log(bench.log.shape, rng), shrinking=shrinking)
        found.append(World.of(bench, log, replace(bench.wants, allowances=loss)))
    return tuple(found)


def beds(plan: Plan, shape: LogShape, bench: Bench) -> Iterator[tuple[Placing, Cut]]:
    """Where the log lies each time, by the rules that the checker has; what sawn planes leave left and right."""
    crossbars, step = bench.mill.crossbars_m, bench.mill.step_m
    left, cut, faces = Left(shape), whole(), []
    for move in plan.moves:
        if isinstance(move, RollOn):
            lie = lie_of(shape, move, rest_slopes(shape, move.roll_deg, crossbars)[0], crossbars)
            yield lie, cut
        elif isinstance(move, Pass):
            height = move.height_steps * step
        elif isinstance(move, Turn):
            faces.append(upper_face(lie, height))
            left = left.after(faces[-1])
            if move.onto_flat:
                lie = half_turned(lie, height)
            else:
                lie = next(turned_onto_bark(left, lie, 1, crossbars))
                cut = Cut(int(np.ceil(-height / NM - 1e-6)), 0)
            yield lie, cut


@pytest.mark.parametrize("search", SEARCHES, ids=lambda f: f.__name__)
@pytest.mark.parametrize("seed", short_first([3, 5, 8]))
def test_other_logs_are_judged_as_real_pieces_are(seed: int, search: Search) -> None:
    bench, plan = planned_for(seed, search)
    sawyer = Sawyer.of(plan, bench)
    products, seen = wanted(bench.wants), 0
    for world in other_worlds(bench, 4):
        again = sawyer.saw(world)
        at, cost = 0, load_cents(bench.ask.effort) + turn_cents(bench.ask.effort, len(plan.lies) - 1)
        for lie, (to_saw, cut) in enumerate(beds(plan, world.log.shape, bench)):
            laid = laid_at(world.log, outline_of(world.log.shape), to_saw)
            t = tables_of(laid.sections, laid.rings, bench.ask.step, bench.ask.kerf, True)
            for planned in (p for p in plan.pieces if p.lie == lie):
                assert planned.upper_steps is not None
                thick, flat = planned.upper_steps - planned.lower_steps, planned.lower_steps == 0
                if planned.upper_steps < t.passes:
                    sides = None if cut == whole() else cut
                    piece = slice_piece(world.log, laid, t, planned.lower_steps, thick, on_flat=flat, name="x", cut=sides)
                    as_it_comes = salvage(piece, world.wants.rules).cents
                    assert again.salvage[at] == as_it_comes
                    for j, product in enumerate(products):
                        if sawyer.offered[at, j]:
                            real = worth(piece, (product,), world.wants.rules, world.wants.allowances, world.log.shrinking)
                            assert max(as_it_comes, again.cents[at, j]) == real.cents
                            seen += real.product is not None
                at += 1
            cost += passes_cost(plan, lie, world, laid.sections, laid.obstacles, t, cut)
        assert at == len(plan.pieces)
        assert again.effort == cost
    assert seen > 10


def passes_cost(plan: Plan, lie: int, world: World, sections, obstacles, t, cut: Cut) -> int:  # type: ignore[no-untyped-def]
    """From the whole tables of a lie; a pass above them meets nothing."""
    effort, total, now = world.ask.effort, 0, -1
    for move in plan.moves:
        now += isinstance(move, RollOn | Turn)
        if isinstance(move, Pass) and now == lie and move.height_steps < t.passes:
            p = move.height_steps
            width = widest_within(t.bark, p, cut.low, cut.high) * NM
            if width > 0:
                total += pass_cents(effort, width, float(sections.w[-1] - sections.w[0]))
                total += metal_cents(effort, obstacles, p * t.step, p * t.step + t.kerf, cut)
    return total


def test_a_log_known_exactly_has_one_outcome() -> None:
    bench, plan = planned_for(5, plan_half_turn)
    known = worlds(bench, known_wood(), [bench.log.shape] * 16, Scenarios(1, 16))
    found = outcome_of(plan, bench, known)
    assert (found.cents.bad, found.cents.likely, found.cents.good) == (plan.cents,) * 3
    assert found.board_feet.bad == found.board_feet.good
    assert {piece.share for piece in found.as_planned} == {1.0}


class known_wood(Species):  # noqa: N801 - it stands for a value
    """A wood whose shrinkage nobody doubts."""

    def __init__(self) -> None:
        pass

    def needed(self, trait: Trait) -> Estimate:
        return sure({Trait.SHRINK_RADIAL: SHRINKING.radial, Trait.SHRINK_TANGENTIAL: SHRINKING.tangential}[trait])


def test_a_wider_doubt_never_narrows_the_outcome() -> None:
    """Of a loss and of a log's size, each the only doubt, where no size is fallen short of: rough, by volume, any width."""
    case = drawn(4)
    products = tuple(easy(p) for p in case.wants.products if p.name == "c")
    bench = bench_of(replace(case, log=replace(case.log, shape=replace(case.log.shape, zones=()))), products=products)
    plan, scenarios = plan_through(bench), Scenarios(1, 64)
    by_loss, by_size = [], []
    for doubt in (0.0, 0.02, 0.05, 0.1):
        loss = Estimate(0.2, 0.2 - doubt, 0.2 + doubt, NONE, 0.0, 1.0)
        doubted = {name: replace(a, loss=loss, loss_with_pith=loss) for name, a in bench.wants.allowances.items()}
        lossy = replace(bench, wants=replace(bench.wants, allowances=doubted))
        by_loss.append(wide(outcome_of(plan, bench, worlds(lossy, known_wood(), [bench.log.shape] * 64, scenarios))))
        sizes = scenarios.values("log.size", Estimate(1.0, 1.0 - doubt / 4, 1.0 + doubt / 4, NONE))
        shapes = [replace(bench.log.shape, radius_m=bench.log.shape.radius_m * size) for size in sizes]
        by_size.append(wide(outcome_of(plan, bench, worlds(bench, known_wood(), shapes, scenarios))))
    assert by_loss == sorted(by_loss) and by_loss[0] == 0 < by_loss[1]
    assert by_size == sorted(by_size) and by_size[0] == 0 < by_size[1]


def wide(found: PlanOutcome) -> float:
    return found.cents.good - found.cents.bad


def test_the_same_seed_gives_the_same_outcome_and_another_one_another() -> None:
    bench, plan = planned_for(8, plan_through)

    def drawn_anew(seed: int) -> PlanOutcome:
        shapes = [other_log(bench.log.shape, Random(i)) for i in range(16)]
        return outcome_of(plan, bench, worlds(bench, species("white oak"), shapes, Scenarios(seed, 16)))

    first = drawn_anew(1)
    assert repr(first) == repr(drawn_anew(1)) != repr(drawn_anew(2))
    assert first.cents.bad <= first.cents.likely <= first.cents.good
    assert first.usable_m3.bad <= first.usable_m3.likely <= first.usable_m3.good


def test_one_draw_of_loss_and_days_serves_all_products() -> None:
    bench = bench_of(drawn(3))
    doubted = DryingAllowance(*(Estimate(0.2, 0.1, 0.4, NONE, 0.0, 1.0) for _ in range(3)))
    bench = replace(bench, wants=replace(bench.wants, allowances={p.name: doubted for p in bench.wants.products}))
    states = worlds(bench, species("white oak"), [bench.log.shape] * 32, Scenarios(1, 32))
    for state in states:
        assert len({(a.loss.likely, a.loss_with_pith.likely, a.days.likely) for a in state.wants.allowances.values()}) == 1
    shrinks = [(s.log.shrinking.radial, s.log.shrinking.tangential) for s in states]
    assert [r for r, _ in sorted(shrinks)] == [r for r, _ in sorted(shrinks, key=lambda both: both[1])]
    assert len(set(shrinks)) == 32


def test_a_set_is_whole_or_not_at_all() -> None:
    case = drawn(3)
    bench = bench_of(replace(case, wants=in_pairs(case.wants)))
    plan = plan_through(bench)
    sawyer = Sawyer.of(plan, bench)
    likely = sawyer.saw(likely_world(bench))
    pair = sawyer.sets[0]
    broken = likely.cents.copy()
    broken[pair[0], sawyer.planned[pair[0]]] = NEVER
    sawn = sawyer.settled(likely._replace(cents=broken))
    assert not np.any(sawn.product[pair] == sawyer.planned[pair])
    others = np.setdiff1d(np.arange(len(plan.pieces)), pair)
    assert np.array_equal(sawn.product[others], sawyer.planned[others])
    assert sawn.cents < plan.cents


def test_what_the_plan_passed_over_stays_passed_over() -> None:
    """A slice sawn as wood on no list, though thick enough for a board, is not made one in another world."""
    bench, plan = planned_for(3, plan_through)
    sawyer = Sawyer.of(plan, bench)
    again = sawyer.saw(likely_world(bench))
    worths = np.array([p.worth.cents for p in plan.pieces])
    assert np.all(again.cents <= worths[:, None])


def test_points_of_an_outcome_are_those_of_the_run() -> None:
    # 0..100 by ones: the 5, 50 and 95 % points are 5, 50 and 95
    assert Outcome.of(np.arange(101.0)) == Outcome(5.0, 50.0, 95.0)


@pytest.mark.parametrize("seed", range(6))
def test_what_is_left_rests_as_the_checker_lets_it(seed: int) -> None:
    shape = drawn(seed).log.shape
    crossbars = (0.1, 0.6, 1.1, 1.6, 2.1, 2.6, 3.1) if seed % 2 else ()
    outline = outline_of(shape)
    first = set_down(*outline, shape.length_m / 2, 0.0, 40.0 * seed, 0.01 * (seed - 2), 0.0, crossbars)
    turned = quarter_turned(half_turned(first, 0.3))
    free = rested_between(*outline, 0.0, turned, (-np.inf, np.inf), crossbars)
    assert furthest_apart(shape, free, rested(shape, turned, crossbars).to_saw) < 1e-9
    planes = (placing(np.diag([-1.0, -1.0, 1.0]), np.array([0.0, 0.3, 0.0])).after(first), first)
    left = Left(shape).after(upper_face(planes[1], 0.3)).after(upper_face(planes[0], 0.2))
    cut = rested_between(*outline, 0.0, turned, (-0.2, 0.0), crossbars)
    found = list(turned_onto_bark(left, planes[0], 1, crossbars))
    assert min(furthest_apart(shape, cut, lie) for lie in found) < 1e-6


def test_faces_that_leave_nothing_are_told() -> None:
    shape = drawn(1).log.shape
    with pytest.raises(NothingLeft, match="leave nothing"):
        rested_between(*outline_of(shape), 0.0, placing(np.eye(3), np.zeros(3)), (2.0, 3.0))


@pytest.mark.parametrize("name", ["half", "slabbed", "cant", "trimmed"])
def test_a_log_that_has_flats_already_has_an_outcome(name: str) -> None:
    prepared = set_up(name)
    found = plans(prepared.bench, (Pattern.THROUGH, Pattern.HALF_TURN))
    for plan in found:
        assert_likely_case_is_the_plan(plan, prepared.bench)
    scenarios = Scenarios(1, 8)
    states = worlds(prepared.bench, prepared.measured.wood, prepared.measured.shapes(scenarios), scenarios)
    outcome = outcome_of(found[0], prepared.bench, states)
    assert outcome.cents.bad < outcome.cents.good


def test_a_slice_that_stays_on_a_flat_the_log_had_is_sawn_again_so() -> None:
    mill = MILL.replace("1 1/2", "1") + 'currency = "USD"\nhourly = 30\n'
    bench = ready({"log": BEAM, "mill": mill, "wants": BOARDS}).bench
    plan = plan_through(bench)
    assert plan.pieces[-1].lower_steps == 0
    assert_likely_case_is_the_plan(plan, bench)
