"""Three points: a figure of a sheet that is typed as one number, or as three: low, likely, high."""

from __future__ import annotations

from waney.figures.estimate import Basis, Estimate
from waney.units.sheet import Reader
from waney.units.sheet_readers import NotThat, list_of, shown


def three_points(read: Reader[float], most: float, basis: Basis) -> Reader[Estimate]:
    """A reader of them; the figure lies from 0 to `most`."""

    def estimate(value: object) -> Estimate:
        points = list_of(read)(value)
        if len(points) not in (1, 3) or list(points) != sorted(points):
            raise NotThat(f"{shown(value)} is neither one figure nor three that rise: low, likely, high, as in [30, 60, 120].")
        return Estimate(points[len(points) // 2], points[0], points[-1], basis, 0.0, most)

    return estimate
