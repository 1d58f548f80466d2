"""Core record: what a probe in the core of a piece read by and by, and what that shows. Never a certificate.

    minutes,core_c
    0,41.5
    5,48
    10,52.5

A line is a time, in minutes or as a clock shows it (h:mm), and the core; of several cores beside each other the coldest counts.
BadRecord  lines that cannot be read, all of them
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import nan

from waney.figures.problem import Problem
from waney.units.temperature import Degree, parse_temperature

CORE_C, HELD_MIN = 56.0, 30
"""The common rule, ISPM 15: 56 °C at the core for 30 minutes (Wood Handbook ch. 20, seen)."""
LONGEST_MIN = 100_000.0
"""Ten weeks: a slip of the hand beyond it."""
LONGEST_GAP_MIN = 10.0
"""A longer time without a reading shows nothing of what the core was meanwhile: common practice, no source."""
COLDEST_C, HOTTEST_C = -40.0, 150.0
MOST_READINGS = 5000
SHOWN = 6
"""Lines that are told before the rest is only counted."""
DAY_MIN = 1440.0
_MOST_APART = LONGEST_GAP_MIN + 1e-6
"""a loggers' 10 minutes are 10.0000000001 in sums of fractions"""
_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)")
_HEADS = {"core_c": Degree.CELSIUS, "core_f": Degree.FAHRENHEIT}


class BadRecord(Problem):
    """A record of which lines cannot be read; all of them, with their numbers."""


@dataclass(frozen=True)
class CoreReading:
    """Temperature of a piece's core at a time since the start [min, °C]."""

    minutes: float
    core_c: float


@dataclass(frozen=True)
class Gap:
    """From one reading to the next [min]: too long to know what lay between."""

    from_min: float
    to_min: float

    @property
    def minutes(self) -> float:
        """How long [min]."""
        return self.to_min - self.from_min


@dataclass(frozen=True)
class CoreHeld:
    """What a record shows of `core_c`. longest_min: the longest time that the core was surely at it or over it; in_all_min: all
    such times; across_min: the longest, were it so hot in the gaps too; read_min: from the first reading to the last [min]."""

    core_c: float
    held_min: float
    readings: int
    hottest_c: float
    longest_min: float
    in_all_min: float
    across_min: float
    read_min: float
    gaps: tuple[Gap, ...]

    @property
    def shown(self) -> bool:
        """Whether it shows the rule kept. A record, not a certificate: who may certify is for local rules."""
        return self.longest_min >= self.held_min


def held(readings: Sequence[CoreReading], core_c: float = CORE_C, held_min: float = HELD_MIN) -> CoreHeld:
    """What a record shows: the core counts as hot between two readings that both were, with no gap between them.

    Whatever dried or heated the wood (kiln, vacuum, low heat), only such a record says that the core was treated.
    """
    told = sorted(readings, key=lambda one: one.minutes)
    pairs = list(pairwise(told))
    gaps = tuple(Gap(one.minutes, after.minutes) for one, after in pairs if after.minutes - one.minutes > _MOST_APART)
    hot = [(one.minutes, after.minutes, min(one.core_c, after.core_c) >= core_c) for one, after in pairs]
    sure = [(start, end, is_hot and end - start <= _MOST_APART) for start, end, is_hot in hot]
    return CoreHeld(
        core_c,
        held_min,
        len(told),
        max((one.core_c for one in told), default=COLDEST_C),
        max(_stretches(sure), default=0.0),
        sum(_stretches(sure)),
        max(_stretches(hot), default=0.0),
        told[-1].minutes - told[0].minutes if told else 0.0,
        gaps,
    )


def _stretches(parts: Iterable[tuple[float, float, bool]]) -> Iterator[float]:
    """How long each unbroken run of parts that count lasts [min]."""
    run = 0.0
    for start, end, counts in parts:
        if counts:
            run += end - start
        elif run:
            yield run
            run = 0.0
    if run:
        yield run


def read_core_record(lines: Iterable[str], degree: Degree | None) -> tuple[CoreReading, ...]:
    """Readings as they were written, a line each; degree: what a bare number means where no heading stands over them. Under a
    heading it is what that says (core_c, core_f); one that says neither leaves every reading to name its own.

    Raises BadRecord.
    """
    found: list[CoreReading] = []
    problems: list[str] = []
    for number, line in enumerate(lines, 1):
        cells = _cells(line)
        if not cells or line.lstrip().startswith("#"):
            continue
        named = [_HEADS[cell.lower()] for cell in cells if cell.lower() in _HEADS]
        if not found and not problems and not cells[0][0].isdigit():
            degree = named[0] if named else None  # of columns that nobody named a bare number means nothing
            continue
        try:
            found.append(_reading(cells, degree, found[-1].minutes if found else 0.0))
        except Problem as problem:
            problems.append(f"line {number}: {problem}")
    if problems:
        rest = f" And {len(problems) - SHOWN} more." if len(problems) > SHOWN else ""
        raise BadRecord(f"{' '.join(problems[:SHOWN])}{rest}")
    if not 2 <= len(found) <= MOST_READINGS:
        raise BadRecord(
            f"A core record has 2 to {MOST_READINGS} readings, a line each, time and core, as in 5, 48.5; here are {len(found)}."
        )
    return tuple(found)


def _cells(line: str) -> list[str]:
    """Parted by semicolon or tab, where a comma may stand in numbers; else by commas, else by the first space."""
    text = line.strip().lstrip("\ufeff")
    mark = next((mark for mark in (";", "\t", ",") if mark in text), None)
    return [cell for cell in (one.strip() for one in text.split(mark, -1 if mark else 1)) if cell]


def _reading(cells: Sequence[str], degree: Degree | None, before: float) -> CoreReading:
    """A line. A clock that went past midnight goes on."""
    if len(cells) < 2:
        raise BadRecord(f"{cells[0][:30]!r} is a time without a core, or a core without a time.")
    clock = _CLOCK.fullmatch(cells[0])
    minutes = 60.0 * float(clock[1]) + float(clock[2]) if clock else _number(cells[0])
    if clock and minutes < before:
        minutes += DAY_MIN * -((minutes - before) // DAY_MIN)
    if minutes < before:
        raise BadRecord(f"{cells[0][:30]} minutes lie before the line above.")
    core_c = min(parse_temperature(cell.replace(",", "."), degree) for cell in cells[1:])
    if not COLDEST_C <= core_c <= HOTTEST_C:
        raise BadRecord(f"a core at {core_c:.0f} °C cannot be.")
    return CoreReading(minutes, core_c)


def _number(text: str) -> float:
    try:
        minutes = float(text.replace(",", "."))
    except ValueError:
        minutes = nan
    if not 0.0 <= minutes <= LONGEST_MIN:
        raise BadRecord(f"{text[:30]!r} is no time; write minutes, or h:mm.")
    return minutes
