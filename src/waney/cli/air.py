"""waney emc: the moisture that wood settles at, in air of one kind or through the year of a place."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View


@answering
def emc(
    temperature: Annotated[str | None, typer.Argument(help='With its unit: "70 F", "21 C".')] = None,
    humidity: Annotated[str | None, typer.Argument(help="Relative humidity in per cent: 65.")] = None,
    wet_bulb: Annotated[str | None, typer.Option(help='Instead of the humidity: a well-aired wet bulb, "62 F".')] = None,
    mc: Annotated[str | None, typer.Option(help="Instead of the humidity: what wood should settle at, in per cent.")] = None,
    state: Annotated[str | None, typer.Option(help="Two letters: CO. Alone: the places of that state.")] = None,
    place: Annotated[str | None, typer.Option(help="A place of that state, from the list: Denver.")] = None,
    rows: Annotated[
        Path | None,
        typer.Option(help="Your own table: month, temperature_c, humidity_pct; 12 rows or hours; or a weather file (EPW)."),
    ] = None,
    month: Annotated[str | None, typer.Option(help="One month alone: october, oct or 10.")] = None,
    indoors: Annotated[str | None, typer.Option(help='A room there: "68 F", or winter, spring, summer, autumn.')] = None,
    highest_humidity: Annotated[str | None, typer.Option(help="Highest that cooling or a dehumidifier leaves there.")] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Moisture that wood settles at: in still air, or month by month under cover outdoors and in a room.

    Say the air, or a place: first the state, then a name from its list. No place stands in for another.
    """
    from waney.cli.files import can_be_written
    from waney.cli.saying import say

    can_be_written(json)
    if temperature is not None:
        _without("an air", state=state, place=place, rows=rows, month=month, indoors=indoors, highest_humidity=highest_humidity)
        from waney.cli.one_air import air_lines, settled_in

        found = settled_in(temperature, humidity, wet_bulb, mc)
        say(found, json, lambda: air_lines(found, units))
        return
    _without("a place", wet_bulb=wet_bulb, mc=mc)
    from waney.cli.place_air import listed, place_lines, place_names, settled_at

    if place is None and rows is None:
        _without("a list of places", month=month, indoors=indoors, highest_humidity=highest_humidity)
        places = listed(state)
        say(places, json, lambda: place_names(places))
        return
    year = settled_at(state, place, rows, month, indoors, highest_humidity)
    say(year, json, lambda: place_lines(year, units))


def _without(what: str, **given: object) -> None:
    """Options that do not go with what was asked. Raises WrittenWrong."""
    for name, value in given.items():
        if value is not None:
            raise WrittenWrong(f"--{name.replace('_', '-')} does not go with {what}; leave it out. See: waney emc --help")
