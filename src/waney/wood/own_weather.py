"""A person's own weather: twelve months, a year of hours, or a year of hours in the format of building simulation (EPW)."""

from __future__ import annotations

from collections.abc import Sequence

from waney.wood.climate import Climate, HourlyYear, monthly_means, read_hours, read_months
from waney.wood.epw import is_epw, read_epw

TWELVE_ROWS = 20
"""A table with more lines than this holds hours, not months."""


def own_weather(lines: Sequence[str], place: str) -> tuple[Climate, HourlyYear | None]:
    """Its months, and its hours where it has them. Raises BadWeather."""
    if not is_epw(lines) and len(lines) <= TWELVE_ROWS:
        return read_months(lines, place), None
    year = read_epw(lines) if is_epw(lines) else read_hours(lines, place)
    return monthly_means(year), year
