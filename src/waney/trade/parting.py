"""Parting: on shares, which whole pieces stay with the sawyer: log by log, as near to the share as pieces allow, never above."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction
from math import floor

from waney.figures.problem import Problem
from waney.trade.log_tally import TENTHS, LogTally
from waney.units.share import print_share


class BadParting(Problem):
    """Pieces that cannot be parted so."""


def parted(logs: Sequence[LogTally], share: float) -> tuple[str, ...]:
    """Names of the pieces that the sawyer keeps, in the order of the logs.

    What whole pieces leave short of the share at one log is made good at the next, so that both have of every wood and the
    whole is short by less than at any one log. Largest sum first; among equal ones the one that takes the earlier pieces.
    """
    if not 0.0 <= share <= 1.0:
        raise BadParting(f"A share of {print_share(share)} is none; write from 0 to 100 %.")
    exact, kept, so_far, tallied = Fraction(str(share)), [], 0, 0
    for log in logs:
        tallied += log.tenths
        room = floor(exact * tallied) - so_far
        lines = [line for line in log.lines if line.tenths]
        for index in _fill([line.tenths for line in lines], room):
            kept.append(lines[index].piece.name)
            so_far += lines[index].tenths
    return tuple(kept)


def _fill(sizes: Sequence[int], room: int) -> list[int]:
    """Which of these sizes, each at most once, come nearest to the room from below. Sums in reach are bits of a number."""
    reach = [1]  # reach[n]: sums of the last n sizes
    for size in reversed(sizes):
        reach.append((reach[-1] | reach[-1] << size) & ((1 << room + 1) - 1))
    left, taken = reach[-1].bit_length() - 1, []
    for index, size in enumerate(sizes):
        if left >= size and reach[len(sizes) - index - 1] >> left - size & 1:
            taken.append(index)
            left -= size
    return taken


def kept_board_feet(logs: Sequence[LogTally], kept: Collection[str]) -> float:
    """Board feet of the pieces that stay with the sawyer. Raises BadParting for a name that is none of these pieces."""
    tenths = {line.piece.name: line.tenths for log in logs for line in log.lines}
    strange = sorted(set(kept) - tenths.keys())
    if strange:
        raise BadParting(f"{', '.join(strange)}: not measured, or off no log of this job.")
    return sum(tenths[name] for name in kept) / TENTHS
