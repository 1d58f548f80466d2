"""Exact solution of diffusion from a sheet with a film on its surface: Crank, The Mathematics of Diffusion (1975), Eq 4.53.

Half thickness 1, coefficient 1, moisture from 1 to 0, film L: fraction that left by time Fo is
1 - sum 2 L² exp(-b² Fo) / (b² (b² + L² + L)), b the roots of b tan b = L. Typed from memory; checked in its limits by the tests.
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import brentq


def roots(film: float, count: int = 400) -> np.ndarray:
    """The first roots of b tan b = L."""
    return np.array([brentq(lambda b: b * np.sin(b) - film * np.cos(b), n * np.pi, n * np.pi + np.pi / 2) for n in range(count)])


def dried(film: float, times: np.ndarray) -> np.ndarray:
    """Fraction that left by each time."""
    b = roots(film)
    weights = 2.0 * film**2 / (b**2 * (b**2 + film**2 + film))
    return np.asarray(1.0 - np.exp(-np.outer(times, b**2)) @ weights)


def profile(film: float, time: float, x: np.ndarray) -> np.ndarray:
    """Moisture at distances x from the middle (1 = surface): Crank Eq 4.50."""
    b = roots(film)
    weights = 2.0 * film / ((b**2 + film**2 + film) * np.cos(b)) * np.exp(-(b**2) * time)
    return np.asarray(np.cos(np.outer(x, b)) @ weights)
