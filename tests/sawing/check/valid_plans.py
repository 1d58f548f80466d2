"""Valid plans of every kind: built at fixed heights, and found by the optimiser."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from waney.pieces import shrinking as pieces_shrinking
from waney.prices.product import Grain, Surface
from waney.prices.worth import Term
from waney.sawing.as_read import as_read, pith_heights
from waney.sawing.bench import Bench
from waney.sawing.check.cents import whole
from waney.sawing.lay import ask_of, outline_of
from waney.sawing.lie import lies
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.moves import PithHeights
from waney.sawing.plan import Plan
from waney.sawing.recount import bench_as_read
from waney.sawing.search import plan_half_turn, plan_through
from waney.sawing.wants import Pattern, Tip

from .builder import Builder, Case
from .known_logs import KNOT, MILL, NAIL, ROT, STEP, board, bowed, cone, cylinder, live_slab, lobed, log, wants


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
    bench = _bench()
    return _case(bench, search(bench))


def _found_edged() -> Case:
    """The optimiser's own groups: boards of any width and of set widths, edging dear enough that they stand together."""
    shape = cone(0.22, 0.20, 3.0, bark=0.008, pith=lambda z: (0.01, -0.012), zones=(KNOT,))
    inch = board("inch board", lengths_m=(2.4,), pith_kept=True)
    thick = board("thick board", 0.03, widths_m=(0.15, 0.2, 0.25), nominal_quarters=5)
    asked = replace(wants(inch, thick), rolls_deg=(40.0,), tips=(Tip.AS_IT_LIES,))
    asked = replace(asked, rules=replace(asked.rules, edging_cents=900.0))
    to_saw = LogToSaw("log", "oak", True, shape, pieces_shrinking.Shrinking(0.045, 0.085, asked.target_mc))
    bench = Bench(to_saw, MILL, asked, outline_of(shape), ask_of(to_saw, MILL, asked))
    return _case(bench, plan_half_turn(bench))


def _read(search: Callable[[Bench], Plan], butt_m: float, top_m: float) -> Case:
    """What the optimiser finds for the log as it lies, its pith so much higher than wanted."""
    bench = _bench()
    lie = lies(bench.log.shape, (40.0,), (Tip.PITH,))[0]
    wanted = pith_heights(bench.log.shape, lie.to_saw)
    found = as_read(bench.log.shape, 40.0, PithHeights(wanted.butt_m + butt_m, wanted.top_m + top_m))
    return _case(bench, search(bench_as_read(bench, found)))


def _case(bench: Bench, plan: Plan) -> Case:
    return Case(plan, bench.log.shape, MILL, bench.wants, (0.045, 0.085))


def _bench() -> Bench:
    shape = log(
        3.0, lobed, centre=bowed, bark=0.01, pith=lambda z: (bowed(z)[0] + 0.01, bowed(z)[1] - 0.015), zones=(ROT, NAIL, KNOT)
    )
    wanted = replace(wants(live_slab(), board()), rolls_deg=(40.0, 200.0))
    to_saw = LogToSaw("log", "oak", True, shape, pieces_shrinking.Shrinking(0.045, 0.085, wanted.target_mc))
    return Bench(to_saw, MILL, wanted, outline_of(shape), ask_of(to_saw, MILL, wanted))


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
            "found edged": _found_edged,
            "read on blocks": lambda: _read(plan_through, 0.025, 0.010),
            "read in the bed": lambda: _read(plan_half_turn, -0.018, -0.004),
        }

    def __getitem__(self, name: str) -> Case:
        if name not in self._made:
            self._made[name] = self._makers[name]()
        return self._made[name]
