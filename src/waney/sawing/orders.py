"""Orders: the wanted products and rates as plain arrays, for the compiled judges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from waney.logs.measured import Hidden
from waney.pieces.ring_samples import GrainLimits
from waney.pieces.shrinking import Shrinking
from waney.prices.measure import price_coefficients
from waney.prices.product import Edges, Grain, Product, Surface, WidthRule
from waney.prices.rules import DryingAllowance
from waney.sawing.kernel.records import METAL_BIT, PITH_BIT, Orders
from waney.sawing.wants import Wants

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

GRAINS = (Grain.FLAT, Grain.RIFT, Grain.QUARTER)
WIDTH_RULES = (WidthRule.NARROW_FACE, WidthRule.MEAN_OF_FACES, WidthRule.MID_LENGTH, WidthRule.WIDEST)
KINDS = tuple(Hidden)


def kind_bit(kind: Hidden) -> int:
    """The bit of one kind of hidden thing."""
    return METAL_BIT if kind is Hidden.METAL else 1 << KINDS.index(kind)


def wanted(wants: Wants) -> tuple[Product, ...]:
    """The products with the shop's least width worth keeping applied."""
    least = wants.least_width_m
    return tuple(replace(p, least_width_m=max(p.least_width_m, min(least, p.most_width_m))) for p in wants.products)


def orders_of(wants: Wants, shrinking: Shrinking, step_m: float, kerf_m: float) -> Orders:
    """Everything the judges need to know, at the likely case."""
    products = wanted(wants)
    rules, limits = wants.rules, GrainLimits()
    return Orders(
        sizes=np.array([_sizes(p, wants.allowances[p.name]) for p in products], float).reshape(len(products), -1),
        kinds=np.array([_kinds(p, step_m, kerf_m) for p in products], np.int64).reshape(len(products), -1),
        widths=_padded([sorted(p.widths_m, reverse=True) for p in products]),
        lengths=_padded([sorted(p.lengths_m, reverse=True) for p in products]),
        wide=_wide(products),
        rates=np.array(
            [
                rules.salvage_cents_per_m3,
                rules.drying_cents_per_m3_day,
                rules.edging_cents,
                shrinking.radial,
                shrinking.tangential,
                shrinking.dryness,
                limits.flat_above_c2,
                limits.quarter_up_to_c2,
            ]
        ),
    )


def _sizes(p: Product, allowance: DryingAllowance) -> list[float]:
    taken = p.planing_m + p.flattening_m if p.surface is Surface.PLANED else 0.0
    sizes = [p.thickness_m, taken, p.least_width_m, p.most_width_m, p.trim_m, *price_coefficients(p), p.finishing_cents_per_m2]
    losses = [allowance.days.likely, allowance.loss.likely, allowance.loss_with_pith.likely]
    return [*sizes, *losses, p.pith_factor, p.grain_share, p.set_factor]


def _kinds(p: Product, step_m: float, kerf_m: float) -> list[int]:
    blocked = sum(kind_bit(kind) for kind in Hidden if kind not in p.may_hold) + (0 if p.pith_kept else PITH_BIT)
    grain = -1 if p.grain is None else GRAINS.index(p.grain)
    fixed = 0 if p.green_m is None else int(np.ceil((p.green_m + kerf_m) / step_m - 1e-9))
    edged, cups = int(p.edges is Edges.EDGED), int(p.surface is Surface.PLANED)
    return [edged, cups, WIDTH_RULES.index(p.price.width_rule), blocked, grain, p.set_of, fixed]


def _padded(rows: Sequence[Sequence[float]]) -> Array:
    table = np.full((len(rows), max([1, *map(len, rows)])), np.nan)
    for i, row in enumerate(rows):
        table[i, : len(row)] = row
    return table


def _wide(products: Sequence[Product]) -> Array:
    from_m = _padded([[w for w, _ in p.price.wide_factors] for p in products])
    factor = _padded([[f for _, f in p.price.wide_factors] for p in products])
    return np.stack([from_m, factor], axis=2)
