"""A person's own weather: twelve months, a year of hours, or a year of hours in the format of building simulation (EPW)."""

from __future__ import annotations

from collections.abc import Sequence

from waney.wood.climate import Climate, HourlyYear, monthly_means, read_hours, read_months
from waney.wood.epw import is_epw, read_epw

TWELVE_ROWS = 20
"""A table with more lines than this holds hours, not months."""
YOURS = "your own weather"


def own_weather(lines: Sequence[str], place: str) -> tuple[Climate, HourlyYear | None]:
    """Its months, and its hours where it has them. Raises BadWeather."""
    if not is_epw(lines) and len(lines) <= TWELVE_ROWS:
        return read_months(lines, place), None
    year = read_epw(lines) if is_epw(lines) else read_hours(lines, place)
    return monthly_means(year), year


def as_rows(lines: Sequence[str], place: str) -> str:
    """The same weather in a few bytes, to be kept: a line with its place, the columns, a row a month or an hour. `kept_weather`
    reads it, to a tenth of a degree and a per cent. Raises BadWeather."""
    climate, year = own_weather(lines, place)
    airs = climate.months if year is None else year.hours
    called = " ".join((climate.place or YOURS).split())
    rows = (f"{air.month},{air.temperature_c:.1f},{100.0 * air.humidity:.0f}" for air in airs)
    return "\n".join((f"# {called}", "month,temperature_c,humidity_pct", *rows, ""))


def kept_in_words(text: str) -> str:
    """What was kept, in a few words; empty for nothing. (A year of hours is not read for it.)"""
    if not text:
        return ""
    place, rows = text.partition("\n")[0].removeprefix("# "), text.count("\n") - 2
    return f"{place}: {'twelve months' if rows == 12 else f'{rows} hours'}"


def kept_weather(text: str) -> tuple[Climate, HourlyYear | None]:
    """Weather as it was kept: its place stands in the first line. Raises BadWeather."""
    lines = text.splitlines()
    first = lines[0] if lines else ""
    return own_weather(lines, first[1:].strip() if first.startswith("#") else YOURS)
