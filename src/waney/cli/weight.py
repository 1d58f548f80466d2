"""waney weight: what a log weighs green, before anybody lifts it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import View


@answering
def weight(
    log: Annotated[Path, typer.Argument(help="The log sheet.")],
    units: Annotated[View, typer.Option(help="Pounds, or kilograms.")] = View.INCHES,
) -> None:
    """Green weight of a log with its bark: likely, and the range that nine logs in ten keep to.

    waney weight walnut.toml
    """
    from waney.cli.facts import SCENARIOS
    from waney.cli.files import log_sheets
    from waney.cli.views import shop_of
    from waney.logs.from_sheet import measured_of
    from waney.units.direction import Direction
    from waney.units.mass import print_mass

    found = measured_of(log_sheets(log)).weight(SCENARIOS)
    unit = shop_of(units).weight
    low, likely, high = (print_mass(kg, unit, Direction.READ) for kg in (found.low, found.likely, found.high))
    print(f"{likely}, {low} to {high}, with bark; {found.basis}")
    print(f"Lift and haul for {print_mass(found.high, unit, Direction.NEED)}.")
