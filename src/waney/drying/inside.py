"""Inside: what the middle and the face of a piece hold while its mean is what it is; a range, because no mean tells it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np
from numpy.typing import NDArray

from waney.drying.band import weighted
from waney.drying.pace import MODEL
from waney.drying.shell_core import SHAPE_ERROR
from waney.figures.estimate import Z_95, Estimate, around

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Inside:
    """mean: of the whole piece [-]; core, face: of its middle and its surface then [-]."""

    mean: float
    core: Estimate
    face: Estimate

    @property
    def said(self) -> str:
        """In words: 'with 20 % in the mean likely 24 % in the middle (22 to 27 %) and 14 % at the face (12 to 16 %)'."""
        core, face = _ranged(self.core, "in the middle"), _ranged(self.face, "at the face")
        return f"with {self.mean * 100.0:.0f} % in the mean likely {core} and {face}: read the core"


def _ranged(mc: Estimate, where: str) -> str:
    return f"{mc.likely * 100.0:.0f} % {where} ({mc.low * 100.0:.0f} to {mc.high * 100.0:.0f} %)"


def inside_of(mean: float, cores: Array, faces: Array, shares: Array) -> Inside | None:
    """From what each of many pieces holds, (n,) each; those that are not numbers did not get so far. None where none did.

    A real piece's gradient has not the model's shape: that error is the one that pins are held to have (`shell_core`).
    """
    there = ~np.isnan(cores)
    if float(shares[there].sum()) <= 0.0:
        return None
    each = shares[there] / shares[there].sum()
    core, face = (np.maximum(values[there], 0.0) for values in (cores, faces))
    shape = Z_95 * SHAPE_ERROR * abs(float(each @ (core - face)))
    return Inside(mean, _of(core, each, shape), _of(face, each, shape))


def _of(values: Array, shares: Array, shape: float) -> Estimate:
    low, likely, high = weighted(values, shares)
    return Estimate(likely, max(likely - hypot(likely - low, shape), 0.0), likely + hypot(high - likely, shape), MODEL, 0.0)


def around_inside(found: Sequence[Inside | None]) -> Inside | None:
    """As wide as all of them together."""
    there = [one for one in found if one is not None]
    if not there:
        return None
    core, face = (around([getattr(one, name) for one in there]) for name in ("core", "face"))
    return Inside(sum(one.mean for one in there) / len(there), core, face)
