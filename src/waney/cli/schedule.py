"""waney schedule: the kiln schedule of a wood, step by step, with days and water."""

from __future__ import annotations

from typing import Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import Json, Units, View


@answering
def schedule(
    name: Annotated[str, typer.Argument(metavar="wood", help="A wood by its common, botanical or other name.")],
    thickness: Annotated[str, typer.Argument(help='As sawn, green: 4/4, 8/4, "2 1/8 in", "54 mm".')],
    mc: Annotated[str | None, typer.Option(help="Moisture it goes in with, in per cent; green when left out.")] = None,
    to: Annotated[str, typer.Option(help="Moisture it is dried to, in per cent.")] = "7",
    condition: Annotated[float, typer.Option(metavar="<hours>", help="Hours of conditioning at the end.")] = 0.0,
    code: Annotated[str | None, typer.Option(help="Another schedule than the wood's own: T3-A1.")] = None,
    width: Annotated[str | None, typer.Option(help="Of its widest pieces; with it, open edges of narrow ones count.")] = None,
    length: Annotated[str | None, typer.Option(help="Of its longest pieces; for bare ends.")] = None,
    edges: Annotated[str, typer.Option(help="open (sawn, or the bark is off), bark (it was left on).")] = "open",
    ends: Annotated[str, typer.Option(help="coated, bare.")] = "coated",
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Kiln schedule of a wood and thickness: dry bulb, depression, humidity and EMC of each step, days, water, drying stress.

    Steps go by the mean moisture of the wetter half of your sample boards, never by days. Codes are from memory of the book.
    """
    from waney.cli.files import can_be_written
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.cli.schedule_answer import Asked, schedule_answer
    from waney.cli.schedule_words import schedule_lines
    from waney.drying.sawn import sawn_m
    from waney.drying.sides_told import sides_said
    from waney.units.length import parse_length
    from waney.units.moisture import parse_mc
    from waney.units.thickness import parse_thickness
    from waney.wood.species import species

    can_be_written(json)
    wood, sawn = species(name), sawn_m(parse_thickness(thickness, None))
    across, along = (None if size is None else parse_length(size, None) for size in (width, length))
    sides = sides_said(edges, ends, across, along)
    asked = Asked(wood, sawn, None if mc is None else parse_mc(mc), parse_mc(to), condition, code, sides)
    with working("Drying"):
        found = schedule_answer(asked)
    say(found, json, lambda: schedule_lines(found, units))
