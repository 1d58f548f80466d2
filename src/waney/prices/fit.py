"""Fit: how one product would come out of one window of a piece, or that it does not. No money here.

The rules and their order are docs/design/sawing.md, "What a slice can be (worth)", steps 1 to 5.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, nan

from waney.pieces.cup import cup_of_part_m
from waney.pieces.piece import MID_PLANE, Piece
from waney.pieces.ring_samples import GrainLimits, RingSamples, Shares, samples
from waney.pieces.shrinking import Shrinking
from waney.pieces.volume import volume_m3
from waney.pieces.widths import (
    mean_of_faces_width_m,
    mid_length_width_m,
    narrow_face_width_m,
    narrowest_width_m,
    widest_width_m,
)
from waney.pieces.windows import Span, Window, blocked, free_spans, pith_between, windows
from waney.prices.measure import SLACK_M
from waney.prices.product import Edges, Grain, Product, Surface, WidthRule

WIDTH_BY_RULE = {
    WidthRule.NARROW_FACE: narrow_face_width_m,
    WidthRule.MEAN_OF_FACES: mean_of_faces_width_m,
    WidthRule.MID_LENGTH: mid_length_width_m,
    WidthRule.WIDEST: widest_width_m,
}


@dataclass(frozen=True, eq=False)
class Judged:
    """A piece with what is looked up once for all products: its ring samples, shrinkage and grain limits."""

    piece: Piece
    rings: RingSamples
    shrinking: Shrinking
    limits: GrainLimits

    @property
    def width_left(self) -> float:
        """Dry width as a share of the green one."""
        return self.shrinking.width_left(self.rings.mean_c2)

    @property
    def dry_thickness_m(self) -> float:
        """Of the rough piece."""
        return self.piece.thickness_m * self.shrinking.thickness_left(self.rings.mean_c2)


@dataclass(frozen=True)
class Fit:
    """One product out of one window. Edges are nan for LIVE; width is dry and counted; dried_m3 is what goes into the dryer."""

    window: Window
    length_m: float
    low_y_m: float
    high_y_m: float
    width_m: float
    dried_m3: float
    pith_inside: bool


def judged(piece: Piece, shrinking: Shrinking, limits: GrainLimits) -> Judged:
    """A piece made ready for judging."""
    return Judged(piece, samples(piece), shrinking, limits)


def fits(judged: Judged, product: Product) -> Iterator[Fit]:
    """Every way in which the piece can be the product: longer first, then nearer the butt first."""
    if not _thick_enough(judged, product, cup_m=0.0):
        return
    for length in sorted(product.lengths_m, reverse=True):
        for window in windows(judged.piece, length + product.trim_m):
            fit = _of_window(judged, product, window, length)
            if fit is not None:
                yield fit


def _of_window(judged: Judged, product: Product, window: Window, length_m: float) -> Fit | None:
    if product.edges is Edges.EDGED:
        return _edged(judged, product, window, length_m)
    return _live(judged, product, window, length_m)


def _thick_enough(judged: Judged, product: Product, cup_m: float) -> bool:
    """Step 5: what is left of the dry thickness after cup, flattening and planing reaches the finished one."""
    taken = cup_m + product.flattening_m + product.planing_m if product.surface is Surface.PLANED else 0.0
    return judged.dry_thickness_m - taken >= product.thickness_m - SLACK_M


def _cups_too_much(judged: Judged, product: Product, window: Window, half_width_m: float) -> bool:
    return not _thick_enough(judged, product, cup_of_part_m(judged.piece, window, half_width_m, judged.shrinking))


def _edged(judged: Judged, product: Product, window: Window, length_m: float) -> Fit | None:
    free = free_span(judged, product, window)
    if free is None:
        return None
    width = _finished_width(product, (free[1] - free[0]) * judged.width_left)
    if width is None:
        return None
    green = width / judged.width_left
    return _between(judged, product, window, length_m, _in_the_middle(free, green), green, width)


def fit_between(judged: Judged, product: Product, window: Window, length_m: float, edges: Span) -> Fit | None:
    """The product with its sawn edges where somebody wants them, all of that width green; None when it cannot be."""
    green = edges[1] - edges[0]
    width = _finished_width(product, green * judged.width_left)
    return None if width is None else _between(judged, product, window, length_m, edges, green, width)


def _between(
    judged: Judged, product: Product, window: Window, length_m: float, edges: Span, green_m: float, width_m: float
) -> Fit | None:
    """An edged product of this green and dry width, unless it cups too much."""
    if _cups_too_much(judged, product, window, green_m / 2.0):
        return None
    dried = green_m * judged.piece.thickness_m * (length_m + product.trim_m)
    return Fit(window, length_m, *edges, width_m, dried, pith_between(judged.piece, window, *edges))


def free_span(judged: Judged, product: Product, window: Window) -> Span | None:
    """Step 3: the widest free part; with a wanted grain, the widest that shows enough of it."""
    taken = blocked(judged.piece, window, product.may_hold, pith_kept=product.pith_kept)
    choices = free_spans(judged.piece, window, taken, beside_pith=product.grain is not None)
    return next((span for span in choices if _has_grain(judged, product, window, span)), None)


def _has_grain(judged: Judged, product: Product, window: Window, span: Span) -> bool:
    if product.grain is None:
        return True
    inside = judged.rings.places.within(window.first, window.last, *span)
    return len(inside.c2) > 0 and _share(inside.shares(judged.limits), product.grain) >= product.grain_share - 1e-9


def _share(shares: Shares, grain: Grain) -> float:
    return {Grain.FLAT: shares.flat, Grain.RIFT: shares.rift, Grain.QUARTER: shares.quarter}[grain]


def _finished_width(product: Product, dry_width_m: float) -> float | None:
    """Step 4: the largest wanted width that fits, or as it is; None below the least."""
    most = min(dry_width_m, product.most_width_m)
    wanted = [width for width in product.widths_m if width <= most + SLACK_M] if product.widths_m else [most]
    width = max(wanted, default=0.0)
    return width if width > 0.0 and width >= product.least_width_m - SLACK_M else None


def _in_the_middle(free: Span, green_width_m: float) -> Span:
    """Edges of a product that is narrower than what is free."""
    spare = max(0.0, free[1] - free[0] - green_width_m) / 2.0
    return free[0] + spare, free[1] - spare


def _live(judged: Judged, product: Product, window: Window, length_m: float) -> Fit | None:
    piece, left = judged.piece, judged.width_left
    if blocked(piece, window, product.may_hold, pith_kept=product.pith_kept):
        return None
    if narrowest_width_m(piece, window) * left < product.least_width_m - SLACK_M:
        return None
    if not _has_grain(judged, product, window, (-inf, inf)):
        return None
    if _cups_too_much(judged, product, window, widest_width_m(piece, window) / 2.0):
        return None
    width = min(WIDTH_BY_RULE[product.price.width_rule](piece, window) * left, product.most_width_m)
    low, high = (edge[MID_PLANE, window.stations] for edge in (piece.low_y_m, piece.high_y_m))
    return Fit(window, length_m, nan, nan, width, volume_m3(piece, window), pith_between(piece, window, low, high))
