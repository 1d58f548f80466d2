"""Recount: the log lies otherwise than its card wanted; what the heights on the card are now worth, what other heights are, and
what laying it again would give."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from waney.sawing.as_read import AsRead, as_read, in_both, pith_heights
from waney.sawing.bench import Bench, Over
from waney.sawing.build import turn_cents
from waney.sawing.lay import outline_of
from waney.sawing.moves import PithHeights
from waney.sawing.outcome.outcome import Sawyer
from waney.sawing.outcome.worlds import likely_world
from waney.sawing.plan import Plan
from waney.sawing.search import plans
from waney.sawing.wants import Pattern, Tip

SUNK_M = 0.0127
"""1/2 in: bark and a bed that is not quite clean give no more. Common practice, no source."""

WORTH_LAYING = 0.01
"""Share of what is left that laying again must bring: less is no surer than the measures are. Our choice, no source."""


class Advice(StrEnum):
    """What to do with a log that lies otherwise than its card wanted."""

    AS_WANTED = "it lies as the card wants it"
    KEEP = "saw by the heights on the card"
    COUNTED = "saw by the heights counted again"
    LAY_AGAIN = "lay it again"


@dataclass(frozen=True)
class Comparison:
    """Pith heights wanted and read, and what is left in whole cents (points, millilitres) by each way to go on."""

    wanted: PithHeights
    read: PithHeights
    step_m: float
    """of the bed scale"""
    kept_cents: int
    """by the heights on the card, the log as it lies"""
    kept_cuts_too_wide: bool
    """one of those cuts is now wider than the mill can make"""
    counted_cents: int
    """by heights counted for the log as it lies"""
    again_cents: int
    """by the card, the log laid again as the card wants it; the time for that not taken off"""
    laying_cents: int
    """what laying it again costs: as much as a turn"""

    @property
    def as_wanted(self) -> bool:
        """Whether both readings are those of the card, to the nearest mark of the scale."""
        off = (self.read.butt_m - self.wanted.butt_m, self.read.top_m - self.wanted.top_m)
        return max(abs(by) for by in off) <= self.step_m / 2.0 + 1e-9

    @property
    def advice(self) -> Advice:
        """The way that leaves most; the least trouble on ties."""
        if self.as_wanted:
            return Advice.AS_WANTED
        kept = not self.kept_cuts_too_wide and self.kept_cents >= self.counted_cents
        here = self.kept_cents if kept else self.counted_cents
        if self.again_cents - here > max(self.laying_cents, WORTH_LAYING * abs(here)):
            return Advice.LAY_AGAIN
        return Advice.KEEP if kept else Advice.COUNTED


@dataclass(frozen=True, eq=False)
class Recount:
    """The comparison, the plans for the log as it lies (the best first), the bench they were found on, and what looks odd."""

    comparison: Comparison
    plans: tuple[Plan, ...]
    bench: Bench
    remarks: tuple[str, ...]


def recounted(bench: Bench, card: Plan, read: PithHeights, patterns: Sequence[Pattern], over: Over = map) -> Recount:
    """Count every height again. card: the best plan of the bench, whose card was followed; read: what the sawyer found.

    Raises ReadingCannotBe, NothingToSaw, CannotBeHad.
    """
    found = as_read(bench.log.shape, card.roll_deg, read, bench.mill.crossbars_m)
    here = bench_as_read(bench, found)
    counted = plans(here, patterns, over)
    kept, widest = kept_cents(bench, card, here)
    comparison = Comparison(
        wanted=pith_heights(bench.log.shape, card.lies[0]),
        read=read,
        step_m=bench.mill.step_m,
        kept_cents=kept,
        kept_cuts_too_wide=widest > bench.mill.widest_cut_m + 1e-9,
        counted_cents=counted[0].cents,
        again_cents=card.cents,
        laying_cents=turn_cents(bench.ask.effort, 1),
    )
    return Recount(comparison, counted, here, _remarks(found))


def bench_as_read(bench: Bench, found: AsRead) -> Bench:
    """The bench with the log as it lies, and nowhere else to look."""
    log = replace(bench.log, shape=found.shape)
    wants = replace(bench.wants, rolls_deg=(found.lie.roll_deg,), tips=(Tip.AS_READ,))
    return replace(bench, log=log, wants=wants, outline=outline_of(found.shape), as_it_lies=found.lie)


def kept_cents(bench: Bench, card: Plan, here: Bench) -> tuple[int, float]:
    """What is left when the log is sawn as it lies at the heights of a card [cents], and its widest cut then [m].

    Every piece is what the card says or, where it is no longer that, the best that it can still be.
    """
    assert here.as_it_lies is not None
    sawyer = Sawyer.of(card, bench)
    again = replace(sawyer, script=replace(sawyer.script, roll=here.as_it_lies.roll_on)).saw(likely_world(here))
    return sawyer.settled(again).cents, again.widest


def _remarks(found: AsRead) -> tuple[str, ...]:
    """What a sawyer should look at once more."""
    if found.sunk_m > SUNK_M:
        return (
            f"By these readings the log would lie {in_both(found.sunk_m)} deep in the bed; bark gives way by less. One of them "
            "is probably wrong: read both again, from the bed to the pith.",
        )
    if found.lie.lift_m > SUNK_M:
        return (
            f"By these readings the whole log stands {in_both(found.lie.lift_m)} over the bed: is it on blocks at both ends?",
        )
    return ()
