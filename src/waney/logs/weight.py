"""Weight of a green log from its shape: wood and bark as they were measured, and the doubts of volume and wood together.

The wood's own doubts (specific gravity, moisture, bark) are those of `wood.weight`, under the same names.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.logs.shape import LogShape
from waney.logs.volume import volume_of
from waney.wood.density import log_mass, mass_at
from waney.wood.species import Species
from waney.wood.weight import BARK_MOISTURE, BARK_SG, MOISTURE, SG, bark_doubts, wood_doubts

Values = Mapping[str, float]


@dataclass(frozen=True)
class GreenWeight:
    """What the whole log weighs with its bark [kg], and the bark's density over the wood's: parts are weighed with it."""

    log: Estimate
    bark_density: float

    def share(self, of_it: float) -> Estimate:
        """So large a share of it; the doubts of the log are those of every part."""
        log = self.log
        return Estimate(log.likely * of_it, log.low * of_it, log.high * of_it, log.basis, hard_min=0.0)


def weight_of_shapes(
    shapes: Sequence[LogShape], likely_shape: LogShape, wood: Species, scenarios: Scenarios, *, bark: bool
) -> Estimate:
    """Mass of a green log [kg], with its bark or debarked, from its shape in every one of the scenarios and the likely one.

    Raises NoFigure when no table gives what the weight needs.
    """
    named = weight_doubts(wood, bark=bark)
    masses = np.array([mass_of(shape, values) for shape, values in zip(shapes, scenarios.draws(named), strict=True)])
    basis = Basis(Ground.SOURCE, named[SG].basis.key, f"{wood.common}, green{', with bark' if bark else ', without bark'}")
    return summed_up(masses, mass_of(likely_shape, likely(named)), basis)


def volumes_of(shape: LogShape) -> tuple[float, float]:
    """Volume of the wood, and of wood and bark together [m3]."""
    return volume_of(shape, bark=False), volume_of(shape, bark=True)


def weight_doubts(wood: Species, *, bark: bool) -> Mapping[str, Estimate]:
    """Specific gravity and moisture of the wood, and of its bark [-]; how much bark there is says the shape."""
    of_bark = bark_doubts(wood) if bark else {}
    return {**wood_doubts(wood), **{name: of_bark[name] for name in (BARK_SG, BARK_MOISTURE) if name in of_bark}}


def mass_of(shape: LogShape, values: Values) -> float:
    """Mass of a green log [kg] in one scenario; its bark counts where the bark's values are among them."""
    inside = volume_of(shape, bark=False)
    if BARK_SG not in values:
        return log_mass(inside, values[SG], values[MOISTURE])
    outside = volume_of(shape, bark=True) - inside
    return log_mass(inside, values[SG], values[MOISTURE], outside, values[BARK_SG], values[BARK_MOISTURE])


def part_weight(log: Estimate, wood: Species) -> GreenWeight:
    """What parts of a log are weighed with, from the weight of the whole [kg]. Raises NoFigure."""
    values = likely(weight_doubts(wood, bark=True))
    return GreenWeight(
        log,
        log_mass(0.0, values[SG], 0.0, 1.0, values[BARK_SG], values[BARK_MOISTURE]) / mass_at(1.0, values[SG], values[MOISTURE]),
    )


def load_of(logs: Sequence[Estimate]) -> Estimate:
    """Mass of several logs together [kg]: all low or all high at once, for logs felled together are alike."""
    low, middle, high = (sum(getattr(one, point) for one in logs) for point in ("low", "likely", "high"))
    basis = logs[0].basis if len(logs) == 1 else Basis(Ground.DEFAULT, "", "all logs light, or all heavy, at once")
    return Estimate(middle, low, high, basis, hard_min=0.0)
