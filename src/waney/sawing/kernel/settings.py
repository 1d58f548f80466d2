"""Settings: the one green thickness of each product, found before the plan over every slice it could come from.

The setting is the least whole number of bed-scale steps between passes at which the stated share of those slices, sawing
variation counted in, still finishes. With a setting for each piece, each slice has the least of its own.
"""

from __future__ import annotations

from math import erf, sqrt

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.judge import fit_product, shrinks_through
from waney.sawing.kernel.records import (
    DRYNESS,
    FIXED,
    RADIAL,
    TAKEN,
    TANGENTIAL,
    THICKNESS,
    YES,
    Array,
    Obstacles,
    Orders,
    Variation,
    Whole,
)
from waney.sawing.kernel.tables import Tables, room_for_orders, slice_between


@compiled
def steps_over(thickness: float, step: float, kerf: float) -> int:
    """Least number of steps between two passes that leaves this much wood."""
    return int(np.ceil((thickness + kerf) / step - 1e-9))


@compiled
def needs(orders: Orders, obstacles: Obstacles, t: Tables, j: int) -> Array:
    """Green thickness that each slice needs to finish as product j, (P,) [m]; nan where it could not come from.

    The slice is taken at the thickness that a piece without cup and of mean shrinkage would need.
    """
    mean = 0.5 * (orders.rates[RADIAL] + orders.rates[TANGENTIAL]) * orders.rates[DRYNESS]
    bare = orders.sizes[j, THICKNESS] + orders.sizes[j, TAKEN]
    k = max(1, steps_over(bare / (1.0 - mean), t.step, t.kerf))
    need = np.full(t.passes, np.nan)
    room = room_for_orders(t, orders)
    for p in range(t.passes - k):
        s = slice_between(t, p, k, room)
        fit = fit_product(orders, obstacles, s, j, YES)
        if fit.fits:
            need[p] = (bare + fit.cup) / (1.0 - shrinks_through(orders.rates, s.c2))
    return need


@compiled
def finishing_share(need: Array, thickness: float, variation: Variation) -> float:
    """Share of the slices (each counted once) that finish when set to this green thickness; 0 when there is none."""
    total, count = 0.0, 0
    for i in range(len(need)):
        if not np.isnan(need[i]):
            spare = thickness - variation.scale_error - need[i]
            if variation.sd > 0.0:
                total += 0.5 * (1.0 + erf(spare / variation.sd / sqrt(2.0)))
            elif spare >= -1e-9:
                total += 1.0
            count += 1
    return total / count if count > 0 else 0.0


@compiled
def one_setting(need: Array, step: float, kerf: float, variation: Variation) -> int:
    """Steps between passes for all pieces of a product; 0 when no slice could be it."""
    if np.all(np.isnan(need)):
        return 0
    k = max(1, steps_over(np.nanmin(need), step, kerf))
    while finishing_share(need, k * step - kerf, variation) < variation.share - 1e-12:
        k += 1
    return k


@compiled
def own_settings(need: Array, step: float, kerf: float, variation: Variation) -> Whole:
    """Steps for each slice by itself, (P,); 0 where it could not come from."""
    steps = np.zeros(len(need), np.int64)
    for i in range(len(need)):
        steps[i] = one_setting(need[i : i + 1], step, kerf, variation)
    return steps


@compiled
def settings_of(orders: Orders, obstacles: Obstacles, t: Tables, own: bool, variation: Variation) -> Whole:
    """Steps between passes for every product and every start, (J, P); 0 where no slice could be it."""
    products = len(orders.kinds)
    steps = np.zeros((products, t.passes), np.int64)
    for j in range(products):
        if orders.kinds[j, FIXED] > 0:
            steps[j, :] = orders.kinds[j, FIXED]
        else:
            need = needs(orders, obstacles, t, j)
            if own:
                steps[j, :] = own_settings(need, t.step, t.kerf, variation)
            else:
                steps[j, :] = one_setting(need, t.step, t.kerf, variation)
    return steps
