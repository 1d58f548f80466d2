"""waney scale: a log's volume and every log scale side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import View

if TYPE_CHECKING:
    from waney.sawing.from_sheets import Measured


@answering
def scale(
    log: Annotated[Path, typer.Argument(help="The log sheet.")],
    units: Annotated[View, typer.Option(help="Cubic feet, or cubic metres.")] = View.INCHES,
) -> None:
    """Volume of a log with its range, all log scales beside it, and the measurement that would help most.

    waney scale walnut.toml
    """
    from waney.cli.files import log_sheets
    from waney.sawing.from_sheets import measured_of

    measured = measured_of(log_sheets(log))
    print(f"{measured.log.name or 'The log'}: {measured.wood.common}")
    _volume(measured, units)
    _scales(measured)
    for remark in measured.remarks:
        print(f"Note: {remark}")


def _volume(measured: Measured, units: View) -> None:
    from waney.cli.facts import SCENARIOS
    from waney.units.direction import Direction
    from waney.units.volume import CUBIC_FOOT, CUBIC_METRE, print_volume

    unit = CUBIC_FOOT if units is View.INCHES else CUBIC_METRE
    found = measured.volume(SCENARIOS)
    low, likely, high = (print_volume(v, unit, Direction.READ) for v in (found.low, found.likely, found.high))
    print(f"Wood inside bark: {likely}, {low} to {high}")
    helps = measured.helps_most(SCENARIOS)
    if helps:
        print(f"One more measurement that would help most: {helps}.")


def _scales(measured: Measured) -> None:
    from waney.logs.rules import hoppus, mid_girth, scales_of, scaling_diameter

    shape = measured.shape
    for found in scales_of(scaling_diameter(shape), shape.length_m):
        rounding = f"{found.diameter_in} in ({found.diameter_rounding}), {found.length_ft} ft"
        print(f"{found.rule}: {found.board_feet} board feet, from {rounding}")
    print(f"Hoppus: {hoppus(mid_girth(shape, bark=False), shape.length_m).feet:.1f} Hoppus feet, under bark")
