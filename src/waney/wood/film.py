"""The film of air on a drying surface: how heat and vapour cross it, from the speed and pressure of the air."""

from __future__ import annotations

from math import exp, log, sqrt

from waney.figures.problem import OutOfRange
from waney.wood.vapour import RATIO_OF_MASSES, STANDARD_PRESSURE

FACE_M = 0.15
"""Length of wood that the air passes before its film starts anew [m]: a board of six inches. Ours, no source."""
STILL = 3.0
"""Heat film in still air [W/(m2 K)]: natural convection from a flat face, a few degrees apart (memory)."""
AIR_CAPACITY = 1010.0
"""Heat capacity of air [J/(kg K)]."""
LEWIS = 0.87
"""Lewis number of vapour in air [-]: thermal over vapour diffusivity (memory, 0.85 to 0.9)."""
_CONDUCTIVITY, _VISCOSITY, _PRANDTL = 0.0267, 1.65e-5, 0.71
"""Air near 35 °C: W/(m K), m2/s at standard pressure, - (memory of engineering tables)."""


def heat_film(speed_m_s: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Heat film coefficient of air along a face [W/(m2 K)].

    Args: speed_m_s: 0 to 20 [m/s]; pressure_pa: total pressure [Pa].
    Source: laminar flow along a plate, Nu = 0.664 Re^0.5 Pr^(1/3) (Incropera & DeWitt, memory), on top of which still air is
        laid by the root of the sum of squares. Grows with the root of speed, as the notes on kilns say (0.5 to 0.8).
    """
    if not 0.0 <= speed_m_s <= 20.0:
        raise OutOfRange("Air speed", speed_m_s, 0.0, 20.0, "m/s", "The film along a plate")
    reynolds = speed_m_s * FACE_M / _VISCOSITY * pressure_pa / STANDARD_PRESSURE
    driven = 0.664 * sqrt(reynolds) * _PRANDTL ** (1.0 / 3.0) * _CONDUCTIVITY / FACE_M
    still = STILL * sqrt(pressure_pa / STANDARD_PRESSURE)
    return sqrt(driven**2 + still**2)


def through_stack(
    film_w: float, speed_m_s: float, stack_m: float, sticker_m: float, pressure_pa: float = STANDARD_PRESSURE
) -> float:
    """Heat film as the mean board of a stack has it [W/(m2 K)]: air that crosses the stack cools and dampens on its way.

    Args: film_w: of a single face; speed_m_s: between the layers; stack_m: width that the air crosses, 0 for a board alone;
        sticker_m: height of the gap between two faces.
    film · (1 - exp(-N)) / N with N = 2 film · width / (density · capacity · speed · gap): the balance of heat along the gap.
    Vapour follows by the same number, so that the wet bulb stays what it is. No air moves: nothing is carried off.
    """
    if stack_m <= 0.0:
        return film_w
    density = 1.2 * pressure_pa / STANDARD_PRESSURE
    units = 2.0 * film_w * stack_m / (density * AIR_CAPACITY * max(speed_m_s, 1e-6) * sticker_m)
    return film_w * (1.0 - exp(-units)) / units


def mean_air_pressure(surface_vapour_pa: float, vapour_pa: float, pressure_pa: float) -> float:
    """Logarithmic mean of the air's own pressure between surface and room [Pa]; 0 where no air is left at one of them.

    Source: Stefan flow through a film of still gas (Bird, Stewart & Lightfoot, memory).
    """
    at_surface, in_room = pressure_pa - surface_vapour_pa, pressure_pa - vapour_pa
    if at_surface <= 0.0 or in_room <= 0.0:
        return 0.0
    if abs(at_surface - in_room) < 1e-6 * pressure_pa:
        return 0.5 * (at_surface + in_room)
    return (at_surface - in_room) / log(at_surface / in_room)


def vapour_film(heat_film_w: float, air_pressure_pa: float) -> float:
    """Vapour film coefficient [kg/(m2 s Pa)] from the heat film and the mean pressure of the air in it.

    0.622 · heat film / (capacity of air · Le^(2/3) · p_air): the analogy of Chilton and Colburn (memory). At standard pressure a
    wet surface then settles at the wet bulb. Raises OutOfRange for a film without air, which has no resistance.
    """
    if air_pressure_pa <= 0.0:
        raise OutOfRange("Pressure of air in the film", air_pressure_pa, 1.0, STANDARD_PRESSURE, "Pa", "A film")
    return float(RATIO_OF_MASSES * heat_film_w / (AIR_CAPACITY * LEWIS ** (2.0 / 3.0) * air_pressure_pa))


def latent_heat(temperature_c: float) -> float:
    """Heat to turn a kilogram of free water into vapour [J/kg]: 2501 - 2.36 T kJ/kg, within 0.3 % from 0 to 80 °C.

    Source: `tests/published/water_saturation.csv` (IAPWS-IF97).
    >>> round(latent_heat(40.0) / 1000)      # 2406 kJ/kg printed
    2407
    """
    return 2.501e6 - 2360.0 * temperature_c
