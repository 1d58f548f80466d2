"""One air and the moisture that wood settles at in it; which of the two is asked for is left out."""

from __future__ import annotations

from collections.abc import Iterator

from waney.cli.answers import Emc, Settled
from waney.cli.app import WrittenWrong
from waney.cli.ranges import degrees
from waney.cli.views import View
from waney.figures.sources import cited, source
from waney.units.moisture import parse_mc, print_mc
from waney.units.temperature import parse_temperature
from waney.wood.emc import emc_is_extended, equilibrium_moisture, humidity_for
from waney.wood.room_told import share_of
from waney.wood.vapour import humidity_of_bulbs

BEYOND = "beyond the printed table: the equation is continued there"


def settled_in(temperature: str, humidity: str | None, wet_bulb: str | None, mc: str | None) -> Emc:
    """The air from what was written of it. Raises WrittenWrong unless one of the three is given alone."""
    if sum(one is not None for one in (humidity, wet_bulb, mc)) != 1:
        raise WrittenWrong('Beside the temperature write one of: the humidity in per cent, --wet-bulb "62 F", or --mc 8.')
    celsius = parse_temperature(temperature)
    if humidity is not None:
        share = share_of(humidity)
    elif wet_bulb is not None:
        share = humidity_of_bulbs(celsius, parse_temperature(wet_bulb))
    else:
        share = humidity_for(celsius, parse_mc(mc or ""))
    return Emc(None, (settled(None, celsius, share),), None, None, cited("fpl-gtr-282", "Eq 4-5"))


def settled(month: int | None, celsius: float, humidity: float) -> Settled:
    """Air and what wood settles at in it, without a room."""
    beyond = emc_is_extended(celsius, humidity)
    return Settled(month, celsius, humidity, equilibrium_moisture(celsius, humidity), beyond, None)


def air_lines(found: Emc, view: View) -> Iterator[str]:
    """One line, and the source."""
    (air,) = found.airs
    yield f"{print_mc(air.emc)} in still air of {degrees(air.temperature_c, view)} and {print_mc(air.humidity)} humidity"
    if air.beyond_table:
        yield f"  {BEYOND}"
    yield f"  Eq 4-5; {source(found.basis.key).title}, {source(found.basis.key).year}"
