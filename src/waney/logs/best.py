"""The one measurement that would help most.

Every reading that could still be taken is written into the log at its likely value, with its instrument's error; the doubts are
named anew, and the result is run over the same scenarios. What saves most of the result's width is the measurement to take.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.logs.bark import Barked
from waney.logs.doubts import doubts
from waney.logs.hidden import seen_on_end
from waney.logs.measured import BarkReading, BendReading, Inside, MeasuredLog, PithReading, RoundReading
from waney.logs.outline import size_of
from waney.logs.rounds import AT_AN_END_M, one_number, place
from waney.logs.shape import LogShape
from waney.logs.swell import CLEAR_M
from waney.logs.tape import build_shape

Array = NDArray[np.float64]
Result = Callable[[LogShape], float]

NEAR = 0.12
"""A reading this near the middle, as a share of the length, stands for it."""


@dataclass(frozen=True)
class Measurement:
    """A reading that could still be taken: its words, and the log as it would stand with it."""

    name: str
    log: MeasuredLog


@dataclass(frozen=True)
class Helped:
    """What one more measurement does to a result: the range now, the range with it; width saved in the result's unit."""

    measurement: Measurement
    before: Estimate
    after: Estimate

    @property
    def saved(self) -> float:
        """Width of the range that goes away; below zero when the draw of the scenarios hides it."""
        return self.before.width - self.after.width


def range_of(log: MeasuredLog, species: Barked | None, result: Result, scenarios: Scenarios) -> Estimate:
    """A result of the shape over all scenarios, in the result's unit; likely is the result on the likely shape."""
    named = doubts(log, species)
    results = np.array([result(build_shape(log, values)) for values in scenarios.draws(named)])
    return summed_up(results, result(build_shape(log, likely(named))), Basis(Ground.READING, "log sheet", "over all its doubts"))


def ranked(
    log: MeasuredLog, species: Barked | None, result: Result, scenarios: Scenarios, now: Estimate | None = None
) -> tuple[Helped, ...]:
    """Every measurement still open, the most helpful first; equal ones in the order one walks. now: the result as it stands,
    where it is at hand.

    Costs one run over the scenarios for each: a dozen at most.
    """
    before = now or range_of(log, species, result, scenarios)
    shape = build_shape(log, likely(doubts(log, species)))
    helped = (Helped(one, before, range_of(one.log, species, result, scenarios)) for one in open_measurements(log, shape))
    return tuple(sorted(helped, key=lambda h: -h.saved))


def open_measurements(log: MeasuredLog, likely_shape: LogShape) -> tuple[Measurement, ...]:
    """What could still be read, in the order one walks."""
    return (
        *_second_diameters(log),
        *_diameters(log, likely_shape),
        *_bark(log, likely_shape),
        *_straightness(log),
        *_piths(log, likely_shape),
        *_reaches(log),
    )


def _with_round(log: MeasuredLog, reading: RoundReading) -> MeasuredLog:
    return replace(log, rounds=tuple(sorted((*log.rounds, reading), key=lambda r: r.at_m)))


def _second_diameters(log: MeasuredLog) -> Iterator[Measurement]:
    for i, reading in enumerate(log.rounds):
        if one_number(reading) and reading.diameters_m:
            both = replace(reading, diameters_m=reading.diameters_m * 2)
            rounds = (*log.rounds[:i], both, *log.rounds[i + 1 :])
            yield Measurement(f"second diameter at right angles, {_where(log, reading.at_m)}", replace(log, rounds=rounds))


def _where(log: MeasuredLog, at_m: float) -> str:
    spot = place(log, at_m)
    return f"at the {spot}" if spot in ("butt", "top") else f"{at_m:.2f} m from the butt"


def _diameters(log: MeasuredLog, shape: LogShape) -> Iterator[Measurement]:
    """Wood at an end, where it shows; over bark along the log."""
    at = [r.at_m for r in log.rounds]
    if min(at) > AT_AN_END_M:
        yield Measurement("diameter at the butt", _with_round(log, _seen(log, shape, 0.0, Inside.WOOD)))
    along = Inside.WOOD if log.bark is not None and log.bark.none_left else Inside.BARK
    clear = 0.5 * (CLEAR_M[0] + CLEAR_M[1])
    if log.butt_log is not False and log.length_m > 2.0 * clear and not any(CLEAR_M[0] <= z <= CLEAR_M[1] for z in at):
        yield Measurement("diameter 4 1/2 ft (1.37 m) from the butt", _with_round(log, _seen(log, shape, clear, along)))
    middle = 0.5 * log.length_m
    if not any(abs(z - middle) < NEAR * log.length_m for z in at):
        yield Measurement("diameter half way", _with_round(log, _seen(log, shape, middle, along)))
    if max(at) < log.length_m - AT_AN_END_M:
        yield Measurement("diameter at the top", _with_round(log, _seen(log, shape, log.length_m, Inside.WOOD)))


def _seen(log: MeasuredLog, shape: LogShape, at_m: float, over: Inside) -> RoundReading:
    """What two callipers would likely say there, read as well as the best reading of this log."""
    radii = shape.radius_m + shape.bark_m if over is Inside.BARK else shape.radius_m
    here = np.array([np.interp(at_m, shape.z_m, line) for line in radii.T])
    stated = min((r.reading_error_m for r in log.rounds if r.reading_error_m > 0.0), default=0.0)
    return RoundReading(at_m, over, (size_of(here),) * 2, reading_error_m=stated)


def _bark(log: MeasuredLog, shape: LogShape) -> Iterator[Measurement]:
    if log.bark is None or (log.bark.thickness_m is None and not log.bark.none_left):
        likely_m = float(np.median(shape.bark_m))
        yield Measurement("thickness of the bark", replace(log, bark=BarkReading(thickness_m=likely_m)))


def _straightness(log: MeasuredLog) -> Iterator[Measurement]:
    if all(bend.at_m is not None for bend in log.bends):
        yield Measurement("sweep, with a line along the log", replace(log, bends=(*log.bends, BendReading(0.0, 12.0))))


def _piths(log: MeasuredLog, shape: LogShape) -> Iterator[Measurement]:
    for end, at_m, i in (("butt", 0.0, 0), ("top", log.length_m, -1)):
        if not any(abs(p.at_m - at_m) < 0.5 * log.length_m for p in log.piths):
            x, y = (float(c) for c in shape.rings.pith_m[0, i] - shape.centre_m[i])
            yield Measurement(f"pith at the {end}", replace(log, piths=(*log.piths, PithReading(at_m, (x, y)))))


def _reaches(log: MeasuredLog) -> Iterator[Measurement]:
    for i, reading in enumerate(log.hidden):
        if seen_on_end(reading, log.length_m):
            goes_in = 0.25 * log.length_m
            at_butt = reading.from_m < 0.5 * log.length_m
            span = (0.0, goes_in) if at_butt else (log.length_m - goes_in, log.length_m)
            known = replace(reading, from_m=span[0], to_m=span[1])
            hidden = (*log.hidden[:i], known, *log.hidden[i + 1 :])
            name = f"how far the {reading.kind} at the {'butt' if at_butt else 'top'} goes in"
            yield Measurement(name, replace(log, hidden=hidden))
