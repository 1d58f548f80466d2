"""Flitch: a piece that waits to be edged, told in steps of the bed scale (docs/design/sawing.md, "Edging together").

A flitch stands on one edge. Height 0 is the outermost point of that edge; the first cut at F steps leaves the other edge sawn,
and once it is set on that, a cut at k steps leaves it k steps wide. With F not over `highest` no wane is left on the first edge,
with k not over F - margin none on the second.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from math import ceil, floor, inf

import numpy as np

from waney.logs.measured import Hidden
from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.pieces.windows import Span
from waney.prices.product import Edges, Product
from waney.prices.strip import Strip
from waney.prices.worth import Worth
from waney.sawing.build import with_set
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.orders import wanted
from waney.sawing.plan import PlannedPiece
from waney.sawing.wants import Wants

FACES = [FACE_B, FACE_A]
SLACK_M = 1e-9


@dataclass(frozen=True)
class Side:
    """One of two ways to stand a flitch: which edge is cut first (up), and its limits in steps."""

    low_y_up: bool
    highest: int
    """the first cut leaves no wane up to this height"""
    margin: int
    """from the bed to where the lower edge is clean from end to end"""


@dataclass(frozen=True, eq=False)
class Flitch:
    """One piece to be edged. Steps are those of the bed scale."""

    place: int
    """among the pieces of the plan"""
    planned: PlannedPiece
    strip: Strip
    step_m: float
    sides: tuple[Side, Side]
    least: int
    """no narrower width will do"""
    enough: int
    """no wider one earns more"""
    set_factor: float | None
    """None: it belongs to no set"""
    _changes: dict[tuple[int, bool, int], float] = field(default_factory=dict)

    @classmethod
    def of(cls, place: int, planned: PlannedPiece, product: Product, wants: Wants, log: LogToSaw, step_m: float) -> Flitch | None:
        """None when its product cannot be cut at whole steps at all."""
        found, piece = planned.worth, planned.piece
        strip = Strip.of(piece, product, found, wants.rules, wants.allowances, log.shrinking)
        if strip is None:
            return None
        enough = ceil((found.high_y_m - found.low_y_m - SLACK_M) / step_m)
        least = enough if product.widths_m else min(strip.least_steps(step_m), enough)
        factor = None if planned.set_number is None else product.set_factor
        return cls(place, planned, strip, step_m, sides_of(piece, strip.free, step_m), least, enough, factor)

    @property
    def thickness_m(self) -> float:
        """As it stands between the clamps."""
        return self.planned.piece.thickness_m

    @property
    def length_m(self) -> float:
        """As sawn."""
        return self.planned.piece.length_m

    @cached_property
    def reach(self) -> Span:
        """y of the outermost points of both edges [m]."""
        return reach_of(self.planned.piece)

    @property
    def height_m(self) -> float:
        """On edge, from the outermost point of one edge to that of the other."""
        return self.reach[1] - self.reach[0]

    @cached_property
    def highest(self) -> int:
        """Of the better side."""
        return max(side.highest for side in self.sides)

    def side_at(self, first: int) -> Side | None:
        """How to stand it for this first cut: so that it becomes widest, low-y edge up on ties; None when wane would be left."""
        possible = [side for side in self.sides if first <= side.highest]
        return min(possible, key=lambda side: side.margin, default=None)

    def room(self, side: Side, first: int) -> int:
        """The greatest width after this first cut."""
        return first - side.margin

    def edges(self, side: Side, first: int, width: int) -> Span:
        """Where both cuts leave its edges, y [m]."""
        if side.low_y_up:
            low = self.reach[1] - first * self.step_m
            return low, low + width * self.step_m
        high = self.reach[0] + first * self.step_m
        return high - width * self.step_m, high

    def worth(self, side: Side, first: int, width: int) -> Worth | None:
        """What it is worth with these cuts; None when it is then not its product."""
        found = self.strip.worth_between(*self.edges(side, first, width))
        return found if found is None or self.set_factor is None else with_set(found, self.set_factor)

    def changes_by(self, side: Side, first: int, width: int) -> float:
        """Cents that it is worth more than edged alone; minus infinity when it cannot be cut so."""
        if not self.least <= width <= self.room(side, first):
            return -inf
        # only a pith in the wood makes the place of the edges count, not their distance alone
        at = (first, side.low_y_up, width) if self.strip.holds_pith else (0, False, width)
        if at not in self._changes:
            found = self.worth(side, first, width)
            self._changes[at] = -inf if found is None else found.cents - self.planned.worth.cents
        return self._changes[at]


def reach_of(piece: Piece) -> Span:
    """y of the outermost wood of both edges, over both faces and all stations [m]."""
    return float(np.nanmin(piece.low_y_m[FACES])), float(np.nanmax(piece.high_y_m[FACES]))


def sides_of(piece: Piece, free: Span, step_m: float) -> tuple[Side, Side]:
    """Both ways to stand a piece of which this span of y is free."""
    low, high = reach_of(piece)
    return (
        Side(True, _down(high - free[0], step_m), _up(high - free[1], step_m)),
        Side(False, _down(free[1] - low, step_m), _up(free[0] - low, step_m)),
    )


def _down(metres: float, step_m: float) -> int:
    return floor((metres + SLACK_M) / step_m)


def _up(metres: float, step_m: float) -> int:
    return ceil((metres - SLACK_M) / step_m)


def flitches_of(pieces: tuple[PlannedPiece, ...], wants: Wants, log: LogToSaw, step_m: float) -> tuple[Flitch, ...]:
    """The pieces that are still to be edged and may stand with others, in the order they come off.

    One that may hold metal stands alone: a nail would stop the whole stack.
    """
    products = {product.name: product for product in wanted(wants)}
    found = []
    for place, planned in enumerate(pieces):
        product = products.get(planned.worth.product or "")
        if product is not None and product.edges is Edges.EDGED and _waits(planned.piece):
            found.append(Flitch.of(place, planned, product, wants, log, step_m))
    return tuple(flitch for flitch in found if flitch is not None)


def _waits(piece: Piece) -> bool:
    return not all(piece.sawn_edges) and all(zone.kind is not Hidden.METAL for zone in piece.zones)
