"""What a person chose to read in, and where the answer goes: --units and --json, the same for every command."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from waney.papers.words import Shop
    from waney.units.quantity import Unit
    from waney.units.temperature import Degree


class View(StrEnum):
    """--units."""

    INCHES = "in"
    MILLIMETRES = "mm"


Units = Annotated[View, typer.Option("--units", help="Inches, pounds and °F, or millimetres, kilograms and °C.")]
Json = Annotated[
    Path | None,
    typer.Option("--json", metavar="<path|->", help="Write the answer as JSON, in SI; - writes nothing else to the output."),
]
PlanJson = Annotated[
    Path | None,
    typer.Option("--json", metavar="<path|->", help="Write the best plan with its sheets as JSON, in SI; - writes nothing else."),
]


def shop_of(view: View) -> Shop:
    """How papers are written for a view."""
    from waney.papers.words import INCHES, METRIC

    return INCHES if view is View.INCHES else METRIC


def volume_unit(view: View) -> Unit:
    """The unit of volumes of wood."""
    from waney.units.volume import CUBIC_FOOT, CUBIC_METRE

    return CUBIC_FOOT if view is View.INCHES else CUBIC_METRE


def degree_of(view: View) -> Degree:
    """The degrees of temperatures."""
    from waney.units.temperature import Degree

    return Degree.FAHRENHEIT if view is View.INCHES else Degree.CELSIUS
