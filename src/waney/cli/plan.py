"""waney plan: saw plans of a log, compared by what is left after drying and work."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.settled import InYard, log_in, settled_in
from waney.cli.views import PlanJson, Units, View


class Patterns(StrEnum):
    """--pattern."""

    THROUGH = "through"
    HALF_TURN = "half-turn"
    CANT = "cant"
    ALL = "all"


@answering
def plan(
    log: Annotated[Path, typer.Argument(help="The log sheet; with --yard also a log's name.")],
    mill: Annotated[Path | None, typer.Option(help="The mill sheet.")] = None,
    wants: Annotated[Path | None, typer.Option(help="The wants sheet.")] = None,
    yard: InYard = None,
    pattern: Annotated[Patterns | None, typer.Option(help="Which pattern; else those of the wants sheet.")] = None,
    json: PlanJson = None,
    card: Annotated[Path | None, typer.Option(help="Write the height card of the best plan here (PDF).")] = None,
    svg: Annotated[Path | None, typer.Option(help="Write the drawing of the best plan here (SVG).")] = None,
    full: Annotated[bool, typer.Option("--full", help="Settings term by term, and all that is known of every piece.")] = False,
    filled_in: Annotated[bool, typer.Option("--filled-in", help="List what stands in for what nobody typed.")] = False,
    pith_at: Annotated[
        str | None, typer.Option(metavar="BUTT,TOP", help="Pith heights read above the bed: count again for the log as it lies.")
    ] = None,
    units: Units = View.INCHES,
) -> None:
    """Saw plans of a log side by side, the one that leaves most money first, with bed heights in the order they are sawn.

    A log that does not fit the mill is answered, with exit code 3: which limit, by how much, what would help, what follows.
    Counts in the wants sheet (at least or at most so many) are kept by through-and-through alone; then it is the only pattern.

    On the bed, before the first cut: the same words once more, and the pith heights read at the butt and at the top end. Every
    height is counted again, and the old heights and laying the log again are set beside it.

    With --yard a log goes by its name, as it was measured last; nothing is written into the book.
    """
    from waney.cli.files import can_be_written

    can_be_written(json, card, svg)
    settled = settled_in(yard, {"mill": mill, "wants": wants})
    for needed in ("mill", "wants"):
        if needed not in settled:
            raise WrittenWrong(f"Name the {needed} sheet with --{needed}, or a yard that has settled one with --yard.")
    sheets = {**log_in(yard, log), "mill": settled["mill"], "wants": settled["wants"]}
    from waney.cli.offering import Outputs, offer_plans, read_at

    named = None if pattern is None else pattern.value
    outputs = Outputs((json,) if json else (), card, svg)
    offer_plans(sheets, named, units, outputs, read_at(pith_at), full=full, filled_in=filled_in)
