"""The year of a width in words: when it is narrowest and widest, how much it moves, what that stands on."""

from __future__ import annotations

from functools import partial

from waney.papers.ranges import Points, spread
from waney.papers.words import Shop, exact
from waney.units.moisture import print_mc
from waney.wood.weather import MONTHS

AIR_AND_LAG = "air of the room and lag: common practice, no source"


def month_name(month: int) -> str:
    """January is 1."""
    return MONTHS[month - 1].capitalize()


def end_words(month: int, wide: Points, mc: Points, shop: Shop) -> str:
    """One end of the year: the month, the width with its range, the moisture."""
    sizes = f"{shop.read(wide.likely)} ({shop.read(wide.low)} to {shop.read(wide.high)})"
    return f"in {month_name(month)}: {sizes}, at {spread(mc, print_mc)}"


def moves_words(moves: Points, lag_days: Points, shop: Shop) -> str:
    """How much it moves, finer than a rule reads, and how late it is."""
    likely, low, high = map(partial(exact, metric=shop.sizes.metric), (moves.likely, moves.low, moves.high))
    lag = f"{lag_days.likely:.0f} days ({lag_days.low:.0f} to {lag_days.high:.0f})"
    return f"moves {likely} ({low} to {high}) over the year; follows the air with a lag of {lag}"
