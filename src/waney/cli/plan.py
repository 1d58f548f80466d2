"""waney plan: saw plans of a log, compared by what is left after drying and work."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import View


class Patterns(StrEnum):
    """--pattern."""

    THROUGH = "through"
    HALF_TURN = "half-turn"
    CANT = "cant"
    ALL = "all"


@answering
def plan(
    log: Annotated[Path, typer.Argument(help="The log sheet.")],
    mill: Annotated[Path, typer.Option(help="The mill sheet.")],
    wants: Annotated[Path, typer.Option(help="The wants sheet.")],
    pattern: Annotated[Patterns | None, typer.Option(help="Which pattern; else those of the wants sheet.")] = None,
    json: Annotated[Path | None, typer.Option(help="Write the best plan here, with its sheets.")] = None,
    card: Annotated[Path | None, typer.Option(help="Write the height card of the best plan here (PDF).")] = None,
    svg: Annotated[Path | None, typer.Option(help="Write the drawing of the best plan here (SVG).")] = None,
    full: Annotated[bool, typer.Option("--full", help="Settings term by term, and all that is known of every piece.")] = False,
    filled_in: Annotated[bool, typer.Option("--filled-in", help="List what stands in for what nobody typed.")] = False,
    units: Annotated[View, typer.Option(help="Inches and pounds, or millimetres and kilograms.")] = View.INCHES,
) -> None:
    """Saw plans of a log side by side, the one that leaves most money first, with bed heights in the order they are sawn.

    A log that does not fit the mill is answered, with exit code 3: which limit, by how much, what would help, what follows.

    waney plan walnut.toml --mill mill.toml --wants wants.toml --card card.pdf
    """
    from waney.cli.files import log_sheets, read_text
    from waney.cli.offering import Outputs, offer_plans

    sheets = {**log_sheets(log), "mill": read_text(mill), "wants": read_text(wants)}
    named = None if pattern is None else pattern.value
    offer_plans(sheets, named, units, Outputs(json, card, svg), full=full, filled_in=filled_in)
