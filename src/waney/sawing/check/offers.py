"""Offers: everything a slice can be sold as, with its money term by term, before rounding (docs/design/sawing.md, worth)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import atan, ceil, nan

import numpy as np
from numpy.typing import NDArray

from waney.prices.product import Edges, Per, PriceRule, Product, Surface, WidthRule
from waney.prices.rules import DryingAllowance
from waney.sawing.check.cents import whole
from waney.sawing.check.grain import Grained, Sample, grained
from waney.sawing.check.polygon import Run
from waney.sawing.check.slices import LOWER, UPPER, Slice, trapezoids
from waney.sawing.check.windows import Window
from waney.sawing.wants import Wants

Array = NDArray[np.float64]

EXACT, BENT_M = 1e-9, 1e-6
"""A length may miss by EXACT; where arithmetic may fall on either side of a limit, both are looked at, BENT_M apart from it."""
BENDS = (EXACT, BENT_M, -BENT_M)
PRICE, SPOILT, AS_IT_COMES = "price, less what drying spoils", "salvage of what is spoilt", "as it comes off"
"""names of terms, as a plan states them; the others are finishing, drying, edging"""
SHRINKAGE_START = 0.30
INCH_M = 0.0254
FOOT_M = 0.3048


@dataclass(frozen=True)
class Shrinking:
    """Shrinkage from green to oven-dry along and across the radius, fraction."""

    radial: float
    tangential: float


@dataclass(frozen=True)
class Offer:
    """A product at one place of a slice. Green edges in u [m], nan for live edges; `terms` in cents, not rounded."""

    product: Product
    start: int
    length_m: float
    free: Run | None
    low_m: float
    high_m: float
    width_m: float
    measure: float
    terms: Mapping[str, float]

    @property
    def cents(self) -> int:
        """The sum of the rounded terms."""
        return sum(whole(cents) for cents in self.terms.values())


@dataclass(frozen=True, eq=False)
class Judge:
    """Judges one slice. `sawn`: both its edges are sawn already. Raises nothing; what cannot be is simply no offer."""

    piece: Slice
    wants: Wants
    shrinking: Shrinking
    sawn: bool

    @cached_property
    def grained(self) -> Grained:
        """How the rings cross it."""
        return grained(self.piece)

    @cached_property
    def samples(self) -> tuple[Sample, ...]:
        """Where the grain is looked at."""
        return self.grained.samples

    @property
    def dryness(self) -> float:
        """Share of the whole shrinkage that happens down to the wanted moisture content."""
        return max(0.0, 1.0 - self.wants.target_mc / SHRINKAGE_START)

    @cached_property
    def across(self) -> float:
        """What is left of a green width of 1 when dry."""
        c2 = self.grained.mean_c2
        return 1.0 - (self.shrinking.radial * (1.0 - c2) + self.shrinking.tangential * c2) * self.dryness

    @cached_property
    def through(self) -> float:
        """What is left of a green thickness of 1 when dry."""
        c2 = self.grained.mean_c2
        return 1.0 - (self.shrinking.radial * c2 + self.shrinking.tangential * (1.0 - c2)) * self.dryness

    def salvage_cents(self) -> float:
        """The slice as it comes off, not rounded."""
        return self.wants.rules.salvage_cents_per_m3 * self.piece.volume_m3()

    def windows(self, product: Product, length_m: float, slack: float) -> Iterator[Window]:
        """Every place along the slice where the product and its trim have wood."""
        intervals = ceil((length_m + product.trim_m) / self.piece.spacing_m - EXACT)
        for start in range(len(self.piece.w_m) - intervals):
            window = Window(self.piece, start, start + intervals, slack)
            if window.has_wood():
                yield window

    def offers(self, product: Product, length_m: float, window: Window) -> tuple[Offer, ...]:
        """The product in one window: none, one, or several free widths that tie."""
        if product.edges is Edges.LIVE:
            return tuple(self._live(product, length_m, window))
        return tuple(self._edged(product, length_m, window))

    def best(self, products: tuple[Product, ...], slack: float) -> Offer | None:
        """The offer that earns most, the first on ties; None when there is none."""
        found = (
            offer
            for product in products
            for length in sorted(product.lengths_m, reverse=True)
            for window in self.windows(product, length, slack)
            for offer in self.offers(product, length, window)
        )
        return max(found, key=lambda offer: offer.cents, default=None)

    def _least_m(self, product: Product) -> float:
        return max(product.least_width_m, self.wants.least_width_m)

    def _edged(self, product: Product, length_m: float, window: Window) -> Iterator[Offer]:
        for free in self._widest(product, window):
            green, dry = self._brought_to_width(product, free[1] - free[0], window.slack)
            if dry >= self._least_m(product) - window.slack and self._finishes(product, green / 2, window):
                middle = (free[0] + free[1]) / 2
                low, high = middle - green / 2, middle + green / 2
                dried = green * self.piece.thickness_m * (length_m + product.trim_m)
                yield self._offer(product, length_m, window, free, (low, high), dry, dried)

    def cut_to(self, alone: Offer, edges: Run, slack: float) -> Offer | None:
        """The same product from the same place with its sawn edges there, all of that width green; None when it cannot be."""
        product, green = alone.product, edges[1] - edges[0]
        intervals = ceil((alone.length_m + product.trim_m) / self.piece.spacing_m - EXACT)
        window = Window(self.piece, alone.start, alone.start + intervals, slack)
        _, dry = self._brought_to_width(product, green, slack)
        if dry < self._least_m(product) - slack or not self._finishes(product, green / 2, window):
            return None
        dried = green * self.piece.thickness_m * (alone.length_m + product.trim_m)
        return self._offer(product, alone.length_m, window, alone.free, edges, dry, dried)

    def _widest(self, product: Product, window: Window) -> tuple[Run, ...]:
        free = window.free(product)
        if product.grain is not None:
            share = product.grain_share - window.slack
            free = tuple(run for run in free if window.grain_share(product, self.samples, run) >= share)
        widest = max((high - low for low, high in free), default=0.0)
        return tuple(run for run in free if run[1] - run[0] >= widest - abs(window.slack))

    def _brought_to_width(self, product: Product, free_m: float, slack: float) -> tuple[float, float]:
        """Green and dry width after edging."""
        dry = free_m * self.across
        if product.widths_m:
            fitting = [width for width in product.widths_m if width <= min(dry, product.most_width_m) + slack]
            dry = max(fitting, default=0.0)
        dry = min(dry, product.most_width_m)
        return dry / self.across, dry

    def _live(self, product: Product, length_m: float, window: Window) -> Iterator[Offer]:
        widths = (self.piece.high - self.piece.low)[[LOWER, UPPER], window.run]
        areas = [trapezoids(face) for face in widths]
        narrow, wide = (widths[0], widths[1]) if areas[0] <= areas[1] else (widths[1], widths[0])
        enough = float(np.min(narrow)) * self.across >= self._least_m(product) - window.slack
        grain = product.grain is None or window.grain_share(product, self.samples) >= product.grain_share - window.slack
        clear = not window.blocked(product)
        if enough and grain and clear and self._finishes(product, float(np.max(wide)) / 2, window):
            dry = min(counted_width(product.price.width_rule, narrow, wide) * self.across, product.most_width_m)
            dried = self.piece.volume_m3(window.start, window.stop)
            yield self._offer(product, length_m, window, None, None, dry, dried)

    def _finishes(self, product: Product, half_width_m: float, window: Window) -> bool:
        dry = self.piece.thickness_m * self.through
        if product.surface is Surface.PLANED:
            dry -= self._cup(half_width_m, window.pith_distance_m()) + product.flattening_m + product.planing_m
        return dry >= product.thickness_m - window.slack

    def _cup(self, half_width_m: float, distance_m: float) -> float:
        difference = self.shrinking.tangential - self.shrinking.radial
        return difference * self.dryness * half_width_m * atan(half_width_m / distance_m)

    def _offer(
        self, product: Product, length_m: float, window: Window, free: Run | None, edges: Run | None, dry: float, dried_m3: float
    ) -> Offer:
        measure = measured(product, length_m, dry)
        pith = window.holds_pith(edges)
        terms = self._terms(product, length_m, dry, measure, pith, dried_m3)
        low, high = edges or (nan, nan)
        return Offer(product, window.start, length_m, free, low, high, dry, measure, terms)

    def _terms(
        self, product: Product, length_m: float, dry: float, measure: float, pith: bool, dried_m3: float
    ) -> Mapping[str, float]:
        rules = self.wants.rules
        days, loss = _drying(self.wants.allowances.get(product.name), pith)
        factor = wide_factor(product.price, dry) * (product.pith_factor if pith else 1.0)
        return {
            PRICE: product.price.cents * measure * factor * (1.0 - loss),
            SPOILT: self.salvage_cents() * loss,
            "finishing": -product.finishing_cents_per_m2 * length_m * dry,
            "drying": -days * rules.drying_cents_per_m3_day * dried_m3,
            "edging": 0.0 if product.edges is Edges.LIVE or self.sawn else -rules.edging_cents,
        }


def _drying(allowance: DryingAllowance | None, pith: bool) -> tuple[float, float]:
    """Days and chance of loss; nothing for a product without an allowance."""
    if allowance is None:
        return 0.0, 0.0
    return allowance.days.likely, (allowance.loss_with_pith if pith else allowance.loss).likely


def counted_width(rule: WidthRule, narrow: Array, wide: Array) -> float:
    """Green width of a live-edge piece by its width rule, from both faces' widths at the window's stations (n,) [m]."""
    means = [trapezoids(face) / (len(face) - 1) for face in (narrow, wide)]
    middle = (len(narrow) - 1) / 2
    return {
        WidthRule.NARROW_FACE: means[0],
        WidthRule.MEAN_OF_FACES: sum(means) / 2,
        WidthRule.MID_LENGTH: sum(float(np.interp(middle, np.arange(len(f)), f)) for f in (narrow, wide)) / 2,
        WidthRule.WIDEST: float(np.max(wide)),
    }[rule]


def measured(product: Product, length_m: float, width_m: float) -> float:
    """The measure in the price rule's own unit, from the dry width."""
    rule = product.price
    thickness = product.nominal_m if rule.by_nominal else product.thickness_m
    paid_thick = max(thickness, INCH_M) if rule.thin_counts_as_inch else thickness
    return {
        Per.BOARD_FOOT: length_m * width_m * paid_thick / (FOOT_M**2 * INCH_M),
        Per.CUBIC_METRE: length_m * width_m * thickness,
        Per.SQUARE_FOOT: length_m * width_m / FOOT_M**2,
        Per.SQUARE_METRE: length_m * width_m,
        Per.FOOT: length_m / FOOT_M,
        Per.METRE: length_m,
        Per.PIECE: 1.0,
    }[rule.per]


def wide_factor(rule: PriceRule, width_m: float) -> float:
    """The last factor whose width is reached, else 1."""
    reached = [factor for start, factor in rule.wide_factors if width_m >= start - EXACT]
    return reached[-1] if reached else 1.0
