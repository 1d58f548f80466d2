"""A moisture as somebody wrote it down, and what it tells: put right for wood and temperature, with its range.

What a piece held when it was read last is decided here, for forecasts, loads and papers alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from waney.drying.meter import RIGHT, Meter, MeterReading, read_meter
from waney.drying.meter_sheet import MeterSheet
from waney.drying.sample_board import SECTION_SPREAD
from waney.drying.shell_core import ShellCore
from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import OutOfRange, Problem
from waney.wood.species import Species, species
from waney.wood.traits import Trait

MIDDLE_SG = 0.55
"""Basic gravity of a wood that no table has: only how much water it could hold at most depends on it [-]; ours, a choice."""
LEAST_OF_CORE = 2.0 / 3.0
"""Mean of the thickness as a share of the core at the least: a parabola that is bone dry at the faces. Likely: half way from
there to as wet as the core; ours, a choice."""


class Where(StrEnum):
    """Where in the thickness a moisture was read."""

    WHOLE = "whole thickness"
    SHELL = "shell"
    CORE = "core"


class How(StrEnum):
    """What it was read with."""

    PINS = "pin meter"
    PLATE = "pinless meter"
    OVEN = "oven-dry sample"
    TOLD = "told by whoever dried it"


METERS = {How.PINS: Meter.PINS, How.PLATE: Meter.PLATE}
NOT_SAID = "Nobody told how it was read: it counts as a pin meter of which nobody wrote down wood and temperature."


@dataclass(frozen=True)
class MoistureTold:
    """A moisture as it was read [-]. wood_c: temperature of the wood [°C]; right: put right for wood and temperature already;
    set_to: the wood that the meter was set to, by whatever name."""

    day: date
    mc: float
    how: How
    where: Where = Where.WHOLE
    wood_c: float | None = None
    right: bool = False
    set_to: str = ""


@dataclass(frozen=True)
class OfDay:
    """What the readings of one day tell of a whole piece [-]. of: the part that was read: WHOLE also for shell and core together;
    wetter: it may be far wetter than that; how: what they were read with; said: what is to be minded of them, as sentences."""

    day: date
    mc: Estimate
    of: Where
    wetter: bool
    how: tuple[How, ...]
    said: tuple[str, ...] = ()


def moisture_of(told: MoistureTold, wood: Species | None, sheet: MeterSheet) -> MeterReading:
    """What it tells of the wood where it was read; wood: None for one that no table has.

    A meter that was set to the wood, or whose reading was put right, needs no table; a reading beyond the typed-in table is
    read without it, and says so. Raises OutOfRange for what no meter is made for.
    """
    if told.how is How.OVEN:
        reach = Z_95 * SECTION_SPREAD * told.mc
        return MeterReading(Estimate(told.mc, told.mc - reach, told.mc + reach, _basis(told.how), 0.0), False, "")
    if told.how is How.TOLD:
        found = read_meter(Meter.PINS, told.mc, None, _gravity(wood))
        return replace(found, mc=replace(found.mc, basis=_basis(told.how)), said=found.said if found.bracketed else NOT_SAID)
    meter = METERS[told.how]
    if told.right or _same(told.set_to, wood):
        warm = sheet.own_c if told.right else told.wood_c
        return read_meter(meter, told.mc, warm, _gravity(wood), RIGHT, sheet.own_c)
    return metered(meter, told.mc, told.wood_c, wood, sheet)


def metered(meter: Meter, reading: float, wood_c: float | None, wood: Species | None, sheet: MeterSheet) -> MeterReading:
    """What a reading as it stands on the meter tells [-], by the typed-in table of the wood where there is one; wood_c: its
    temperature [°C], None: nobody took it.

    A reading beyond that table is read without it, and says so. Raises OutOfRange for what no meter is made for.
    """
    table = sheet.tables.get(wood.id) if wood else None
    try:
        return read_meter(meter, reading, wood_c, _gravity(wood), table, sheet.own_c)
    except OutOfRange as beyond:
        if table is None:
            raise
        plain = read_meter(meter, reading, wood_c, _gravity(wood), None, sheet.own_c)
        return MeterReading(plain.mc, plain.bracketed, f"{beyond} It was read as it stands, with a wider range.")


def by_day(told: Iterable[MoistureTold], wood: Species | None, sheet: MeterSheet) -> Iterator[OfDay]:
    """What each day's readings tell of a whole piece, day by day.

    Shell and core of one day are one reading of the mean. A shell alone tells that the piece is at least so wet; of a core alone
    the mean is below it, at the least LEAST_OF_CORE of it. Raises OutOfRange as `moisture_of`.
    """
    for day, group in sorted(_days(told).items()):
        yield from (_whole(day, (one,), wood, sheet) for one in group.get(Where.WHOLE, ()))
        shell, core = (group.get(where, [None])[-1] for where in (Where.SHELL, Where.CORE))
        if shell and core:
            yield _whole(day, (shell, core), wood, sheet)
        elif shell:
            yield replace(_whole(day, (shell,), wood, sheet), of=Where.SHELL)
        elif core:
            found = _whole(day, (core,), wood, sheet)
            yield replace(found, mc=_below(found.mc), of=Where.CORE)


def as_last_read(told: Sequence[MoistureTold], wood: Species | None, sheet: MeterSheet) -> OfDay | None:
    """What a whole piece held on the last day that tells it, by its core alone only where nothing else does that day; None where
    nothing was read but its shell. Raises OutOfRange."""
    return next(reversed(days_read(told, wood, sheet)), None)


def days_read(told: Sequence[MoistureTold], wood: Species | None, sheet: MeterSheet) -> tuple[OfDay, ...]:
    """What a whole piece held on each day that tells it, oldest first, chosen as `as_last_read`. Raises OutOfRange."""
    found = [one for one in by_day(told, wood, sheet) if one.of is not Where.SHELL]
    return tuple({one.day: one for one in sorted(found, key=lambda one: (one.day, one.of is not Where.CORE))}.values())


def last_at(told: Iterable[MoistureTold], where: Where, wood: Species | None, sheet: MeterSheet) -> Estimate | None:
    """Moisture of one part as it was read last [-]; None where it never was. Raises OutOfRange."""
    read = sorted((one for one in told if one.where is where), key=lambda one: one.day)
    return moisture_of(read[-1], wood, sheet).mc if read else None


def last_day_at(told: Iterable[MoistureTold], where: Where) -> date | None:
    """The day on which one part was read last; None where it never was."""
    return max((one.day for one in told if one.where is where), default=None)


def _days(told: Iterable[MoistureTold]) -> dict[date, dict[Where, list[MoistureTold]]]:
    days: dict[date, dict[Where, list[MoistureTold]]] = {}
    for one in told:
        days.setdefault(one.day, {}).setdefault(one.where, []).append(one)
    return days


def _whole(day: date, read: tuple[MoistureTold, ...], wood: Species | None, sheet: MeterSheet) -> OfDay:
    """One reading, or shell and core."""
    found = [moisture_of(one, wood, sheet) for one in read]
    mc = found[0].mc if len(found) == 1 else ShellCore(found[0].mc, found[1].mc).mean
    said = tuple(dict.fromkeys(one.said for one in found if one.said))
    return OfDay(day, mc, Where.WHOLE, any(one.wetter for one in found), tuple(dict.fromkeys(one.how for one in read)), said)


def _below(core: Estimate) -> Estimate:
    """Mean of a piece of which the core alone was read [-]."""
    likely, low = (0.5 * (1.0 + LEAST_OF_CORE) * core.likely, LEAST_OF_CORE * core.low)
    return Estimate(likely, min(low, likely), max(core.high, likely), core.basis, 0.0)


def _basis(how: How) -> Basis:
    return Basis(Ground.READING, str(how))


def _gravity(wood: Species | None) -> float:
    try:
        return MIDDLE_SG if wood is None else wood.needed(Trait.SG_GREEN).likely
    except Problem:
        return MIDDLE_SG


def _same(name: str, wood: Species | None) -> bool:
    try:
        return bool(name) and wood is not None and species(name).id == wood.id
    except Problem:
        return False
