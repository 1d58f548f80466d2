"""Sun kiln: a load in a chamber that the sun warms dries by the weather from the day on which it goes in.

What the load does to the air is not modelled: wet wood damps and cools it, so that the first days are told too fast.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

import numpy as np

from waney.drying.air import filmed
from waney.drying.board import Drying
from waney.drying.chamber import SUN_CHAMBERS, SunChamber, sun_air_about
from waney.drying.doubts import FILM
from waney.drying.kernel.records import AirSteps
from waney.drying.outdoors import Passage
from waney.drying.particles import DAMPER, SITE, WARMER_K, Weather, of_one_stack
from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.wood.climate import Climate

SUN_DAYS = 730
"""Two summers: what is not dry by then is told as late [days]."""
WARM, WEATHER_WARMER, WEATHER_DAMPER = "kiln.sun", "kiln.weather.warmer", "kiln.weather.damper"
"""Names of what nobody knows of it, for `figures.scenarios`."""
WHOLE_K = 0.5
"""A chamber that nobody read is tried to this [K], so that few years of air are made for many scenarios."""
_DAYS_K, _NIGHTS_K = (tuple(getattr(one, name) for one in SUN_CHAMBERS) for name in ("warmer_day", "warmer_night"))
_AROUND = Basis(Ground.DEFAULT, "", "a dull, a usual and a good chamber: nobody read it")
_STRAYS = Basis(Ground.DEFAULT, "", "how far months stray from normal ones")


class NoWeather(Problem):
    """A kiln that dries by the weather, and nobody said which."""


@dataclass(frozen=True)
class SunKiln:
    """chamber: as its air was read, None: nobody did; climate: where it stands; start: the day on which a load goes in; None: not
    said. Nothing dries by it before both are."""

    chamber: SunChamber | None = None
    climate: Climate | None = None
    start: date | None = None

    def at(self, climate: Climate | None, start: date) -> SunKiln:
        """The same for a load that goes in on that day; climate: where it stands, where its own sheet does not say so."""
        return replace(self, climate=self.climate or climate, start=start)

    def doubts(self) -> dict[str, Estimate]:
        """What is not known of it, by name: its warmth by day where nobody read it [K]; the weather of one load, whose months are
        held to stray together, [K] and [-], the wider answer; and what is not known of any stack: how its pieces differ from
        their wood, how much air gets through."""
        warm = {} if self.chamber is not None else {WARM: Estimate(_DAYS_K[1], _DAYS_K[0], _DAYS_K[2], _AROUND)}
        strays = {
            name: Estimate(0.0, -Z_95 * spread, Z_95 * spread, _STRAYS)
            for name, spread in ((WEATHER_WARMER, WARMER_K), (WEATHER_DAMPER, DAMPER))
        }
        return {**warm, **strays, **of_one_stack()}

    def air(self, board: Drying, passage: Passage, values: Mapping[str, float], hottest_c: float | None = None) -> AirSteps:
        """What a scenario makes of it for `SUN_DAYS`, its nights closed once this board is dry enough, vented so that it gets no
        hotter than `hottest_c` [°C]; values: by the names of `doubts`, and the film. Raises NoWeather."""
        if self.climate is None:
            raise NoWeather("A kiln that the sun warms dries by the weather: say where it stands.")
        if self.start is None:
            raise NoWeather("A kiln that the sun warms dries by the weather: say on which day the load goes in.")
        chamber, film = self.chamber or _warmed_by(values[WARM]), values[FILM] * values[SITE]
        made = sun_air_about(board, self.climate, self.start, SUN_DAYS, chamber, passage, film)
        weather = Weather(np.array([[values[WEATHER_WARMER]]]), np.array([[values[WEATHER_DAMPER]]]))
        air = filmed(weather.each(made)[0], film)
        return air if hottest_c is None else air._replace(source=np.minimum(air.source, hottest_c))

    def later(self, days: float) -> SunKiln:
        """The same for a load that goes in so much later [days]."""
        return self if self.start is None else replace(self, start=self.start + timedelta(ceil(days)))


def _warmed_by(warmer_day: float) -> SunChamber:
    """A chamber that nobody read, by how warm it gets by day [K]: the nights go with the days."""
    by_day = WHOLE_K * round(warmer_day / WHOLE_K)
    return SunChamber(by_day, float(np.interp(by_day, _DAYS_K, _NIGHTS_K)))
