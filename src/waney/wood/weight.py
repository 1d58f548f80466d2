"""Weight of green logs and of pieces at any moisture, with its range: the high end stands beside every lift."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.wood.density import log_mass, mass_at
from waney.wood.species import NoFigure, Species
from waney.wood.traits import Trait

SG, MOISTURE, BARK_SHARE, BARK_SG, BARK_MOISTURE = "wood.sg", "wood.green_mc", "bark.share", "bark.sg", "bark.mc"
"""Names of the doubts in a log's weight, for `figures.scenarios`."""


def green_moisture(wood: Species) -> Estimate:
    """Moisture of a green log [-]; raises NoFigure when no table gives one."""
    if wood.green_mc is None:
        raise NoFigure(f"No table gives the green moisture of {wood.common}: weigh a sample green and oven dry, or type one in.")
    return wood.green_mc


def wood_doubts(wood: Species) -> Mapping[str, Estimate]:
    """What makes the weight of green wood uncertain: specific gravity and moisture [-]."""
    return {SG: wood.needed(Trait.SG_GREEN), MOISTURE: green_moisture(wood)}


def bark_doubts(wood: Species) -> Mapping[str, Estimate]:
    """What makes the weight of its bark uncertain: volume over the wood's, specific gravity, moisture [-]."""
    return {
        BARK_SHARE: wood.needed(Trait.BARK_SHARE),
        BARK_SG: wood.needed(Trait.BARK_SG),
        BARK_MOISTURE: wood.needed(Trait.BARK_MC),
    }


def log_mass_of(values: Mapping[str, float], wood_m3: float) -> float:
    """Mass of a green log [kg] in one scenario; bark counts where its values are among them."""
    bark = (wood_m3 * values[BARK_SHARE], values[BARK_SG], values[BARK_MOISTURE]) if BARK_SHARE in values else (0.0, 0.0, 0.0)
    return log_mass(wood_m3, values[SG], values[MOISTURE], *bark)


def green_log_mass(wood: Species, wood_m3: float, scenarios: Scenarios, *, bark: bool = True) -> Estimate:
    """Mass of a green log [kg] from its volume inside bark [m3], with the bark its species carries or debarked.

    Raises NoFigure when a figure is missing. The volume is taken as exact here; `logs` adds its own doubt.
    """
    doubts = {**wood_doubts(wood), **(bark_doubts(wood) if bark else {})}
    masses = np.array([log_mass_of(values, wood_m3) for values in scenarios.draws(doubts)])
    basis = Basis(Ground.SOURCE, doubts[SG].basis.key, f"{wood.common}, green{', with bark' if bark else ', without bark'}")
    return summed_up(masses, log_mass_of(likely(doubts), wood_m3), basis)


def piece_mass(wood: Species, green_m3: float, mc: float) -> Estimate:
    """Mass at moisture `mc` of a piece that was `green_m3` when sawn [kg]; the range is that of its specific gravity."""
    gravity = wood.needed(Trait.SG_GREEN)
    low, middle, high = (mass_at(green_m3, sg, mc) for sg in (gravity.low, gravity.likely, gravity.high))
    return Estimate(middle, low, high, gravity.basis, hard_min=0.0)
