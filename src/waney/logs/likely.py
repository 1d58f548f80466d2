"""What a log likely is, in three figures: for lists of many logs, without drawing its doubts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi, sqrt

from waney.figures.problem import Problem
from waney.logs.doubts import likely_shape
from waney.logs.sheet import log_sheet
from waney.logs.volume import section_area, volume_of
from waney.wood.species import species


@dataclass(frozen=True)
class LikelyWood:
    """Inside bark, of the likely shape: diameters of circles with the areas of the two ends [m], and volume [m3]."""

    butt_m: float
    top_m: float
    volume_m3: float


@lru_cache(maxsize=4096)
def likely_wood(sheet: str) -> LikelyWood | None:
    """Of a log sheet; None where it rests on a scan, or its wood or bark is not known well enough for a shape."""
    try:
        told = log_sheet(sheet)
        if told.scan is not None:
            return None
        shape = likely_shape(told.log, species(told.log.species))
    except Problem:
        return None
    butt, top = (2.0 * sqrt(section_area(shape, at, bark=False) / pi) for at in (0.0, shape.length_m))
    return LikelyWood(butt, top, volume_of(shape, bark=False))
