"""waney weight: what logs weigh green, before anybody lifts or hauls them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers import Weighed, Weights
    from waney.figures.estimate import Estimate


@answering
def weight(
    logs: Annotated[list[Path], typer.Argument(metavar="log...", help="One log sheet, or all that go on one trailer.")],
    bears: Annotated[str | None, typer.Option(help='What the trailer or the bed bears: "3500 lb", "1600 kg".')] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Green weight of logs with their bark and without: likely, and the range that nine in ten keep to.

    The high end of a load is when all its logs are heavy at once.
    """
    from waney.cli.files import can_be_written
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.units.mass import parse_mass

    can_be_written(json)
    bears_kg = None if bears is None else parse_mass(bears)
    with working("Weighing"):
        found = _Load(tuple(_weighed(path) for path in logs), bears_kg)
    say(_answer(found), json, lambda: _lines(found, units))


@dataclass(frozen=True)
class _Log:
    name: str
    wood: str
    with_bark: Estimate | None
    without: Estimate | None
    why: str
    """why a weight is not known"""


@dataclass(frozen=True)
class _Load:
    logs: tuple[_Log, ...]
    bears_kg: float | None

    @property
    def with_bark(self) -> Estimate | None:
        return _together([one.with_bark for one in self.logs])

    @property
    def without(self) -> Estimate | None:
        return _together([one.without for one in self.logs])

    @property
    def borne(self) -> bool | None:
        load = self.with_bark
        return None if load is None or self.bears_kg is None else load.high <= self.bears_kg


def _together(each: list[Estimate | None]) -> Estimate | None:
    from waney.logs.weight import load_of

    known = [one for one in each if one is not None]
    return load_of(known) if len(known) == len(each) else None


def _weighed(path: Path) -> _Log:
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import log_sheets
    from waney.logs.from_sheet import measured_of
    from waney.wood.species import NoFigure

    measured = measured_of(log_sheets(path))
    shapes = measured.shapes(SCENARIOS)
    found: dict[bool, Estimate | None] = {}
    why = ""
    for bark in (True, False):
        try:
            found[bark] = measured.weight(SCENARIOS, shapes, bark=bark)
        except NoFigure as missing:
            found[bark], why = None, why or str(missing)
    return _Log(measured.log.name or path.stem, measured.wood.common, found[True], found[False], why)


def _answer(found: _Load) -> Weights:
    from waney.cli.answers import Weights, range_of

    logs = tuple(_one(log) for log in found.logs)
    return Weights(logs, range_of(found.with_bark), range_of(found.without), found.bears_kg, found.borne)


def _one(log: _Log) -> Weighed:
    from waney.cli.answers import Weighed, range_of

    return Weighed(log.name, log.wood, range_of(log.with_bark), range_of(log.without), log.why)


def _lines(found: _Load, units: View) -> Iterator[str]:
    from waney.cli.ranges import weight

    for log in found.logs:
        yield f"{log.name}: {log.wood}, green"
        yield f"  with bark: {weight(log.with_bark, units)}"
        yield f"  without bark: {weight(log.without, units)}"
        known = log.with_bark or log.without
        yield from (f"  {words}" for words in (log.why, f"from {known.basis}" if known else "") if words)
    if len(found.logs) > 1:
        yield f"{len(found.logs)} logs together, with bark: {weight(found.with_bark, units)}"
        yield f"  without bark: {weight(found.without, units)}"
    yield from _lift_for(found, units)


def _lift_for(found: _Load, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of
    from waney.papers.cautions import cautions

    shop, load = shop_of(units), found.with_bark
    if load is None:
        yield "Not known with bark: take no lift or trailer to be strong enough until it has been weighed."
    else:
        yield f"Lift and haul for {shop.heavy(load.high)}."
    if found.bears_kg is not None and found.borne is not None:
        yield f"That is {'within' if found.borne else 'over'} the {shop.bears(found.bears_kg)} that you said it bears."
    yield from (caution.sentence for caution in cautions("fetching"))
