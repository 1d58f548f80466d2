"""waney scale: a log's volume and every log scale side by side."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.settled import InYard, log_in
from waney.cli.views import Json, Units, View
from waney.units.share import print_share

if TYPE_CHECKING:
    from waney.cli.answers import RuleScale, Scaled
    from waney.logs.rules import LogScale
    from waney.logs.scaled import ScaledLog


@answering
def scale(
    log: Annotated[Path, typer.Argument(help="The log sheet; with --yard also a log's name.")],
    yard: InYard = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Volume of a log with its range, all log scales beside it, and the measurement that would help most.

    A log that is only half measured is answered with a wider range.
    """
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.logs.from_sheet import measured_of
    from waney.logs.scaled import scaled

    can_be_written(json)
    with working("Scaling the log, and trying what else could be measured"):
        found = scaled(measured_of(log_in(yard, log)), SCENARIOS)
    say(_answer(found), json, lambda: _lines(found, units))


def _answer(found: ScaledLog) -> Scaled:
    from waney.cli.answers import Measuring, Scaled, range_of, ranged

    one = found.next_measurement
    return Scaled(
        log=found.name,
        wood=found.wood,
        length_m=found.length_m,
        small_end_m=found.small_end_m,
        volume_m3=ranged(found.volume_m3),
        smalian_m3=found.formulas.smalian_m3,
        huber_m3=found.formulas.huber_m3,
        newton_m3=found.formulas.newton_m3,
        scales=tuple(_rule(one) for one in (*found.nearest, *found.down)),
        hoppus_m3=found.hoppus.volume_m3,
        hoppus_over_bark_m3=found.hoppus_over_bark.volume_m3,
        with_bark_kg=range_of(found.with_bark_kg),
        without_bark_kg=range_of(found.without_bark_kg),
        measure_next=None if one is None else Measuring(one.what, one.width_now_m3, one.width_then_m3, one.saved),
        remarks=found.remarks,
        assumed=found.assumed,
    )


def _rule(one: LogScale) -> RuleScale:
    from waney.cli.answers import RuleScale

    return RuleScale(str(one.rule), one.board_feet, one.diameter_in, str(one.diameter_rounding), one.length_ft)


def _lines(found: ScaledLog, units: View) -> Iterator[str]:
    from waney.cli.ranges import weight

    yield f"{found.name}: {found.wood}"
    yield from _volumes(found, units)
    yield from _rules(found.nearest)
    yield from _rules(found.down)
    yield f"Hoppus: {found.hoppus.feet:.1f} Hoppus feet inside bark, {found.hoppus_over_bark.feet:.1f} over bark"
    yield f"Green weight with bark: {weight(found.with_bark_kg, units)}"
    yield f"Green weight without bark: {weight(found.without_bark_kg, units)}"
    if found.next_measurement is not None:
        one = found.next_measurement
        yield f"One more measurement that would help most: {one.what}; it narrows the volume's range by {print_share(one.saved)}."
    yield from (f"Note: {line}" for line in (*found.remarks, *found.assumed))


def _volumes(found: ScaledLog, units: View) -> Iterator[str]:
    from waney.cli.ranges import one_volume, volume

    by = found.formulas
    yield f"Wood inside bark: {volume(found.volume_m3, units)}"
    for name, value in (("Smalian", by.smalian_m3), ("Huber", by.huber_m3), ("Newton", by.newton_m3)):
        yield f"  by {name}: {one_volume(value, units)}"


def _rules(scales: tuple[LogScale, ...]) -> Iterator[str]:
    yield f"Diameter {scales[0].diameter_in} in ({scales[0].diameter_rounding}), {scales[0].length_ft} ft:"
    for found in scales:
        yield f"  {found.rule}: {found.board_feet} board feet"
