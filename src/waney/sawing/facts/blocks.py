"""Blocks: what to put under a log on the bed so that it lies as a plan wants it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waney.logs.shape import LogShape
from waney.logs.volume import balance
from waney.sawing.lie import Underside, underside
from waney.sawing.mill import End, Mill
from waney.sawing.plan import Plan
from waney.sawing.wants import Tip

FROM_END_M = 0.3
"""How far in from the lifted end a block stands where no crossbar holds it. Common practice, no source."""


@dataclass(frozen=True)
class Block:
    """Something to put under the log before it is sawn."""

    end: End
    """the end that it lifts"""
    height_m: float
    """top of the block above the bed"""
    at_m: float
    """from the butt end of the bed"""
    crossbar: int | None
    """counted from 1 at the butt end of the bed; None: the crossbars are not known"""


def blocks_of(plan: Plan, shape: LogShape, mill: Mill) -> tuple[Block, ...]:
    """The block that holds the first lie, under the outermost crossbar; none where the log rests by itself.

    Heights counted from the pith as it was read need none: it lies there already.
    What is lower than half a step of the bed scale over the bed counts as touching it.
    """
    if plan.tip is Tip.AS_READ:
        return ()
    to_saw = plan.lies[0]
    under = underside(to_saw.there(shape.surface(bark=True)), mill.crossbars_m)
    centre_w = float(to_saw.there(np.array(balance(shape, bark=True)))[2])
    touching = under.w[under.v < mill.step_m / 2.0]
    if touching.min() <= centre_w <= touching.max():
        return ()
    end = End.TOP if touching.max() < centre_w else End.BUTT
    at = _place(under, end, centre_w, mill)
    return () if at is None else (_block(under, at, end, mill),)


def _place(under: Underside, end: End, centre_w: float, mill: Mill) -> int | None:
    """Which place of the underside the block stands under; None when there is none beyond the centre of mass."""
    beyond = np.flatnonzero(under.w > centre_w if end is End.TOP else under.w < centre_w)
    if not _on_crossbars(under, mill):
        room = under.w[-1] - FROM_END_M if end is End.TOP else under.w[0] + FROM_END_M
        inside = beyond[under.w[beyond] <= room] if end is End.TOP else beyond[under.w[beyond] >= room]
        beyond = inside if len(inside) else beyond
    if not len(beyond):
        return None
    return int(beyond[-1] if end is End.TOP else beyond[0])


def _block(under: Underside, at: int, end: End, mill: Mill) -> Block:
    w = float(under.w[at])
    number = list(mill.crossbars_m).index(w) + 1 if _on_crossbars(under, mill) else None
    return Block(end, float(under.v[at]), w, number)


def _on_crossbars(under: Underside, mill: Mill) -> bool:
    return set(under.w.tolist()) <= set(mill.crossbars_m)
