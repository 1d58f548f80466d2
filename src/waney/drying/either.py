"""Either: what is not known of where a stack stands is tried in more than one way, and the answer holds all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from waney.drying import band
from waney.drying.forecast import Forecast, Spread
from waney.drying.inside import around_inside
from waney.drying.outdoors import Exposure
from waney.figures.estimate import around
from waney.wood.climate import Climate, station

MANY = 96
"""particles where more than one way is tried"""
SHELTERS = (Exposure.OPEN, Exposure.ROOF)
"""A stack of which nobody told: a fan somebody would have told of. Ours, a choice."""
PLACES = (("AZ", "Phoenix"), ("WI", "Madison"), ("WA", "Seattle"))
"""Weather far apart, for a yard whose place nobody settled: dry and hot, cold in winter, mild and damp. Ours, a choice."""


def anywhere() -> tuple[Climate, ...]:
    """Climates that hold most of the country between them."""
    return tuple(station(state, name) for state, name in PLACES)


def either(found: Sequence[Forecast]) -> Forecast:
    """One forecast that is as wide as all of them together; the likely case lies in the middle of theirs."""
    if len(found) == 1:
        return found[0]
    first = found[0]
    return replace(
        first,
        before=_spread([one.before for one in found]),
        after=_spread([one.after for one in found]),
        mc=around([one.mc for one in found if one.mc]) if first.mc else None,
        dry=around([one.dry for one in found if one.dry]) if first.dry else None,
        end=around_inside([one.end for one in found]),
        now=around_inside([one.now for one in found]),
        effective=min(one.effective for one in found),
        odd=tuple(sorted(set.intersection(*(set(one.odd) for one in found)))),
        days=np.concatenate([one.days for one in found]),
        shares=np.concatenate([one.shares for one in found]) / len(found),
        unread=band.around([one.unread for one in found]),
        band=band.around([one.band for one in found]),
        kg=band.around([one.kg for one in found if one.kg]) if first.kg else None,
    )


def _spread(found: Sequence[Spread]) -> Spread:
    return Spread(around([one.days for one in found]), sum(one.late for one in found) / len(found))
