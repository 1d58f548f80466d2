"""Outdoor climate of a place, and the moisture that wood under cover follows there, month by month.

A place is chosen from the list, state then name, or its own twelve rows or year of hours are read. Nothing picks the
nearest one silently.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from functools import cache
from re import sub
from statistics import fmean

from waney.figures.estimate import Basis, Ground
from waney.figures.problem import Problem
from waney.figures.tables import Row, table
from waney.units.temperature import celsius
from waney.wood.emc import emc_is_extended, equilibrium_moisture
from waney.wood.weather import MONTHS, Air, BadWeather, read_air

KEPT = frozenset({"AP", "JFK", "IS"})
"""Words of station names that stay in capitals."""
FEWEST_HOURS = 600
"""Readings a month needs before its mean means anything: 28 days of hours, less some gaps. Ours, a choice."""


class UnknownPlace(Problem):
    """No station of that name in that state."""


class Averaging(StrEnum):
    """How a month's outdoor moisture was found; the two differ by up to 2 % moisture."""

    MEANS = "from the month's mean temperature and humidity"
    HOURS = "mean of the hours"


@dataclass(frozen=True)
class Climate:
    """Mean air of twelve months, January first."""

    place: str
    months: tuple[Air, ...]
    basis: Basis

    def __post_init__(self) -> None:
        if [air.month for air in self.months] != list(range(1, 13)):
            raise BadWeather(f"{self.place or 'A place'} needs twelve rows, one for each month, January first.")


@dataclass(frozen=True)
class HourlyYear:
    """Air of every hour of a year, in the file's order."""

    place: str
    hours: tuple[Air, ...]
    basis: Basis

    def of(self, month: int) -> tuple[Air, ...]:
        """The hours of one month, 1 to 12."""
        return tuple(air for air in self.hours if air.month == month)


@dataclass(frozen=True)
class OutdoorMoisture:
    """Moisture that wood under cover follows outdoors [-], January first, and how it was averaged."""

    months: tuple[float, ...]
    averaging: Averaging
    extended: tuple[bool, ...]
    """months in which the sorption equation was used outside its printed table"""

    @property
    def year(self) -> float:
        """Mean of the twelve months [-]."""
        return fmean(self.months)


def _spoken(city: str) -> str:
    """'NEW YORK JFK AP' -> 'New York JFK AP'."""
    return sub(r"[A-Z][A-Z']+", lambda m: m.group() if m.group() in KEPT else m.group().capitalize(), city)


@cache
def _stations() -> dict[str, dict[str, tuple[Row, ...]]]:
    """State -> name -> its twelve rows."""
    found: dict[str, dict[str, tuple[Row, ...]]] = {}
    for row in table("climate_us"):
        names = found.setdefault(row["state"], {})
        name = _spoken(row["city"])
        names[name] = (*names.get(name, ()), row)
    return found


def states() -> tuple[str, ...]:
    """Two-letter codes of every state or territory with a station, in order of the alphabet."""
    return tuple(sorted(_stations()))


def stations_in(state: str) -> tuple[str, ...]:
    """Names of a state's stations, in order of the alphabet. Raises UnknownPlace."""
    names = _stations().get(state.strip().upper())
    if names is None:
        raise UnknownPlace(f"{state!r} is not on the list of states; write one of {', '.join(states())}.")
    return tuple(sorted(names))


def station(state: str, name: str) -> Climate:
    """A station's mean year: humidity is the mean of its morning and afternoon values.

    Raises UnknownPlace with the state's names that are nearest in spelling; none is taken in place of another.
    Source: NOAA Comparative Climatic Data 2018, normals 1981-2010.
    """
    by_lower = {one.lower(): one for one in stations_in(state)}
    found = by_lower.get(name.strip().lower())
    if found is None:
        near = [by_lower[one] for one in get_close_matches(name.strip().lower(), by_lower, n=3, cutoff=0.4)]
        raise UnknownPlace(f"{state.upper()} has no station {name!r}; write one of {', '.join(near or stations_in(state))}.")
    code = state.strip().upper()
    note = f"{found}, {code}: normals 1981-2010, humidity the mean of morning and afternoon"
    return Climate(
        f"{found}, {code}",
        tuple(_normal(row) for row in _stations()[code][found]),
        Basis(Ground.SOURCE, "noaa-ccd-2018", note),
    )


def climate_of(place: str) -> Climate | None:
    """The climate of a place as people write it, "Madison WI"; None where nothing is written. Raises UnknownPlace."""
    if not place.strip():
        return None
    name, _, state = place.replace(",", " ").strip().rpartition(" ")
    if not name:
        raise UnknownPlace(f'"{place[:60]}" names no state; write the place and two letters, for instance Madison WI.')
    return station(state, " ".join(name.split()))


def _normal(row: Row) -> Air:
    humidity = (float(row["rh_morning_pct"]) + float(row["rh_afternoon_pct"])) / 200.0
    return Air(int(row["month"]), celsius(float(row["t_mean_f"])), humidity)


def read_months(lines: Iterable[str], place: str) -> Climate:
    """A person's own twelve rows: month, temperature_c or temperature_f, humidity_pct, in any order.

    Raises BadWeather for what cannot be read, and for a month that is missing or twice there.
    """
    airs = sorted(read_air(lines), key=lambda air: air.month)
    given = [air.month for air in airs]
    wrong = [MONTHS[m - 1] for m in range(1, 13) if given.count(m) != 1]
    if wrong:
        raise BadWeather(f"Each month is needed once; look at {', '.join(wrong)}.")
    return Climate(place, tuple(airs), Basis(Ground.READING, "the twelve rows given", place))


def read_hours(lines: Iterable[str], place: str) -> HourlyYear:
    """A year of hours: the same columns (t_c and rh_pct will do), a row an hour, others passed over.

    Raises BadWeather for what cannot be read, and for a month with too few hours to be averaged.
    """
    hours = read_air(lines)
    counts = [sum(air.month == m for air in hours) for m in range(1, 13)]
    short = [f"{MONTHS[m]} has {count}" for m, count in enumerate(counts) if count < FEWEST_HOURS]
    if short:
        raise BadWeather(f"A year of hours needs {FEWEST_HOURS} rows a month or more; {', '.join(short)}.")
    return HourlyYear(place, hours, Basis(Ground.READING, "the hourly file given", place))


def monthly_means(year: HourlyYear) -> Climate:
    """Each month's mean temperature and mean humidity."""
    return Climate(year.place, tuple(_mean(m, year.of(m)) for m in range(1, 13)), year.basis)


def _mean(month: int, airs: tuple[Air, ...]) -> Air:
    return Air(month, fmean(air.temperature_c for air in airs), fmean(air.humidity for air in airs))


def outdoor_moisture(climate: Climate) -> OutdoorMoisture:
    """Equilibrium moisture of each month's mean air. Averaging.MEANS: lower than the mean of hours where nights are damp."""
    extended = tuple(emc_is_extended(air.temperature_c, air.humidity) for air in climate.months)
    return OutdoorMoisture(tuple(_moisture(air) for air in climate.months), Averaging.MEANS, extended)


def outdoor_moisture_by_hour(year: HourlyYear) -> OutdoorMoisture:
    """Mean over each month of every hour's equilibrium moisture: Averaging.HOURS."""
    months = [year.of(m) for m in range(1, 13)]
    extended = tuple(any(emc_is_extended(air.temperature_c, air.humidity) for air in airs) for airs in months)
    return OutdoorMoisture(tuple(fmean(_moisture(air) for air in airs) for airs in months), Averaging.HOURS, extended)


def _moisture(air: Air) -> float:
    return equilibrium_moisture(air.temperature_c, air.humidity)
