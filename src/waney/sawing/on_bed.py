"""On the bed: a log that lies on a flat it had already. That flat is a face: the slice on it needs no pass below."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import placing
from waney.sawing.bench import Bench
from waney.sawing.build import SawnLie
from waney.sawing.chosen import ChosenLie, slices_of
from waney.sawing.kernel.arcs import arcs_of, flatly
from waney.sawing.kernel.path import NEVER, chain
from waney.sawing.kernel.tables import tables_of
from waney.sawing.kernel.through import side_of
from waney.sawing.lay import Laid, laid_at
from waney.sawing.lie import RAISED_M, Lie
from waney.sawing.log_to_saw import LogToSaw

Whole = NDArray[np.int64]

LEVEL = 1e-9
"""How far a flat's direction may be off straight down."""
NEAR_M = 1e-7


@dataclass(frozen=True, eq=False)
class OnBed:
    """The best way to saw a lie whose last slice stays on the bed: cents before loading, slices judged, settings (J, P)."""

    sawn: SawnLie
    cents: int
    judged: int
    steps: Whole


def lies_on_flat(log: LogToSaw, lie: Lie) -> bool:
    """Whether a flat of the log lies on the bed from end to end."""
    turn = np.array(lie.to_saw.turn)
    for flat in log.flats:
        out, reach = flat.plane(log.shape.length_m)
        u, v, w = turn @ out
        height = float(lie.to_saw.there(out * reach)[1])
        if v < 0.0 and max(abs(u), abs(w)) < LEVEL and abs(height) < NEAR_M:
            return True
    return False


def sawn_on_bed(bench: Bench, first: Laid) -> OnBed | None:
    """Sawn through from above, the last slice on the bed; None when no slice there is followed by passes that pay."""
    ask, first = bench.ask, _let_down(bench, first)
    side = side_of(ask, first.sections, first.rings, first.obstacles)
    t = tables_of(first.sections, first.rings, ask.step, ask.kerf, True)
    spared = int(np.floor(ask.kerf / ask.step + 1e-9))
    flat = arcs_of(ask.orders, first.obstacles, t, np.maximum(side.steps - spared, 0), flatly())
    span = flat.span[0]
    follows = np.where((span > 0) & (span < len(side.best)), side.best[np.minimum(span, len(side.best) - 1)], NEVER)
    total = np.where(follows > NEVER // 2, flat.worth[0] + follows, NEVER)
    c = int(total.argmax())
    if total[c] <= NEVER // 2:
        return None
    on_flat = slices_of(flat, [(0, c)], bench.set_of, on_flat=True)
    above = slices_of(side.arcs, chain(int(span[c]), side.choice, side.arcs.span), bench.set_of)
    sawn = SawnLie(first, t, ChosenLie((*on_flat, *above)))
    return OnBed(sawn, int(total[c]), flat.judged, side.steps)


def _let_down(bench: Bench, raised: Laid) -> Laid:
    """The same lie with the plane of the bed just inside the wood, so that the face on it can be measured."""
    return laid_at(bench.log, bench.outline, placing(np.eye(3), np.array([0.0, -2.0 * RAISED_M, 0.0])).after(raised.to_saw))
