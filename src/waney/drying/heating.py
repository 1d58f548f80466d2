"""Heat treatment: minutes until the core is at 56 °C, in air of a given dry and wet bulb. Never a certificate.

While wood is wet its surface heads for the wet bulb: warmth comes by air and, where the wood is colder than the dew point, by
water that condenses on it. Conduction inside is the product of two exact solutions with a film (Carslaw & Jaeger).

Where the wet bulb is no warmer than the core is to be, wet wood waits at the wet bulb until it has dried: the minutes then lie
between those of wood that gives off no water, and those of wood whose water all leaves by the warmth that the air brings.

ColdAir    the air itself is no warmer than the core is to be
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, exp, pi, sin

from waney.drying.air import AirState, film_resistance
from waney.drying.core_record import CORE_C
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.sources import cited
from waney.wood.density import WATER, density_at
from waney.wood.film import latent_heat
from waney.wood.heat import conductivity, diffusivity, heat_capacity
from waney.wood.limits import fibre_saturation
from waney.wood.shrinkage import volumetric_from_gravity
from waney.wood.vapour import humidity_of_bulbs, saturation_pressure

SPEED = 2.0
"""Air over the wood while it is heated [m/s]: common practice, no source."""
PER_DEGREE = 0.0025
"""Rise of conductivity for a degree [-]: 2 to 3 % for 10 °C, Wood Handbook ch. 4."""
LEAST_OFF, MOST_OFF = 0.80, 1.55
"""How much shorter and longer than this model the published cells are at worst [-]: Wood Handbook Tables 20-4 and 20-8 (seen)."""
TERMS = 60
SOLID_SLOWER = (2.0, 10.0)
"""How many times as long a pile without stickers takes: FPL-RP-607, seen."""


class ColdAir(Problem):
    """Air that is too cold to heat wood to the wanted temperature; or its wet bulb, while the wood is wet."""


@dataclass(frozen=True)
class Bar:
    """A piece to be heated: thickness and width [m], infinite length; basic gravity and moisture [-]; temperature [°C]."""

    thickness_m: float
    width_m: float
    sg_green: float
    mc: float
    start_c: float

    @property
    def conductivity(self) -> float:
        """Across the grain at half way to 70 °C [W/(m K)]."""
        return conductivity(self.sg_green, self.mc).likely * (1.0 + PER_DEGREE * (0.5 * (70.0 + self.start_c) - 24.0))

    @property
    def diffusivity(self) -> float:
        """Thermal diffusivity [m2/s]."""
        density = density_at(self.sg_green, volumetric_from_gravity(self.sg_green), self.mc)
        return diffusivity(self.conductivity, density, heat_capacity(45.0, self.mc))


def wet_film(dry_c: float, wet_c: float, surface_c: float, speed_m_s: float = SPEED) -> float:
    """Film of a wet surface towards the wet bulb [W/(m2 K)]: air and water that condenses or evaporates, by the chord of the
    saturation pressure between the surface and the wet bulb."""
    state = AirState(dry_c, humidity_of_bulbs(dry_c, wet_c), speed_m_s)
    near = surface_c if abs(wet_c - surface_c) > 0.1 else wet_c - 0.1
    slope = (saturation_pressure(wet_c) - saturation_pressure(near)) / (wet_c - near)
    return state.heat_film + latent_heat(wet_c) * slope / film_resistance(state)


def _roots(biot: float) -> list[float]:
    """The first roots of b tan b = Bi, by halving."""
    found = []
    for n in range(TERMS):
        low, high = n * pi, n * pi + pi / 2.0
        for _ in range(60):
            b = 0.5 * (low + high)
            below = (b * sin(b) - biot * cos(b)) * (-1.0) ** n < 0.0
            low, high = (b, high) if below else (low, b)
        found.append(0.5 * (low + high))
    return found


def cold_share(biot: float) -> tuple[tuple[float, float], ...]:
    """Terms (weight, root) of the middle of a sheet that is heated through a film: what is left of the difference is the sum of
    weight · exp(-root² Fo). Source: Carslaw & Jaeger, Conduction of Heat in Solids, 3.11 (memory)."""
    return tuple((2.0 * sin(b) / (b + sin(b) * cos(b)), b) for b in _roots(biot))


def _left(terms: tuple[tuple[float, float], ...], fourier: float) -> float:
    return sum(weight * exp(-b * b * fourier) for weight, b in terms)


def minutes_to_core(bar: Bar, dry_c: float, wet_c: float, core_c: float = CORE_C, speed_m_s: float = SPEED) -> float:
    """Minutes until the core of a wet, stickered piece is at `core_c`.

    Raises ColdAir unless the wet bulb is above `core_c`.
    """
    if wet_c <= core_c:
        raise ColdAir(
            f"A wet bulb of {wet_c:.0f} °C cannot bring a wet core to {core_c:.0f} °C: raise it, or dry the wood first."
        )
    film = wet_film(dry_c, wet_c, 0.5 * (bar.start_c + wet_c), speed_m_s)
    return _conducted(bar, film, wet_c, core_c)


def _conducted(bar: Bar, film: float, around_c: float, core_c: float) -> float:
    """Minutes until the core is at `core_c` while its surface heads for `around_c` through a film [W/(m2 K)]."""
    sheets = [(cold_share(film * half / bar.conductivity), half) for half in (bar.thickness_m / 2.0, bar.width_m / 2.0)]
    wanted = (around_c - core_c) / (around_c - bar.start_c)

    def left(seconds: float) -> float:
        product = 1.0
        for terms, half in sheets:
            product *= _left(terms, bar.diffusivity * seconds / half**2)
        return product

    low, high = 0.0, 60.0
    while left(high) > wanted:
        low, high = high, 2.0 * high
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if left(middle) > wanted else (low, middle)
    return 0.5 * (low + high) / 60.0


def in_solid_pile(stickered: Estimate) -> Estimate:
    """Minutes without stickers, from those with: 2 to 10 times as long (FPL-RP-607, seen); the middle is their geometric mean."""
    low, high = SOLID_SLOWER
    middle = (low * high) ** 0.5
    basis = cited("fpl-gtr-190-20", "without stickers 2 to 10 times as long, FPL-RP-607")
    return Estimate(middle * stickered.likely, low * stickered.low, high * stickered.high, basis, hard_min=0.0)


def core_minutes(bar: Bar, dry_c: float, wet_c: float, core_c: float = CORE_C, speed_m_s: float = SPEED) -> Estimate:
    """The same with the range that holds every published cell [min]: plan by the high end; only a core record proves.

    Where the wet bulb is no warmer than `core_c`: the range of `_once_dried`. Raises ColdAir where the air is not either.
    """
    if wet_c <= core_c:
        return _once_dried(bar, dry_c, wet_c, core_c, speed_m_s)
    likely = minutes_to_core(bar, dry_c, wet_c, core_c, speed_m_s)
    basis = cited(
        "fpl-gtr-190-20", "exact conduction with a wet film; range as wide as its worst error against 124 published cells"
    )
    return Estimate(likely, LEAST_OFF * likely, MOST_OFF * likely, basis, hard_min=0.0)


def _once_dried(bar: Bar, dry_c: float, wet_c: float, core_c: float, speed_m_s: float) -> Estimate:
    """Minutes in air whose wet bulb the core is to get above: it must dry first. Raises ColdAir.

    low: no water leaves, and nothing is cooled by it. likely: at the wet bulb until no water is free, then as if none left. high:
    the same until all water is gone, longer by what the published cells are at worst. Constant drying at the wet bulb: any
    textbook of drying (memory).
    """
    if dry_c <= core_c:
        raise ColdAir(f"Air of {dry_c:.0f} °C never brings a core to {core_c:.0f} °C; make it hotter.")
    film = AirState(dry_c, humidity_of_bulbs(dry_c, wet_c), speed_m_s).heat_film
    bare = _conducted(bar, film, dry_c, core_c)
    free = max(bar.mc - fibre_saturation(wet_c), 0.0)
    soonest, likely, latest = (bare + _at_wet_bulb(bar, film, dry_c, wet_c, water) for water in (0.0, free, bar.mc))
    note = "between wood that gives off no water and wood whose water all leaves at the wet bulb; not measured cell by cell"
    return Estimate(likely, LEAST_OFF * soonest, MOST_OFF * latest, Basis(Ground.DEFAULT, "", note), hard_min=0.0)


def _at_wet_bulb(bar: Bar, film: float, dry_c: float, wet_c: float, water: float) -> float:
    """Minutes in which so much water [of the dry mass] leaves by the warmth that comes through the film [W/(m2 K)]."""
    gone = water * WATER * bar.sg_green
    surface = 2.0 / bar.thickness_m + 2.0 / bar.width_m
    return gone * latent_heat(wet_c) / (film * (dry_c - wet_c) * surface) / 60.0 if gone else 0.0
