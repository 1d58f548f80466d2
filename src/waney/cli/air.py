"""waney emc: the moisture that wood settles at in still air."""

from __future__ import annotations

from typing import Annotated

import typer

from waney.cli.app import answering


@answering
def emc(
    temperature: Annotated[str, typer.Argument(help='With its unit: "70 F", "21 C".')],
    humidity: Annotated[float, typer.Argument(help="Relative humidity in per cent: 65.")],
) -> None:
    """Equilibrium moisture content of wood (Wood Handbook, Eq 4-5).

    waney emc "70 F" 65
    """
    from waney.units.moisture import print_mc
    from waney.units.temperature import parse_temperature
    from waney.wood.emc import emc_is_extended, equilibrium_moisture

    celsius, share = parse_temperature(temperature, None), humidity / 100.0
    said = print_mc(equilibrium_moisture(celsius, share))
    mark = " (beyond the printed table)" if emc_is_extended(celsius, share) else ""
    print(f"{said}{mark}; Wood Handbook, FPL-GTR-282, Eq 4-5")
