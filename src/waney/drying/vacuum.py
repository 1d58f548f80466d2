"""Vacuum drying: continuous with heated plates, and cyclic (warm air, then vacuum).

The surface is at peace with h = p_v / p_sat(T): p_v is the chamber's pressure once its air is pumped out. No air, no film; the
heat that gets in caps what evaporates. Where vapour inside presses harder than the chamber it flows out along the grain.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from waney.drying.air import DAY, AirState, NoAir, air_steps, joined
from waney.drying.board import Drying
from waney.drying.kernel.records import AirSteps
from waney.figures.problem import OutOfRange
from waney.wood.diffusion import GAS, PERMEABILITY_M2, WATER_MOLAR
from waney.wood.vapour import STANDARD_PRESSURE, ZERO_C, saturation_pressure

VISCOSITY = 1.05e-5
"""Of water vapour near 50 °C [Pa s] (memory of steam tables)."""
PLATE_FILM = 40.0
"""Heat from a plate to the face against it [W/(m2 K)], through stickers, roughness and thin vapour: a guess, no source."""
LEAST_PA, MOST_PA = 1000.0, STANDARD_PRESSURE
MINUTES = 10.0
"""Intervals of a vacuum run [min]: the piece's temperature is followed from one to the next."""


class Permeability(NamedTuple):
    """To vapour along the grain [m2]: least, likely, most."""

    low: float
    likely: float
    high: float


PERMEABLE, MODERATE, REFRACTORY = (Permeability(*PERMEABILITY_M2[name]) for name in ("permeable", "moderate", "refractory"))


TYLOSES = frozenset(
    {"oak_white", "oak_bur", "oak_chestnut", "oak_swamp_white", "oak_post", "oak_overcup", "oak_european", "locust_black"}
)
"""Woods whose heartwood vessels are plugged (Wood Handbook ch. 2, memory)."""
OPEN_VESSELS = frozenset({"oak_northern_red", "oak_black", "oak_scarlet", "oak_pin", "oak_southern_red", "oak_cherrybark"})
"""Woods whose heartwood vessels stay open (memory)."""


def permeability_of(species_id: str, *, sapwood: bool) -> Permeability:
    """What to expect along the grain of a wood [m2]: sapwood is permeable, heartwood moderate unless it is named above."""
    if sapwood or species_id in OPEN_VESSELS:
        return PERMEABLE
    return REFRACTORY if species_id in TYLOSES else MODERATE


def seep(permeability_m2: float, length_m: float, temperature_c: float) -> float:
    """Coefficient of vapour flow out of both ends, per squared pressure [kg/(m3 s Pa2)]: 1.5 κ M_w / (µ R T (length/2)²).

    Darcy's law for an ideal gas that is set free evenly along the piece; the mean of the squared pressures inside rules.
    """
    if length_m <= 0.0:
        raise OutOfRange("Length", length_m, 0.01, 20.0, "m", "Flow along the grain")
    return 1.5 * permeability_m2 * WATER_MOLAR / (VISCOSITY * GAS * (temperature_c + ZERO_C) * (length_m / 2.0) ** 2)


def with_ends(piece: Drying, permeability_m2: float, length_m: float, temperature_c: float) -> Drying:
    """The piece with vapour flowing out along its grain; density turns kilograms into moisture in the kernel."""
    return replace(piece, seep=seep(permeability_m2, length_m, temperature_c))


@dataclass(frozen=True)
class Plates:
    """A vacuum chamber with heated plates: temperature of the plates [°C], pressure [Pa], air left in it as a share of the
    pressure [-], heat film to each face [W/(m2 K)]."""

    plate_c: float
    pressure_pa: float
    air_share: float = 0.0
    film_w: float = PLATE_FILM

    def __post_init__(self) -> None:
        if not LEAST_PA <= self.pressure_pa <= MOST_PA:
            raise OutOfRange("Chamber pressure", self.pressure_pa, LEAST_PA, MOST_PA, "Pa", "The vacuum model")
        if not 0.0 <= self.air_share < 1.0 or self.film_w <= 0.0:
            raise NoAir(f"{self}: the share of air lies between 0 and 1, and some heat must reach the wood.")

    @property
    def vapour_pa(self) -> float:
        """Pressure of the vapour [Pa]."""
        return self.pressure_pa * (1.0 - self.air_share)


def plate_steps(plates: Plates, days: float, minutes: float = MINUTES) -> AirSteps:
    """The chamber as the kernel takes it: no film in pure vapour, else that of still air; heat from the plates."""
    count = max(int(np.ceil(days * DAY / (minutes * 60.0) - 1e-9)), 1)
    state = AirState(plates.plate_c, min(plates.vapour_pa / saturation_pressure(plates.plate_c), 1.0), 0.0, plates.pressure_pa)
    one = air_steps([(minutes * 60.0, state)])
    resistance = 0.0 if plates.air_share == 0.0 else float(one.resistance[0])
    numbers = (minutes * 60.0, plates.vapour_pa, resistance, plates.film_w, plates.plate_c, plates.pressure_pa)
    return AirSteps(*(np.full(count, number) for number in numbers))


RADIO_FILM_W = (200.0, 40.0, 1000.0)
"""Heat that a generator sets free in the wood for each kelvin it lacks of where it is held, by its faces [W/(m2 K)]: likely,
least (no more than plates bring), most (never short of heat). A guess, no source: no figures of such a kiln were read."""


@dataclass(frozen=True)
class Radio:
    """A vacuum chamber in which radio frequency heats the wood from inside: temperature at which the wood is held [°C], pressure
    [Pa], air left in it as a share of the pressure [-]."""

    wood_c: float
    pressure_pa: float
    air_share: float = 0.0

    def __post_init__(self) -> None:
        self.with_heat(RADIO_FILM_W[0])

    def with_heat(self, film_w: float) -> Plates:
        """As plates of that temperature that bring so much heat: wood has one temperature all through here, so that it does not
        matter where the heat begins. Raises OutOfRange, NoAir."""
        return Plates(self.wood_c, self.pressure_pa, self.air_share, film_w)


@dataclass(frozen=True)
class Cycle:
    """Warm moist air for some hours, then vacuum without heat: air while warming, hours of both, pressure [Pa] in vacuum."""

    warming: AirState
    warm_h: float
    vacuum_pa: float
    vacuum_h: float


WALL_FILM = 2.0
"""Heat that reaches wood in vacuum from warm walls by radiation [W/(m2 K)], inside a stack: a guess, no source."""


def cycle_steps(cycle: Cycle, days: float, minutes: float = MINUTES) -> AirSteps:
    """Cycles one after the other until `days` are over."""
    seconds = minutes * 60.0
    warm = air_steps([(seconds, cycle.warming)] * max(round(cycle.warm_h * 60.0 / minutes), 1))
    vacuum = plate_steps(Plates(cycle.warming.temperature_c, cycle.vacuum_pa, 0.0, WALL_FILM), cycle.vacuum_h / 24.0, minutes)
    each = (warm.seconds.sum() + vacuum.seconds.sum()) / DAY
    return joined([warm, vacuum] * max(int(np.ceil(days / each)), 1))
