"""What a person chose to read in: inches and pounds, or millimetres and kilograms."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from waney.papers.words import Shop
    from waney.units.length import Grain


class View(StrEnum):
    """--units."""

    INCHES = "in"
    MILLIMETRES = "mm"


def shop_of(view: View) -> Shop:
    """How papers are written for a view."""
    from waney.papers.words import INCHES, METRIC

    return INCHES if view is View.INCHES else METRIC


def grain_of(view: View) -> Grain:
    """The grain in which sizes are printed."""
    from waney.units.length import Grain

    return Grain.SIXTEENTH_INCH if view is View.INCHES else Grain.MM
