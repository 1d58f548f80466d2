"""Plain: what the page at the mill offers where it has no module, so that everything is chosen and nothing typed."""

from __future__ import annotations

from dataclasses import dataclass

from waney.papers.words import Measure
from waney.web.mill.fold import Called, Stands, called
from waney.web.mill.gather import EIGHTHS, NO_EIGHTH_STEPS
from waney.web.mill.holds import Holds

CLOCK = tuple(range(1, 13))
MOST_EIGHTHS = 4
"""the largest miss that is offered, as in the page's module"""
MOST_PIECES = 12
"""of the last cuts, to which a tag can be told"""
REACH_M = 0.1016
"""how far above and below its place in the plan the pith is looked for: 4 in; common practice, no source"""


@dataclass(frozen=True)
class PithEnd:
    """The pith at one end of the log: its height in the plan, and heights to choose from, in marks of the scale and in words."""

    end: str
    planned_steps: int
    heights: tuple[tuple[int, str], ...]


def misses(holds: Holds) -> tuple[tuple[int, str], ...]:
    """By how much a piece may have come off too thick or too thin: marks of the scale, in words."""
    eighth = holds.at_mill.eighth_steps if holds.at_mill else NO_EIGHTH_STEPS
    return tuple((n * eighth, words) for n, words in zip(EIGHTHS, holds.eighths, strict=True) if n <= MOST_EIGHTHS)


def lately(holds: Holds) -> tuple[Called, ...]:
    """Pieces to staple a tag on, the one that came off last first."""
    return called(holds.done)[: -MOST_PIECES - 1 : -1]


def pith_heights(holds: Holds, now: Stands) -> tuple[PithEnd, ...]:
    """Where the pith can be told to stand now, at the butt and at the top. Nothing without a plan."""
    mill = holds.at_mill
    if mill is None or not mill.steps:
        return ()
    lie = mill.steps[-1 if now.step is None else now.step].lie
    return tuple(_end(holds, name, steps) for name, steps in zip(("butt", "top"), mill.pith_steps[lie], strict=True))


def _end(holds: Holds, name: str, planned: int) -> PithEnd:
    assert holds.at_mill is not None
    printed, reach = holds.at_mill.printed, round(REACH_M / holds.step_m)
    there = range(max(0, planned - reach), min(len(printed), planned + reach + 1))
    return PithEnd(name, planned, tuple((steps, str(Measure(*printed[steps]))) for steps in there))
