"""waney scale: a log's volume and every log scale side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import View

if TYPE_CHECKING:
    from waney.figures.estimate import Estimate
    from waney.logs.rules import LogScale
    from waney.logs.scaled import ScaledLog


@answering
def scale(
    log: Annotated[Path, typer.Argument(help="The log sheet.")],
    units: Annotated[View, typer.Option(help="Cubic feet and pounds, or cubic metres and kilograms.")] = View.INCHES,
) -> None:
    """Volume of a log with its range, all log scales beside it, and the measurement that would help most.

    waney scale walnut.toml
    """
    from waney.cli.facts import SCENARIOS
    from waney.cli.files import log_sheets
    from waney.logs.from_sheet import measured_of
    from waney.logs.scaled import scaled

    found = scaled(measured_of(log_sheets(log)), SCENARIOS)
    print(f"{found.name}: {found.wood}")
    _volumes(found, units)
    _rules(found.nearest)
    _rules(found.down)
    print(f"Hoppus: {found.hoppus.feet:.1f} Hoppus feet inside bark, {found.hoppus_over_bark.feet:.1f} over bark")
    _weight("with bark", found.with_bark_kg, units)
    _weight("without bark", found.without_bark_kg, units)
    if found.next_measurement is not None:
        print(f"One more measurement that would help most: {found.next_measurement.what}.")
    for line in (*found.remarks, *found.assumed):
        print(f"Note: {line}")


def _volumes(found: ScaledLog, units: View) -> None:
    from waney.units.direction import Direction
    from waney.units.volume import CUBIC_FOOT, CUBIC_METRE, print_volume

    unit = CUBIC_FOOT if units is View.INCHES else CUBIC_METRE
    volume, by = found.volume_m3, found.formulas
    low, likely, high = (print_volume(v, unit, Direction.READ) for v in (volume.low, volume.likely, volume.high))
    print(f"Wood inside bark: {likely}, {low} to {high}")
    for name, value in (("Smalian", by.smalian_m3), ("Huber", by.huber_m3), ("Newton", by.newton_m3)):
        print(f"  by {name}: {print_volume(value, unit, Direction.READ)}")


def _rules(scales: tuple[LogScale, ...]) -> None:
    print(f"Diameter {scales[0].diameter_in} in ({scales[0].diameter_rounding}), {scales[0].length_ft} ft:")
    for found in scales:
        print(f"  {found.rule}: {found.board_feet} board feet")


def _weight(what: str, weight: Estimate | None, units: View) -> None:
    from waney.cli.views import shop_of
    from waney.units.direction import Direction
    from waney.units.mass import print_mass

    if weight is None:
        print(f"Green weight {what}: not known")
        return
    unit = shop_of(units).weight
    low, likely, high = (print_mass(kg, unit, Direction.READ) for kg in (weight.low, weight.likely, weight.high))
    print(f"Green weight {what}: {likely}, {low} to {high}")
