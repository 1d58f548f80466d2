"""Groups: which flitches are edged together and which alone, so that most is gained.

Flitches are put in order by the height at which they can first be cut, the highest first. A group is a leader and any of the
`NEXT` flitches that follow it; of all ways to part the flitches into such groups and single ones the best is found, exactly.
Up to 1 + NEXT flitches these are all groups there are. Ties: fewer passes and standings, then more flitches with heights, then
the grouping found first.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from waney.sawing.edging.batch import Batch, batch_of
from waney.sawing.edging.flitch import Flitch
from waney.sawing.kernel.records import Ask

NEXT = 7
"""How many of those that follow in height are looked at beside each flitch. Our choice: nobody clamps more."""

Gain = tuple[int, int, int]


def best_groups(flitches: Sequence[Flitch], ask: Ask, edging_cents: float) -> tuple[Batch, ...]:
    """The groups that gain most together, in the order of their first pieces; those left over are edged alone."""
    order = sorted(flitches, key=lambda flitch: (-flitch.highest, flitch.place))
    led = [_led_by(i, order, ask, edging_cents) for i in range(len(order))]

    @cache
    def best(i: int, taken: int) -> tuple[Gain, tuple[Batch, ...]]:
        """From flitch i on, when some of those after it are taken (bits from i)."""
        if i == len(order):
            return (0, 0, 0), ()
        found = best(i + 1, taken >> 1)
        if taken & 1:
            return found
        for batch, members in led[i]:
            if not members & taken:
                gain, rest = best(i + 1, (taken | members) >> 1)
                total = _added(_gain(batch), gain)
                if total > found[0]:
                    found = total, (batch, *rest)
        return found

    return tuple(sorted(best(0, 0)[1], key=lambda batch: min(one.flitch.place for one in batch.standing)))


def _gain(batch: Batch) -> Gain:
    return batch.gained_cents, batch.spared, len(batch.standing)


def _added(a: Gain, b: Gain) -> Gain:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _led_by(i: int, order: Sequence[Flitch], ask: Ask, edging_cents: float) -> list[tuple[Batch, int]]:
    """Every group that flitch i leads and that loses nothing, with its members as bits from i."""
    found = []
    for others in range(1 << min(NEXT, len(order) - 1 - i)):
        members = others << 1 | 1
        batch = batch_of([flitch for j, flitch in enumerate(order[i : i + NEXT + 1]) if members >> j & 1], ask, edging_cents)
        if batch is not None and batch.gained_cents >= 0:
            found.append((batch, members))
    return found
