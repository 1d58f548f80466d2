"""Flat rolls: how a log that has flats already can be laid: each of them down, up, or upright against the backstops."""

from __future__ import annotations

from dataclasses import dataclass

from waney.logs.measured import MeasuredLog

SAME_DEG = 1e-6


@dataclass(frozen=True)
class Rolls:
    """The rolls that the flats of a log ask for, and whether it lies steadily on no others."""

    flats_deg: tuple[float, ...] = ()
    only_flats: bool = False

    def among(self, every_deg: tuple[float, ...]) -> tuple[float, ...]:
        """Both, rising; of two that are the same, the flat's."""
        others = [roll for roll in every_deg if not any(_same(roll, flat) for flat in self.flats_deg)]
        return tuple(sorted((*self.flats_deg, *others)))


ALL_ROUND = Rolls()
"""A log without flats."""


def rolls_of(log: MeasuredLog) -> Rolls:
    """What the flats of a log ask for. With two or more it would stand on an edge at any other roll, so there are no others."""
    found: list[float] = []
    for flat in log.flats:
        for quarters in range(4):
            roll = (_down_deg(flat.clock_h) + 90.0 * quarters) % 360.0
            if not any(_same(roll, other) for other in found):
                found.append(roll)
    return Rolls(tuple(sorted(found)), len(log.flats) > 1)


def _down_deg(clock_h: float) -> float:
    """The roll, clockwise seen from the butt, that turns a clock position down to the bed.

    >>> _down_deg(6), _down_deg(3), _down_deg(12)
    (0.0, 90.0, 180.0)
    """
    return (180.0 - 30.0 * clock_h) % 360.0


def _same(a: float, b: float) -> bool:
    return abs((a - b + 180.0) % 360.0 - 180.0) < SAME_DEG
