"""Windows: a run of stations in a slice, what is blocked in it, and which widths are free."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

import numpy as np

from waney.logs.rings import UNDEFINED_WITHIN_M
from waney.prices.product import Product
from waney.sawing.check.grain import Sample
from waney.sawing.check.inside import half_width
from waney.sawing.check.polygon import Run
from waney.sawing.check.slices import LOWER, MIDDLE, UPPER, Slice


@dataclass(frozen=True, eq=False)
class Window:
    """Stations start..stop of a slice, both included; `slack` [m] is how far every limit is bent in the product's favour."""

    piece: Slice
    start: int
    stop: int
    slack: float

    @property
    def run(self) -> slice:
        """Its stations, for indexing."""
        return slice(self.start, self.stop + 1)

    def has_wood(self) -> bool:
        """Chords on both faces and the mid-plane at every station."""
        return not bool(np.any(np.isnan(self.piece.low[:, self.run])))

    def between_edges(self) -> Run:
        """From the largest low edge of both faces to the smallest high edge."""
        faces = [LOWER, UPPER]
        return float(np.max(self.piece.low[faces, self.run])), float(np.min(self.piece.high[faces, self.run]))

    def blocked(self, product: Product) -> tuple[Run, ...]:
        """The intervals of u that zones and a pith to be boxed out take."""
        return (*self._by_zones(product), *(() if product.pith_kept else self._by_pith()))

    def _by_zones(self, product: Product) -> Iterator[Run]:
        w = self.piece.w_m
        for rod in self.piece.rods:
            if rod.kind not in product.may_hold:
                stations = rod.counts_at(w) & set(range(self.start, self.stop + 1))
                yield from self._across([rod.centre(float(w[i])) for i in stations], rod.radius_m)

    def _by_pith(self) -> Iterator[Run]:
        for line in self.piece.piths[:, self.run]:
            yield from self._across([(float(u), float(v)) for u, v in line], UNDEFINED_WITHIN_M)

    def _across(self, centres: list[tuple[float, float]], radius_m: float) -> Iterator[Run]:
        """From the lowest to the highest u that a round thing with these centres takes from the slice, if any."""
        halves = [half_width(radius_m - self.slack, v, self.piece.lower_m, self.piece.upper_m) for _, v in centres]
        taken = [(u, half) for (u, _), half in zip(centres, halves, strict=True) if half is not None]
        if taken:
            yield min(u - half for u, half in taken), max(u + half for u, half in taken)

    def free(self, product: Product) -> tuple[Run, ...]:
        """Free widths an edged product may be cut from; with a wanted grain also those on either side of the pith."""
        blocked = self.blocked(product)
        whole = free_between(self.between_edges(), blocked)
        if product.grain is None:
            return whole
        piths = self.piece.piths[:, self.run, 0]
        lines = tuple((float(np.min(line)), float(np.max(line))) for line in piths)
        return tuple(dict.fromkeys((*whole, *free_between(self.between_edges(), (*blocked, *lines)))))

    def grain_share(self, product: Product, samples: tuple[Sample, ...], within: Run = (-inf, inf)) -> float:
        """Share of the sample points inside that have the wanted grain; 0 when there is none."""
        inside = [s for s in samples if self.start <= s.station <= self.stop and within[0] <= s.u_m <= within[1]]
        if product.grain is None or not inside:
            return 0.0
        return sum(s.has(product.grain, self.slack * 1e4) for s in inside) / len(inside)

    def holds_pith(self, within: Run | None) -> bool:
        """Whether a pith passes between the faces and within these edges (None: those of the mid-plane) at any station."""
        for line in self.piece.piths[:, self.run]:
            for i, (u, v) in enumerate(line):
                low, high = within or (self.piece.low[MIDDLE, self.start + i], self.piece.high[MIDDLE, self.start + i])
                upright = self.piece.lower_m + self.slack <= v <= self.piece.upper_m - self.slack
                if upright and low + self.slack <= u <= high - self.slack:
                    return True
        return False

    def pith_distance_m(self) -> float:
        """From the mid-plane to the nearer pith in the middle of the window, at least half the thickness."""
        middle = (self.start + self.stop) / 2
        stations = np.arange(len(self.piece.w_m))
        heights = [float(np.interp(middle, stations, line[:, 1])) for line in self.piece.piths]
        return max(min(abs(v - self.piece.middle_m) for v in heights), self.piece.thickness_m / 2)


def free_between(edges: Run, blocked: tuple[Run, ...]) -> tuple[Run, ...]:
    """What is left of one interval when others are taken out, from low up."""
    left, low = [], edges[0]
    for start, stop in sorted(blocked):
        if start > low:
            left.append((low, min(start, edges[1])))
        low = max(low, stop)
    left.append((low, edges[1]))
    return tuple(run for run in left if run[1] > run[0])
