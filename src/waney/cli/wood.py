"""waney wood: what is known of a wood, figure by figure, and where it comes from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.figures.estimate import Estimate
    from waney.wood.at_moisture import AtMoisture
    from waney.wood.species import Species


@answering
def wood(
    name: Annotated[str, typer.Argument(help="A wood by its common, botanical or other name.")],
    mc: Annotated[str, typer.Option(help="Moisture content for weight and shrinkage, in per cent.")] = "12",
    full: Annotated[bool, typer.Option("--full", help="Say how every range was drawn.")] = False,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Every figure that is known of a wood: likely, its range, and its source; what is not known says "no value".

    A name that more woods bear, or with a slip in it, is answered with those to choose from.
    """
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written
    from waney.cli.saying import say
    from waney.cli.wood_answer import wood_answer
    from waney.units.moisture import parse_mc
    from waney.wood.at_moisture import at_moisture, sawn_green
    from waney.wood.species import species

    can_be_written(json)
    found = species(name)
    at, green = at_moisture(found, parse_mc(mc), SCENARIOS), sawn_green(found, SCENARIOS)
    say(wood_answer(found, at, green), json, lambda: _lines(found, at, green, units, full))


def _lines(found: Species, at: AtMoisture, green: Estimate | None, units: View, full: bool) -> Iterator[str]:
    from waney.cli.wood_words import at_lines, figure_lines, source_lines

    yield f"{found.common} ({found.botanical}), {found.group}"
    if found.synonyms:
        yield f"Also called: {', '.join(found.synonyms)}"
    yield from figure_lines(found, units, full=full)
    yield from at_lines(at, green, units)
    yield from source_lines(found)
    if found.notes:
        yield f"Note: {found.notes}"
