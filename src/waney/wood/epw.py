"""A year of hours in the weather format of building simulation (EPW): eight lines of head, then a row an hour.

Source: the format's data dictionary (memory): column 2 the month, 7 the dry bulb [°C], 9 the relative humidity [%].
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from waney.wood.climate import HourlyYear, read_hours
from waney.wood.weather import BadWeather

HEAD_LINES = 8
MONTH, DRY_BULB, HUMIDITY = 1, 6, 8
COLUMNS = 9
"""Columns that a row must have at least."""


def is_epw(lines: Sequence[str]) -> bool:
    """Whether these are the lines of such a file, by the first of them."""
    return bool(lines) and lines[0].strip().upper().startswith("LOCATION,")


def read_epw(lines: Iterable[str]) -> HourlyYear:
    """A year of hours. Raises BadWeather for a file that is none, and for rows that cannot be read, with their lines."""
    rows = [line.strip() for line in lines]
    if not is_epw(rows):
        raise BadWeather(
            "The first line of an EPW file begins with LOCATION; this one does not: give a CSV file, or the EPW itself."
        )
    place = ", ".join(part for part in rows[0].split(",")[1:4] if part.strip())
    # the lines of the head stay as notes, so that a problem is told with the line of the file
    notes = ["#"] * (HEAD_LINES - 1)
    return read_hours(["month,temperature_c,humidity_pct", *notes, *(_row(row) for row in rows[HEAD_LINES:] if row)], place)


def _row(row: str) -> str:
    cells = row.split(",")
    return ",".join((cells[MONTH], cells[DRY_BULB], cells[HUMIDITY])) if len(cells) >= COLUMNS else row
