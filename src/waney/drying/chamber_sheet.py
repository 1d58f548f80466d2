"""Chamber as it was read, in a sheet: by the sun, from two thermometers at one time; with a dehumidifier, what it is held at."""

from __future__ import annotations

from waney.drying.chamber import Dehumidified, SunChamber
from waney.units.sheet import Table
from waney.units.sheet_measures import Measures

AIR_SPEED, MOST_SPEED = 1.5, 20.0
"""Air between the layers of a chamber [m/s]: 300 ft/min where nobody read it, as with a fan outdoors; the most that can be."""


def sun_read(given: Table, measures: Measures) -> SunChamber:
    """From two thermometers that were read at the same time, by day and by night. Raises BadChamber."""
    by_day, by_night = (
        (given.need(f"{when}_inside", measures.temperature, 30.0), given.need(f"{when}_outside", measures.temperature, 20.0))
        for when in ("day", "night")
    )
    damp = given.take("day_humidity", measures.percent)
    return SunChamber.read(by_day, by_night, damp, _speed(given, measures))


def held_read(given: Table, measures: Measures) -> Dehumidified:
    """Temperature and humidity that it is held at. Raises BadChamber."""
    inside, humidity = given.need("inside", measures.temperature, 40.0), given.need("humidity", measures.percent, 0.5)
    return Dehumidified(inside, humidity, _speed(given, measures))


def _speed(given: Table, measures: Measures) -> float:
    found = given.take("air_speed", measures.speed(MOST_SPEED))
    return AIR_SPEED if found is None else found
