"""Shell and core: what driven pins tell of the gradient in a piece, and of its mean."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.estimate import Z_95, Basis, Estimate, Ground

SHAPE_ERROR = 0.12
"""Standard error of the mean from the shape not being a parabola, share of the gradient: flatter early on. Ours, a choice."""


@dataclass(frozen=True)
class ShellCore:
    """Moisture near the face and in the middle [-], each with its range."""

    shell: Estimate
    core: Estimate

    @property
    def mean(self) -> Estimate:
        """Mean of the thickness [-]: of a parabola with the shell at its ends, shell + 2/3 of the gradient."""
        middle = self.shell.likely + 2.0 / 3.0 * (self.core.likely - self.shell.likely)
        own = (self.shell.width / 3.0) ** 2 + (self.core.width * 2.0 / 3.0) ** 2
        reach = ((own**0.5 / 2.0) ** 2 + (Z_95 * SHAPE_ERROR * (self.core.likely - self.shell.likely)) ** 2) ** 0.5
        return Estimate(middle, max(middle - reach, 0.0), middle + reach, Basis(Ground.READING, "shell and core"), 0.0)
