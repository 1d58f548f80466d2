"""Listed: what a product sold in listed widths earns at each of them, worked out once instead of for every slice."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.judge import SLACK_M, cents_of, wide_factor
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import LEAST_WIDTH, MOST_WIDTH, NO, YES, Orders, Whole


class Prices(NamedTuple):
    """Cents by product, length and listed width: price and finishing, nothing dried, edged or salvaged; NEVER where it is not
    sold. at (J, I, N, 2): without and with the pith inside; onward (J, I, N): the most of this width and all narrower ones."""

    at: Whole
    onward: Whole


@compiled
def prices_of(orders: Orders) -> Prices:
    """The prices of all listed widths."""
    products, lengths, widths = len(orders.kinds), orders.lengths.shape[1], orders.widths.shape[1]
    at = np.full((products, lengths, widths, 2), NEVER, np.int64)
    onward = np.full((products, lengths, widths), NEVER, np.int64)
    for j in range(products):
        for i in range(lengths):
            length = orders.lengths[j, i]
            for n in range(widths - 1, -1, -1):
                width = orders.widths[j, n]
                if _is_sold(orders, j, width) and not np.isnan(length):
                    factor = wide_factor(orders.wide[j], width)
                    at[j, i, n, 0] = cents_of(orders.sizes[j], orders.rates, length, width, factor, NO, 0.0, 0.0, 0.0)
                    at[j, i, n, 1] = cents_of(orders.sizes[j], orders.rates, length, width, factor, YES, 0.0, 0.0, 0.0)
                onward[j, i, n] = max(at[j, i, n, 0], at[j, i, n, 1])
                if n + 1 < widths:
                    onward[j, i, n] = max(onward[j, i, n], onward[j, i, n + 1])
    return Prices(at, onward)


@compiled
def _is_sold(orders: Orders, j: int, width: float) -> bool:
    """Whether a listed width is neither under the least nor over the most that counts; nan is no width."""
    return bool(orders.sizes[j, LEAST_WIDTH] - SLACK_M <= width <= orders.sizes[j, MOST_WIDTH] + SLACK_M)
