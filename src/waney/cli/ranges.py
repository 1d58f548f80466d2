"""Ranges in words: the likely figure, and from where to where nine in ten lie."""

from __future__ import annotations

import re
from functools import partial

from waney.cli.answers import Range
from waney.cli.views import View, degree_of, shop_of, volume_unit
from waney.figures.estimate import Estimate
from waney.papers.ranges import spread
from waney.papers.words import exact
from waney.units.direction import Direction
from waney.units.mass import print_mass
from waney.units.moisture import print_mc
from waney.units.temperature import print_temperature
from waney.units.volume import print_volume

_METRES = re.compile(r"(?<![\d.])(\d+\.\d+|\d+) m\b")


def volume(estimate: Estimate | None, view: View) -> str:
    """A volume of wood with its range."""
    return spread(estimate, partial(print_volume, unit=volume_unit(view), direction=Direction.READ))


def one_volume(volume_m3: float, view: View) -> str:
    """A volume of wood."""
    return print_volume(volume_m3, volume_unit(view), Direction.READ)


def weight(estimate: Estimate | Range | None, view: View) -> str:
    """A weight with its range."""
    return spread(estimate, partial(print_mass, unit=shop_of(view).weight, direction=Direction.READ))


def moisture(estimate: Estimate | Range | None) -> str:
    """A moisture content, or any share, with its range."""
    return spread(estimate, print_mc)


def degrees(temperature_c: float, view: View) -> str:
    """A temperature."""
    return print_temperature(temperature_c, degree_of(view))


def in_view(sentence: str, view: View) -> str:
    """A sentence of the checker, whose lengths are metres, with its lengths as they are read.

    >>> in_view("The pass is 0.0254 m off.", View.INCHES)
    'The pass is 1.000 in off.'
    """
    return _METRES.sub(lambda found: exact(float(found[1]), metric=view is View.MILLIMETRES), sentence)
