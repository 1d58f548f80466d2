"""Fitting: what would help a log that does not fit the mill, each help as changed sheets and the plans that follow from them.

A help is tried on the sheets themselves: the lines a sawyer would add are added, the sheets are read again, and what they
leave is held against the same limits. So a help that is shown is one that can be pasted.

part   one thing to saw after a help: half of a log, a length of it; each has its own log sheet
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, floor

from waney.figures.problem import Problem
from waney.logs.from_sheet import LOG
from waney.logs.weight import GreenWeight, volumes_of
from waney.pieces.measures import FOOT_M
from waney.sawing.bench import NothingToSaw, Over
from waney.sawing.counts.counts import CannotBeHad
from waney.sawing.fits import Fit, What, fit_of
from waney.sawing.plan import Plan
from waney.sawing.search import plans
from waney.sawing.sheets.from_sheets import WANTS, Ready, ready
from waney.sawing.wants import Pattern
from waney.units.length import length_of
from waney.units.number import Comma

Sheets = Mapping[str, str]

INCH_M = length_of(1.0, "in")
EVERY_ROLL = tuple(float(roll) for roll in range(0, 360, 10))
MOST_TRIMMED = 1.0 / 3.0
"""Share of the length that is trimmed at most; more is cutting to length. Our choice, no source."""
SHORTEST_PART_M = 0.6
"""No shorter length is cut off: two feet. Our choice, no source."""
LINES_H = (12.0, 1.0, 2.0, 3.0, 4.0, 5.0)
"""Clock positions of the lines along which halving is tried; each runs on through the pith to the other side."""


class Way(StrEnum):
    """What is done to the log or to the search."""

    AS_IT_IS = "as it is, as far as the blade goes"
    ROLL = "another roll"
    TRIM_BUTT = "trim the butt"
    TRIM_TOP = "trim the top"
    HALVE = "halve along the pith"
    CUT = "cut to length"
    CUT_AND_HALVE = "cut to length and halve"


@dataclass(frozen=True, eq=False)
class Part:
    """One thing to saw: its sheets, the lines that were added to one of them and to which, and what came of reading them."""

    name: str
    sheets: Sheets
    role: str
    lines: tuple[str, ...]
    ready: Ready


@dataclass(frozen=True, eq=False)
class Help:
    """One help; at_m: how much is trimmed, or where it is cut, from the butt; clock_h: the line it is halved along."""

    way: Way
    parts: tuple[Part, ...]
    at_m: float | None = None
    clock_h: float | None = None


@dataclass(frozen=True, eq=False)
class Helped:
    """A help and the plans that follow, the best for each part first; no plans for a part that gives nothing worth sawing."""

    help: Help
    plans: tuple[tuple[Plan, ...], ...]

    @property
    def cents(self) -> int:
        """What the best plans of all parts leave together."""
        return sum(found[0].cents for found in self.plans if found)


@dataclass(frozen=True, eq=False)
class Fitting:
    """A log held against its mill; weight: None when it is not asked for or not known."""

    sheets: Sheets
    ready: Ready
    fit: Fit
    weight: GreenWeight | None = None
    comma: Comma = Comma.ASK

    @classmethod
    def of(cls, sheets: Sheets, prepared: Ready, weight: GreenWeight | None = None, comma: Comma = Comma.ASK) -> Fitting:
        """Hold a log against its mill; weight: of the log on its sheet."""
        return cls(sheets, prepared, _fit(prepared, weight.log.high if weight else None), weight, comma)

    def part(self, name: str, role: str, lines: Sequence[str]) -> Part | None:
        """What is left when these lines are added to a sheet, if it can be read and then fits."""
        changed = {**self.sheets, role: with_lines(self.sheets[role], lines)}
        try:
            prepared = ready(changed, self.comma)
        except Problem:
            return None
        return None if _fit(prepared, self._heaviest_kg(prepared)).limits else Part(name, changed, role, tuple(lines), prepared)

    def _heaviest_kg(self, part: Ready) -> float | None:
        """A part weighs its share of the log: wood and bark by volume."""
        if self.weight is None:
            return None
        here, all_of_it = (_weighed(each, self.weight.bark_density) for each in (part, self.ready))
        return self.weight.log.high * here / all_of_it

    @property
    def imperial(self) -> bool:
        """Whether the log sheet counts in inches or feet."""
        return tomllib.loads(self.sheets[LOG]).get("units") in ("in", "ft")

    def written(self, metres: float) -> str:
        """A length as text that any sheet reads the same: whole inches, or whole centimetres."""
        return f'"{round(metres / INCH_M)} in"' if self.imperial else f'"{round(100.0 * metres)} cm"'


def _fit(prepared: Ready, heaviest_kg: float | None) -> Fit:
    bench = prepared.bench
    return fit_of(bench.log.shape, bench.mill, bench.wants.rolls_deg, heaviest_kg)


def _weighed(prepared: Ready, bark_density: float) -> float:
    wood, with_bark = volumes_of(prepared.bench.log.shape)
    return wood + bark_density * (with_bark - wood)


def with_lines(text: str, lines: Sequence[str]) -> str:
    """A sheet with lines added, in place of the [trimmed] or the rolls that it has already."""
    if any(line.startswith("rolls") for line in lines):
        text = re.sub(r"(?m)^[ \t]*rolls(_every)?[ \t]*=.*\n?", "", text)
        heading, line = lines
        return text.replace(heading, f"{heading}\n{line}", 1) if heading in text else "\n".join((text.rstrip(), "", *lines, ""))
    if "[trimmed]" in lines:
        text = re.sub(r"(?m)^[ \t]*\[trimmed\][^\[]*", "", text)
    return "\n".join((text.rstrip(), "", *lines, ""))


def helps_of(fitting: Fitting) -> tuple[Help, ...]:
    """Every help after which all that is left fits, the smallest change first; two helps together where none does alone."""
    singly = [found for tried in (_roll, _trim_butt, _trim_top, _halve, _cut) for found in tried(fitting)]
    as_it_is = _as_it_is(fitting)
    return (*as_it_is, *(singly or _cut_and_halve(fitting)))


def _as_it_is(fitting: Fitting) -> Iterator[Help]:
    """A log that lies well may still be sawn where the blade goes."""
    if {limit.what for limit in fitting.fit.limits} <= {What.WIDTH, What.HEAD}:
        yield Help(Way.AS_IT_IS, (Part("log", fitting.sheets, LOG, (), fitting.ready),))


def _roll(fitting: Fitting) -> Iterator[Help]:
    tried = fitting.ready.bench.wants.rolls_deg
    bench = fitting.ready.bench
    others = [roll for roll in EVERY_ROLL if roll not in tried]
    going = fit_of(bench.log.shape, bench.mill, others).rolls_deg if others else ()
    part = fitting.part("log", WANTS, ("[search]", f"rolls = [{', '.join(f'{roll:g}' for roll in going)}]")) if going else None
    if part is not None:
        yield Help(Way.ROLL, (part,))


def _trim_butt(fitting: Fitting) -> Iterator[Help]:
    return _trim(fitting, Way.TRIM_BUTT, "butt")


def _trim_top(fitting: Fitting) -> Iterator[Help]:
    return _trim(fitting, Way.TRIM_TOP, "top")


def _trim(fitting: Fitting, way: Way, end: str) -> Iterator[Help]:
    grain = INCH_M if fitting.imperial else 0.01
    length = fitting.ready.bench.log.shape.length_m
    least = max((limit.by for limit in fitting.fit.limits if limit.what is What.BED), default=0.0)

    def trimmed(count: int) -> Part | None:
        return fitting.part("log", LOG, _trimmed_lines(fitting, **{end: count * grain}))

    count, part = _least(trimmed, max(ceil(least / grain - 1e-9), 1), floor(MOST_TRIMMED * length / grain))
    if part is not None:
        yield Help(way, (part,), count * grain)


def _trimmed_lines(fitting: Fitting, butt: float = 0.0, top: float = 0.0) -> tuple[str, ...]:
    """[trimmed] with so much more off than the sheet says already."""
    off = fitting.ready.measured.log.trimmed
    ends = {"butt": butt + off.butt_m, "top": top + off.top_m}
    return ("[trimmed]", *(f"{end} = {fitting.written(metres)}" for end, metres in ends.items() if metres > 0.0))


def _least(part_of: Callable[[int], Part | None], low: int, high: int) -> tuple[int, Part | None]:
    """The least count that fits, by halving: what fits still fits when more is off."""
    best = part_of(high) if high >= low else None
    if best is None:
        return 0, None
    while low < high:
        middle = (low + high) // 2
        found = part_of(middle)
        low, high, best = (low, middle, found) if found else (middle + 1, high, best)
    return high, best


def _halve(fitting: Fitting) -> Iterator[Help]:
    """Along the line whose larger half leaves most room between the guides."""
    if fitting.ready.measured.log.flats:
        return
    halved = [(line, parts) for line in LINES_H if (parts := _halves(fitting, line, ()))]
    if halved:
        line, parts = min(halved, key=lambda each: _largest_share(each[1]))
        yield Help(Way.HALVE, parts, clock_h=line)


def _largest_share(parts: Sequence[Part]) -> float:
    """Volume of the largest part [m3]: even halves are the lightest to lift."""
    return round(max(volumes_of(part.ready.bench.log.shape)[1] for part in parts), 6)


def _halves(fitting: Fitting, line_h: float, before: tuple[str, ...], name: str = "") -> tuple[Part, ...]:
    """Both halves, none when one of them does not fit."""
    facing = (line_h + 3.0) % 12.0, (line_h + 9.0) % 12.0
    parts = [_half(fitting, hour or 12.0, before, name) for hour in facing]
    return tuple(part for part in parts if part) if all(parts) else ()


def _half(fitting: Fitting, faces_h: float, before: tuple[str, ...], name: str) -> Part | None:
    lines = (*before, "[[flat]]", f"clock = {faces_h:g}", "halved = true")
    return fitting.part(f"{name}flat facing {faces_h:g} o'clock", LOG, lines)


def _cut(fitting: Fitting) -> Iterator[Help]:
    """In two: the longest butt length that fits, the middle, the shortest; whichever fit."""
    for at in _cuts(fitting):
        butt, top = _lengths(fitting, at)
        parts = [fitting.part("butt length", LOG, butt), fitting.part("top length", LOG, top)]
        if all(parts):
            yield Help(Way.CUT, tuple(part for part in parts if part), at)


def _lengths(fitting: Fitting, at_m: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    length = fitting.ready.bench.log.shape.length_m
    return _trimmed_lines(fitting, top=length - at_m), _trimmed_lines(fitting, butt=at_m)


def _cuts(fitting: Fitting) -> tuple[float, ...]:
    """Where to cut, whole feet or quarter metres from the butt, so that both lengths go on the bed."""
    step = FOOT_M if fitting.imperial else 0.25
    length, bed = fitting.ready.bench.log.shape.length_m, fitting.ready.bench.mill.bed_length_m
    first = ceil(max(length - bed, SHORTEST_PART_M) / step - 1e-9)
    last = floor(min(bed, length - SHORTEST_PART_M) / step + 1e-9)
    if last < first:
        return ()
    return tuple(step * count for count in dict.fromkeys((last, (first + last) // 2, first)))


def _cut_and_halve(fitting: Fitting) -> Iterator[Help]:
    if fitting.ready.measured.log.flats:
        return
    for at in _cuts(fitting):
        butt, top = _lengths(fitting, at)
        for line in LINES_H[::3]:
            parts = (*_halves(fitting, line, butt, "butt length, "), *_halves(fitting, line, top, "top length, "))
            if len(parts) == 4:
                yield Help(Way.CUT_AND_HALVE, parts, at, line)
                return


def best_first(found: Sequence[Helped]) -> tuple[Helped, ...]:
    """Those that give something, the one that leaves most first."""
    return tuple(sorted((each for each in found if any(each.plans)), key=lambda each: -each.cents))


def helped(help_: Help, patterns: Sequence[Pattern] | None = None, over: Over = map) -> Helped:
    """Plan every part of a help with the same search; patterns: None for those of the wants sheet."""
    return Helped(help_, tuple(_plans(part, patterns, over) for part in help_.parts))


def _plans(part: Part, patterns: Sequence[Pattern] | None, over: Over) -> tuple[Plan, ...]:
    try:
        return plans(part.ready.bench, patterns or part.ready.bench.wants.patterns, over)
    except (NothingToSaw, CannotBeHad):
        return ()
