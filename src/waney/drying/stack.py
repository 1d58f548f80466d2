"""Stack: lines of pieces alike, each line with what was read of one of its pieces; when each is ready, and the last of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from waney.drying.chamber import SUN_CHAMBERS, Dehumidified, SunChamber, dehumidified, sun_air_for
from waney.drying.dry_weight import DryWeight, dry_by_sizes
from waney.drying.either import MANY, either
from waney.drying.evidence import MoistureRead, Read, WeightRead
from waney.drying.forecast import Forecast, forecast
from waney.drying.kernel.records import AirSteps
from waney.drying.outdoors import PACKAGE, Exposure, Passage, hourly_air, outdoor_air
from waney.drying.particles import DRIEST, Case
from waney.drying.safe_rate import SafeRate, safe_rate
from waney.drying.sample_board import SampleBoard
from waney.drying.sides import WIDE_AND_LONG, Sides
from waney.drying.spring import spring_after
from waney.drying.watch import (
    before_spring,
    expected,
    expected_loss,
    read_loss,
    said_of_core,
    said_of_loss,
    said_of_sides,
    said_of_stress,
)
from waney.drying.weighing import WeighingScale, at_moisture, coarse
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.wood.climate import Climate, HourlyYear
from waney.wood.species import Species
from waney.wood.weight import green_moisture

LONGEST_DAYS = 1100
"""Three summers: what is not dry by then is told as late."""
PARTICLES = 256
TOLD_LATE = 0.02
NOT_GREEN = "Read on the first day as drier than green: its drying is counted from that reading."

SIZES = "length and width of the piece, which tell about how heavy it is oven dry"
SECTIONS = "two moisture sections cut from it, which make it a sample board"


class BadStack(Problem):
    """A stack that cannot be forecast."""


@dataclass(frozen=True)
class Line:
    """Pieces alike: wood, green thickness [m], how many; what was read of one of them, by date; its sample board, cut on the
    first day; its green volume [m3] where its length and width are known; sides: what is known of edges and ends; said: what is
    to be minded of its readings, as sentences."""

    name: str
    wood: Species
    thickness_m: float
    count: int
    reads: tuple[tuple[date, WeightRead | MoistureRead], ...] = ()
    board: SampleBoard | None = None
    volume_m3: float | None = None
    sides: Sides = WIDE_AND_LONG
    said: tuple[str, ...] = ()


@dataclass(frozen=True)
class Stack:
    """Where lines stand, from which day, and to which moisture [-] they shall come; climate: None only in a chamber that makes
    its own air; mark_kg: between two marks of the weighing scale that weighs their pieces [kg]; chamber: what was read in the
    chamber it stands in; hours: the year's weather by the hour where it is known so; spring: the one that it is to be dry before,
    None: the next one after its last reading; passage: what the air goes through. Raises BadStack for a chamber that does not go
    with where it stands, and without the weather that makes its air."""

    climate: Climate | None
    start: date
    exposure: Exposure
    target: float
    lines: tuple[Line, ...]
    mark_kg: float = 0.0
    chamber: SunChamber | Dehumidified | None = None
    hours: HourlyYear | None = None
    spring: date | None = None
    passage: Passage = PACKAGE

    def __post_init__(self) -> None:
        fits = {Exposure.SUN: (type(None), SunChamber), Exposure.DEHUMIDIFIER: (Dehumidified,)}.get(self.exposure, (type(None),))
        if not isinstance(self.chamber, fits):
            raise BadStack(f"What was read in the chamber does not go with a stack {self.exposure}.")
        if self.climate is None and self.outdoors:
            raise BadStack(f"A stack {self.exposure} dries by the weather: say where it stands.")

    @property
    def place(self) -> str:
        """Where its weather is from; empty where it needs none."""
        return "" if self.climate is None else self.climate.place

    @property
    def outdoors(self) -> bool:
        """Whether its air comes from outdoors, as the weather makes it."""
        return self.exposure is not Exposure.DEHUMIDIFIER

    @property
    def chamber_unread(self) -> bool:
        """Whether it stands in a chamber whose air nobody read."""
        return self.exposure is Exposure.SUN and self.chamber is None

    @property
    def by_hour(self) -> bool:
        """Whether the hours of a year are what it stands in; a chamber is told by the months."""
        return self.hours is not None and self.exposure not in (Exposure.SUN, Exposure.DEHUMIDIFIER)

    @property
    def seen(self) -> date:
        """The day of its last reading; the first, where nothing was read."""
        return max((day for line in self.lines for day, _ in line.reads), default=self.start)

    def airs(self, line: Line) -> tuple[AirSteps, ...]:
        """The air about one of its lines from the start on; several where nobody read a chamber, the driest last."""
        if isinstance(self.chamber, Dehumidified):
            return (dehumidified(self.chamber, LONGEST_DAYS, self.passage),)
        assert self.climate is not None, "a stack that the weather dries has a climate"
        if self.exposure is Exposure.SUN:
            chambers = (self.chamber,) if self.chamber else SUN_CHAMBERS
            board = line.wood, line.thickness_m
            return tuple(sun_air_for(*board, self.climate, self.start, LONGEST_DAYS, one, self.passage) for one in chambers)
        if self.by_hour and self.hours is not None:
            return (hourly_air(self.hours, self.start, LONGEST_DAYS, self.exposure, self.passage),)
        return (outdoor_air(self.climate, self.start, LONGEST_DAYS, self.exposure, self.passage),)


@dataclass(frozen=True)
class LineDates:
    """A line's forecast, what its read piece weighs at the target (None: no weight was read), in words what it loses a day
    against what it may, how its drying pulls at it, and what else is to be known; too_fast: whether it lost more a day than it
    may between the last two weights."""

    line: Line
    forecast: Forecast
    tag_kg: Estimate | None
    safe: SafeRate | None
    losing: str
    losing_most: str
    stress: str
    remarks: tuple[str, ...]
    too_fast: bool

    @property
    def core(self) -> str:
        """What middle and face hold at the target, in words."""
        return said_of_core(self.forecast.end)

    @property
    def core_now(self) -> str:
        """The same at the last reading; empty where nothing was read."""
        return "" if self.forecast.now is None else said_of_core(self.forecast.now)


@dataclass(frozen=True)
class StackDates:
    """Every line, and the days from the start until the slowest is ready [days], before and after the readings."""

    lines: tuple[LineDates, ...]
    before: Estimate
    after: Estimate


def stack_dates(stack: Stack, scenarios: Scenarios) -> StackDates:
    """Raises BadStack without lines, NoFigure for a wood without gravity or green moisture, BadEvidence for a reading from before
    the start."""
    if not stack.lines:
        raise BadStack("A stack needs one line of pieces or more.")
    lines = tuple(line_dates(line, stack, scenarios) for line in stack.lines)
    return StackDates(
        lines,
        _slowest([one.forecast.before.days for one in lines]),
        _slowest([one.forecast.after.days for one in lines]),
    )


def line_dates(line: Line, stack: Stack, scenarios: Scenarios) -> LineDates:
    """One line by itself: nothing is averaged over a mixed stack. Of several airs each is tried, and the answer holds all; what
    may be lost at most is told by the last."""
    reads = _reads(line, stack.start)
    cases = _cases(line, stack)
    several = replace(scenarios, n=min(scenarios.n, MANY)) if len(cases) > 1 else scenarios
    found = either([forecast(case, reads, several, _dry_weight(line)) for case in cases])
    safe = safe_rate(line.wood.id, line.thickness_m)
    weights = [read for read in reads if isinstance(read, WeightRead)]
    loss = read_loss(weights, found.dry.likely) if found.dry else None
    likely = expected(cases[-1])
    most, day = expected_loss(likely)
    at_most = f"{said_of_loss(most, safe)}, about day {day:.0f}" if safe else said_of_loss(most, None)
    tag = at_moisture(found.dry, stack.target) if found.dry else None
    return LineDates(
        line,
        found,
        tag,
        safe,
        said_of_loss(loss, safe),
        at_most,
        said_of_stress(likely, line.wood),
        remarks_of(line, stack, found),
        loss is not None and safe is not None and safe.exceeded(loss),
    )


def _cases(line: Line, stack: Stack) -> list[Case]:
    """One for each air that is tried."""
    start = not_green(line.wood, _reads(line, stack.start))
    return [Case(line.wood, line.thickness_m, air, stack.target, start, stack.outdoors, line.sides) for air in stack.airs(line)]


def not_green(wood: Species, reads: Sequence[Read]) -> Estimate | None:
    """Moisture at the start [-] where the first day was read drier than green wood of this kind is; None elsewhere.

    About that reading, three times as wide: the reading itself narrows it, and is counted once.
    """
    green = green_moisture(wood)
    first = (read.mc for read in reads if isinstance(read, MoistureRead) and read.day == 0.0 and not read.at_least)
    mc = next((mc for mc in first if mc.high < green.low), None)
    if mc is None:
        return None
    return Estimate(mc.likely, max(mc.low - mc.width, min(DRIEST, mc.low)), mc.high + mc.width, mc.basis, 0.0)


def remarks_of(line: Line, stack: Stack, found: Forecast) -> tuple[str, ...]:
    """What else is to be known of a line, as sentences."""
    late = found.after.late
    rest = f"{line.count - 1} others of this line were not read: they lie about as far apart as before the reading."
    said = (
        NOT_GREEN if not_green(line.wood, _reads(line, stack.start)) else "",
        said_of_sides(_cases(line, stack)[-1]),
        before_spring(found, stack.start, stack.target, stack.spring or spring_after(stack.seen)) if stack.outdoors else "",
        f"In {late * 100:.0f} cases of a hundred it is not ready in three summers here." if late > TOLD_LATE else "",
        coarse(WeighingScale(stack.mark_kg), found.dry.likely) if found.dry else "",
        rest if found.mc and line.count > 1 else "",
        _narrowing(line, found),
        *(_odd(line, at) for at in found.odd),
        *dict.fromkeys(line.said),
    )
    return tuple(one for one in said if one)


def _narrowing(line: Line, found: Forecast) -> str:
    """What would narrow the days of a line whose readings did not; empty where they did, or where nothing more is to be had."""
    if not line.reads or found.after.days.width < found.before.days.width or line.board is not None:
        return ""
    weighed = any(isinstance(read, WeightRead) for _, read in line.reads)
    sized = "" if line.volume_m3 is not None else SIZES
    what = (sized if weighed else f"two weights some days apart{f', with {sized}' if sized else ''}", SECTIONS)
    return f"What was read does not narrow the days. This would: {'; or '.join(filter(None, what))}."


def _odd(line: Line, at: int) -> str:
    alone = len(line.reads) + (0 if line.board is None else 2) == 1
    rest = "what is to be expected of this wood, thickness and time" if alone else "the others"
    return f"{_named(line, at)} does not fit {rest}: weigh again, or look whether it was this piece."


def _named(line: Line, at: int) -> str:
    """A reading by its day; the first two of a sample board are its sections and its own weight."""
    first = 0 if line.board is None else 2
    return f"The reading of {line.reads[at - first][0]}" if at >= first else "What was read when the sample board was cut"


def _slowest(each: list[Estimate]) -> Estimate:
    """The stack is ready with its slowest line; all are held to be late together (same weather, same model), the wider answer."""
    low, likely, high = (max(getattr(one, name) for one in each) for name in ("low", "likely", "high"))
    return Estimate(likely, low, high, each[0].basis, 0.0)


def _reads(line: Line, start: date) -> list[Read]:
    """Readings with their day counted from the start. A sample board was cut on that day: its sections are a reading of moisture,
    its weight then one of weight."""
    found: list[Read] = [replace(read, day=float((day - start).days)) for day, read in line.reads]
    if line.board is None:
        return found
    return [MoistureRead(0.0, line.board.start), WeightRead(0.0, line.board.first.kg, line.board.first.error_kg), *found]


def _dry_weight(line: Line) -> DryWeight | None:
    """From the sizes of the piece, where nothing better is known."""
    if line.board is not None or line.volume_m3 is None:
        return None
    return dry_by_sizes(line.wood, line.volume_m3)
