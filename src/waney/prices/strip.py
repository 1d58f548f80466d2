"""Strip: what an edged product of one piece is cut from, for whoever sets its two edges by other rules than "in the middle"."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import ceil

import numpy as np

from waney.pieces.piece import Piece
from waney.pieces.ring_samples import GrainLimits
from waney.pieces.shrinking import Shrinking
from waney.pieces.windows import Span, Window, intervals_needed, spacing_m
from waney.prices.fit import Judged, fit_between, free_span, judged
from waney.prices.product import Product
from waney.prices.rules import DryingAllowance, PriceRules
from waney.prices.worth import Worth, allowance_for, worth_of_fit

SLACK_M = 1e-9


@dataclass(frozen=True, eq=False)
class Strip:
    """The window that an edged product comes from, and the width that is free there (y, piece frame) [m]."""

    ready: Judged
    product: Product
    window: Window
    length_m: float
    free: Span
    rules: PriceRules
    allowance: DryingAllowance

    @classmethod
    def of(
        cls,
        piece: Piece,
        product: Product,
        found: Worth,
        rules: PriceRules,
        allowances: Mapping[str, DryingAllowance],
        shrinking: Shrinking,
        limits: GrainLimits | None = None,
    ) -> Strip | None:
        """Of a piece whose best is known to be this product; None when nothing is free where it is said to begin."""
        ready = judged(piece, shrinking, limits or GrainLimits())
        first = int(np.argmin(np.abs(piece.along_m - found.start_m)))
        last = first + intervals_needed(found.length_m + product.trim_m, spacing_m(piece))
        window = Window(first, last)
        free = free_span(ready, product, window)
        if free is None:
            return None
        return cls(ready, product, window, found.length_m, free, rules, allowance_for(product, allowances))

    def worth_between(self, low_y_m: float, high_y_m: float) -> Worth | None:
        """What the product is worth with these sawn edges, all of that width green; None when it cannot be."""
        fit = fit_between(self.ready, self.product, self.window, self.length_m, (low_y_m, high_y_m))
        return None if fit is None else worth_of_fit(self.ready, self.product, fit, self.rules, self.allowance)

    def least_steps(self, step_m: float) -> int:
        """The fewest whole steps of green width that still give the least finished width."""
        return ceil((self.product.least_width_m / self.ready.width_left - SLACK_M) / step_m)

    @cached_property
    def holds_pith(self) -> bool:
        """Whether a pith lies between the faces somewhere in the window: then the place of the edges matters too."""
        z = self.ready.piece.pith_m[:, self.window.stations, 1]
        return bool(np.any(np.abs(z) <= self.ready.piece.thickness_m / 2.0))
