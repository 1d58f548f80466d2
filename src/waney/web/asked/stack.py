"""When a stack is ready: what is asked of a worker, and what it answers."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from datetime import date

from waney.drying.known_sides import NOT_TOLD, KnownSides
from waney.drying.moisture_told import How, MoistureTold, Where
from waney.yard.acts.drying import ChamberRead


@dataclass(frozen=True)
class WeightAsked:
    """A weight on a day [kg]; mark_kg: between two marks of the weighing scale."""

    day: str
    kg: float
    ends: bool
    mark_kg: float


@dataclass(frozen=True)
class MoistureAsked:
    """A moisture on a day [-], as the book keeps it."""

    day: str
    mc: float
    read_by: str
    depth: str
    wood_c: float | None
    set_to: str
    corrected: bool


def moisture_told(asked: MoistureAsked) -> MoistureTold:
    """As the core reads it."""
    told = (How(asked.read_by), Where(asked.depth), asked.wood_c, asked.corrected, asked.set_to)
    return MoistureTold(date.fromisoformat(asked.day), asked.mc, *told)


@dataclass(frozen=True)
class SampleAsked:
    """A sample board; dry_kg: nothing while its sections are in the oven."""

    day: str
    kg: float
    wet_kg: tuple[float, ...]
    dry_kg: tuple[float, ...]
    mark_kg: float


@dataclass(frozen=True)
class StackPiece:
    """A piece on the stack, and all that was read of it; since: the day it came on stickers; before_cut: weights that are not
    among these, because they are of the piece before it was cut to a sample board; known: of its edges and ends; layer: from the
    bottom, None where nobody told."""

    name: str
    wood: str
    thickness_m: float | None
    length_m: float | None
    width_m: float | None
    since: str
    weights: tuple[WeightAsked, ...] = ()
    moistures: tuple[MoistureAsked, ...] = ()
    sample: SampleAsked | None = None
    before_cut: int = 0
    known: KnownSides = NOT_TOLD
    layer: int | None = None


@dataclass(frozen=True)
class StackAsked:
    """place, shelter, wanted_mc: empty, None where nobody told; meter: the meter sheet; spring: the day of the one that it is
    to be dry before; chamber: what was read in it; weather: the shop's own, as it was kept and then
    squeezed, empty: that of the place; sticker_m: thickness of its stickers, wide_m: how wide it is, None
    where nobody told."""

    place: str
    shelter: str
    wanted_mc: float | None
    metric: bool
    meter: str
    spring: str
    chamber: ChamberRead | None
    weather: str
    pieces: tuple[StackPiece, ...]
    sticker_m: float | None = None
    wide_m: float | None = None


@dataclass(frozen=True)
class Ready:
    """First, likely and last day (dates): one in twenty is ready before the first, one in twenty is not by the last; says: the
    likely days and from where to where; basis, source: what that stands on."""

    first: str
    likely: str
    last: str
    says: str
    basis: str
    source: str = ""


@dataclass(frozen=True)
class BandAnswer:
    """Days from the start, and 5, 50 and 95 % there."""

    days: tuple[float, ...]
    low: tuple[float, ...]
    likely: tuple[float, ...]
    high: tuple[float, ...]

    def on(self, day: float) -> tuple[float, float, float]:
        """Low, likely and high on a day, by straight lines; beyond its ends what stands there."""
        after = bisect_left(self.days, day)
        if after == 0 or after == len(self.days):
            at = min(after, len(self.days) - 1)
            return self.low[at], self.likely[at], self.high[at]
        share = (day - self.days[after - 1]) / (self.days[after] - self.days[after - 1])
        low, likely, high = (one[after - 1] + share * (one[after] - one[after - 1]) for one in (self.low, self.likely, self.high))
        return low, likely, high


@dataclass(frozen=True)
class DryAnswer:
    """Oven-dry weight of a piece [kg], by name: from its readings (weighed), else from its sizes and its wood's gravity."""

    name: str
    low: float
    likely: float
    high: float
    weighed: bool


@dataclass(frozen=True)
class PointAnswer:
    """A reading as a moisture: its day from the start; likely, low and high [-]."""

    day: float
    likely: float
    low: float
    high: float


@dataclass(frozen=True)
class LineAnswer:
    """A line of a stack. pieces: by name; before, ready: without and with readings; mc, dry, tag, one_mark: in words, empty where
    nothing was read; losing, losing_most: a word and two numbers; stress, core, core_now: in words (core_now: at the last
    reading, empty where nothing was read); before_band, band: moisture by days [-]; kg: weight by days; telling: sentences on
    what to tell first; weighed: the day of its last weight (a date), empty: never; too_fast: whether it lost more a day than it
    may between the last two."""

    name: str
    wood: str
    thickness_m: float
    pieces: tuple[str, ...]
    since: str
    before: Ready
    ready: Ready
    read: int
    mc: str
    dry: str
    tag: str
    one_mark: str
    losing: str
    losing_most: str
    stress: str
    core: str
    core_now: str
    remarks: tuple[str, ...]
    before_band: BandAnswer
    band: BandAnswer
    points: tuple[PointAnswer, ...]
    kg: BandAnswer | None
    pieces_dry: tuple[DryAnswer, ...]
    gain_above_kg: float | None
    telling: tuple[str, ...]
    weighed: str
    too_fast: bool


@dataclass(frozen=True)
class StackAnswer:
    """lines: the slowest first; assumed: what was tried in more than one way, or stands in for what nobody
    told; left: pieces that are not in it; air: a sentence on what is taken for the air about it, empty where several
    were tried."""

    target: float
    air: str
    lines: tuple[LineAnswer, ...]
    assumed: tuple[str, ...]
    left: tuple[str, ...]
