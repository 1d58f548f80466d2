"""Weather tables as text: rows of month, temperature and humidity, from a sheet of twelve or a year of hours.

One header line; columns parted by comma, semicolon or tab (with the last two a decimal comma may be written).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.units.temperature import celsius
from waney.wood.emc import LOWEST_C

HOTTEST_C = 60.0
"""No outdoor air is warmer [°C]."""
MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
CELSIUS, FAHRENHEIT = ("temperature_c", "t_c"), ("temperature_f", "t_f")
HUMIDITY = ("humidity_pct", "rh_pct")
SHOWN = 8
"""Problems listed before the rest is only counted."""


class BadWeather(Problem):
    """A weather table that cannot be read; all its problems, with their lines."""


@dataclass(frozen=True)
class Air:
    """Outdoor air at one time: which month (1 to 12), temperature [°C], relative humidity over water [-]."""

    month: int
    temperature_c: float
    humidity: float


@dataclass(frozen=True)
class _Columns:
    delimiter: str
    month: int
    temperature: int
    fahrenheit: bool
    humidity: int


def _place(header: list[str], names: tuple[str, ...]) -> int | None:
    return next((header.index(name) for name in names if name in header), None)


def _columns(line: str) -> _Columns:
    delimiter = next((mark for mark in ("\t", ";") if mark in line), ",")
    header = [name.strip().lower() for name in line.lstrip("\ufeff").split(delimiter)]
    month, cold, hot, humidity = (_place(header, names) for names in (("month",), CELSIUS, FAHRENHEIT, HUMIDITY))
    temperature = cold if cold is not None else hot
    if month is None or temperature is None or humidity is None:
        raise BadWeather(
            f"The first line reads {line.strip()[:80]!r}; it must name the columns month, temperature_c (or temperature_f) "
            "and humidity_pct."
        )
    return _Columns(delimiter, month, temperature, cold is None, humidity)


def _number(text: str, what: str, low: float, high: float, delimiter: str) -> float:
    try:
        value = float(text.replace(",", ".") if delimiter != "," else text)
    except ValueError:
        raise BadWeather(f"{what} reads {text!r}, which is no number") from None
    if not low <= value <= high:
        raise BadWeather(f"{what} reads {text}, outside {low:g} to {high:g}")
    return value


def _month(text: str) -> int:
    found = [number for number, name in enumerate(MONTHS, start=1) if len(text) >= 3 and name.startswith(text.lower())]
    if found:
        return found[0]
    return int(_number(text, "month", 1, 12, ","))


def _air(line: str, columns: _Columns) -> Air:
    cells = [cell.strip() for cell in line.split(columns.delimiter)]
    if len(cells) <= max(columns.month, columns.temperature, columns.humidity):
        raise BadWeather(f"only {len(cells)} columns")
    written = cells[columns.temperature]
    low, high = (-40.0, 140.0) if columns.fahrenheit else (LOWEST_C, HOTTEST_C)
    degrees = _number(written, "temperature", low, high, columns.delimiter)
    humidity = _number(cells[columns.humidity], "humidity in %", 0.0, 100.0, columns.delimiter)
    return Air(_month(cells[columns.month]), celsius(degrees) if columns.fahrenheit else degrees, humidity / 100.0)


def _numbered(lines: Iterable[str]) -> Iterator[tuple[int, str]]:
    return ((number, line) for number, line in enumerate(lines, start=1) if line.strip() and not line.startswith("#"))


def read_air(lines: Iterable[str]) -> tuple[Air, ...]:
    """All rows of a weather table, in its order. Raises BadWeather with every line that cannot be read."""
    numbered = _numbered(lines)
    _, header = next(numbered, (1, ""))
    columns = _columns(header)
    airs: list[Air] = []
    problems: list[str] = []
    for number, line in numbered:
        try:
            airs.append(_air(line, columns))
        except BadWeather as problem:
            problems.append(f"line {number}: {problem}")
    if problems:
        rest = f"; and {len(problems) - SHOWN} more" if len(problems) > SHOWN else ""
        raise BadWeather(f"{'; '.join(problems[:SHOWN])}{rest}. Put these right and read the table again.")
    return tuple(airs)
