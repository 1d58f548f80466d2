"""Search: every roll and tip tried in every pattern, the best lie kept, and a plan built from it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from waney.sawing.bench import Bench, Found, NothingToSaw, Over, after_loading, best_of, finished, known_of
from waney.sawing.build import SawnLie, turn_cents
from waney.sawing.cants import plan_cant
from waney.sawing.chosen import ChosenLie, ChosenSlice, slices_of
from waney.sawing.counts.counts import has_counts, plan_counted
from waney.sawing.kernel.path import NEVER, chain
from waney.sawing.kernel.tables import passes_over
from waney.sawing.kernel.through import Halves, best_over, best_start, halves_of, side_of, solve_through
from waney.sawing.lay import Laid, laid_over
from waney.sawing.lie import Lie
from waney.sawing.moves import Turn
from waney.sawing.on_bed import lies_on_flat, sawn_on_bed
from waney.sawing.plan import Plan
from waney.sawing.wants import Pattern


def plan_through(bench: Bench, over: Over = map) -> Plan:
    """The best plan sawn through-and-through from one side. Raises NothingToSaw."""
    found = tuple(over(lambda lie: _through_in(bench, lie), bench.lies()))
    best = best_of(found, bench, Pattern.THROUGH)
    first = bench.lay(best.lie)
    bed = sawn_on_bed(bench, first) if lies_on_flat(bench.log, best.lie) else None
    if bed is not None and after_loading(bench, bed.cents) == best.cents:
        return finished(bench, Pattern.THROUGH, best.lie, known_of(found), (bed.sawn,), (), bed.steps)
    side = side_of(bench.ask, first.sections, first.rings, first.obstacles)
    start = best_start(side.best, side.made)
    slices = slices_of(side.arcs, chain(start, side.choice, side.arcs.span), bench.set_of)
    return finished(
        bench,
        Pattern.THROUGH,
        best.lie,
        known_of(found),
        (SawnLie(first, side.tables, ChosenLie(slices, start)),),
        (),
        side.steps,
    )


def plan_half_turn(bench: Bench, over: Over = map) -> Plan:
    """The best plan that saws to a chosen depth, turns the log over onto the flat, and saws the rest. Raises NothingToSaw."""
    found = tuple(over(lambda lie: _half_turn_in(bench, lie), bench.lies()))
    best = best_of(found, bench, Pattern.HALF_TURN)
    first = bench.lay(best.lie)
    halves, over_laid = _halves(bench, first)
    depth = int(halves.total.argmax())
    upper = slices_of(halves.first.arcs, chain(depth, halves.first.choice, halves.first.arcs.span), bench.set_of)
    base = halves.depth_base - depth
    sets = len({s.set_number for s in upper if s.set_number is not None})
    sawn = (
        SawnLie(first, halves.first.tables, ChosenLie(upper, depth)),
        SawnLie(over_laid, halves.over.tables, ChosenLie(_slices_on_flat(bench, halves, depth, base, sets)), base),
    )
    return finished(bench, Pattern.HALF_TURN, best.lie, known_of(found), sawn, (Turn(2, True),), halves.first.steps)


PATTERNS: dict[Pattern, Callable[[Bench, Over], Plan]] = {
    Pattern.THROUGH: plan_through,
    Pattern.HALF_TURN: plan_half_turn,
    Pattern.CANT: plan_cant,
}


def plans(bench: Bench, patterns: Sequence[Pattern], over: Over = map) -> tuple[Plan, ...]:
    """The best plan of each pattern, the one that leaves most money first. Raises NothingToSaw when there is none at all.

    Counts are kept by through-and-through alone: with them it is the only pattern. Raises CannotBeHad.
    """
    if has_counts(bench.wants):
        return (plan_counted(bench, over),)
    found: list[Plan] = []
    for pattern in patterns:
        try:
            found.append(PATTERNS[pattern](bench, over))
        except NothingToSaw:
            continue
    if not found:
        raise NothingToSaw(f"{bench.log.name}: this mill cannot make one pass through it that gives a wanted piece.")
    return tuple(sorted(found, key=lambda plan: -plan.cents))


def _through_in(bench: Bench, lie: Lie) -> Found:
    first = bench.lay(lie)
    cents, judged = solve_through(bench.ask, first.sections, first.rings, first.obstacles)
    bed = sawn_on_bed(bench, first) if lies_on_flat(bench.log, lie) else None
    if bed is not None and bed.cents >= cents:
        return Found(lie, after_loading(bench, bed.cents), judged + bed.judged)
    return Found(lie, after_loading(bench, cents), judged)


def _half_turn_in(bench: Bench, lie: Lie) -> Found:
    halves, _ = _halves(bench, bench.lay(lie))
    judged = halves.first.arcs.judged + halves.over.arcs.judged + halves.flat.judged
    most = int(halves.total.max())
    after = most - turn_cents(bench.ask.effort, 1) if most != NEVER else most
    return Found(lie, after_loading(bench, after), judged)


def _halves(bench: Bench, first: Laid) -> tuple[Halves, Laid]:
    """Both lies of a half turn; the second is measured from the pass just over the top of the log."""
    step = bench.ask.step
    base = passes_over(float(first.sections.bark_v.max()), step)
    over_laid = laid_over(bench.log, first, base * step)
    return halves_of(bench.ask, first.sections, first.rings, first.obstacles, over_laid.rings, over_laid.obstacles), over_laid


def _slices_on_flat(bench: Bench, halves: Halves, depth: int, base: int, sets: int) -> tuple[ChosenSlice, ...]:
    """The slices of the second lie: the first on the flat, then the best chain that the blade can reach."""
    c = int(halves.flat_choice[depth])
    on_flat = slices_of(halves.flat, [(base, c)], bench.set_of, sets, on_flat=True)
    _, choice, _ = best_over(bench.ask, halves.over, base)
    arcs = chain(base + int(halves.flat.span[base, c]), choice, halves.over.arcs.span)
    return (*on_flat, *slices_of(halves.over.arcs, arcs, bench.set_of, sets + 1))
