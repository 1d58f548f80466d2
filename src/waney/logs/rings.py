"""RingField: where the growth rings run, from the pith and the smoothed outline.

s(x, y) at height z = distance from the pith / distance from the pith to the smoothed inside-bark outline in that direction.
Rings are the lines of equal s. With two piths (a crotch) the smaller s rules.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

UNDEFINED_WITHIN_M = 0.005
"""Ring angles are undefined this near the pith (design section 4)."""


@dataclass(frozen=True, eq=False)
class RingField:
    """Pith lines and reaches on their own stations; everything between is linear along z. Metres, log frame.

    z_m (n,); pith_m (k, n, 2) for k = 1 or 2 piths; reach_m (k, n, m) > 0: from that pith to the smoothed outline in
    direction 2 pi j / m (from x towards y), linear between directions.
    """

    z_m: Array
    pith_m: Array
    reach_m: Array

    def __post_init__(self) -> None:
        k, n, _ = self.reach_m.shape
        if self.z_m.shape != (n,) or self.pith_m.shape != (k, n, 2) or k not in (1, 2):
            raise ValueError("ring field arrays do not fit together")
        for array in (self.z_m, self.pith_m, self.reach_m):
            array.setflags(write=False)

    def pith_ends(self) -> Array:
        """Where the first pith leaves the butt and the top end (2, 3) [m]."""
        return np.column_stack([self.pith_m[0][[0, -1]], self.z_m[[0, -1]]])

    def places(self, z_m: Array) -> tuple[NDArray[np.int64], Array]:
        """Stations at or below heights (p,), so that one more follows, and the share of the way to the next, 0..1 (held at the
        ends beyond them)."""
        i = np.clip(np.searchsorted(self.z_m, z_m) - 1, 0, len(self.z_m) - 2)
        return i, np.clip((z_m - self.z_m[i]) / (self.z_m[i + 1] - self.z_m[i]), 0.0, 1.0)

    def section(self, z_m: float) -> tuple[Array, Array]:
        """Piths (k, 2) and reaches (k, m) at one height along the log, held at the ends beyond them [m]."""
        (i,), (t,) = self.places(np.array([z_m]))
        pith = (1 - t) * self.pith_m[:, i] + t * self.pith_m[:, i + 1]
        reach = (1 - t) * self.reach_m[:, i] + t * self.reach_m[:, i + 1]
        return pith, reach
