"""waney crosscut: one long log or two short ones, before the stem is cut."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers import LengthCut, WaysToCut, WayToCut
    from waney.trade.crosscut import Compared, CutLog, CutWay


@answering
def crosscut(
    stem: Annotated[Path, typer.Argument(help="The stem, as a log sheet.")],
    way: Annotated[
        list[str], typer.Option(help='Lengths from the butt, trim counted in: "16 ft", "8 ft + 8 ft". Two or more ways.')
    ],
    mill: Annotated[Path | None, typer.Option(help="The mill sheet, for quick plans.")] = None,
    wants: Annotated[
        Path | None, typer.Option(help="The wants sheet, for quick plans; with prices, ways are compared in money.")
    ] = None,
    yard: Annotated[
        str | None, typer.Option(metavar="<folder|address>", help="A yard, for the mill and wants sheets of its settings.")
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Ways to cut a stem to length side by side: weight, wood and scale of each log, and money where the wants have prices."""
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written, read_text
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.cli.settled import settled_in
    from waney.trade.crosscut import compared
    from waney.units.length import parse_length
    from waney.yard.services.worth import shop_sheets

    can_be_written(json)
    if yard is None and (mill is None) != (wants is None):
        raise WrittenWrong("Quick plans need both sheets: add --mill and --wants.")
    ways = [[parse_length(each, None) for each in one.split("+")] for one in way]
    sheets = shop_sheets(settled_in(yard, {"mill": mill, "wants": wants}))
    with working("Cutting the stem in thought"):
        found = compared(read_text(stem), ways, SCENARIOS, sheets)
    say(_answer(found), json, lambda: _lines(found, units))


def _answer(found: Compared) -> WaysToCut:
    from waney.cli.answers import WaysToCut, ranged

    return WaysToCut(found.answer, found.in_money, ranged(found.gain), tuple(_way(way) for way in found.ways))


def _way(way: CutWay) -> WayToCut:
    from waney.cli.answers import WayToCut, range_of, ranged

    return WayToCut(way.lengths_m, tuple(_log(log) for log in way.logs), ranged(way.board_feet), range_of(way.cents), way.ahead)


def _log(log: CutLog) -> LengthCut:
    from waney.cli.answers import LengthCut, range_of, ranged

    return LengthCut(
        log.from_m, log.to_m, range_of(log.weight_kg), ranged(log.wood_m3), ranged(log.board_feet), range_of(log.cents)
    )


def _lines(found: Compared, units: View) -> Iterator[str]:
    from waney.cli.ranges import volume, weight
    from waney.papers.cautions import cautions
    from waney.trade.crosscut import lengths_said

    yield found.answer
    for way in found.ways:
        feet = way.board_feet
        yield f"{lengths_said(way)}: {feet.likely:.0f} board feet (International 1/4-inch), {feet.low:.0f} to {feet.high:.0f}"
        for number, log in enumerate(way.logs, 1):
            yield f"  log {number} from the butt: {weight(log.weight_kg, units)}; {volume(log.wood_m3, units)}"
    yield from (caution.sentence for caution in cautions("fetching"))
