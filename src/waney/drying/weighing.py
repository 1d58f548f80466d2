"""A weight read off a weighing scale: in one go or one end at a time, less sling and stickers, with the error of its marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem

MARK_SPREAD = 1.0 / sqrt(12.0)
"""Standard error of a reading to the nearest mark, in marks: evenly spread over one of them."""
END_ERROR = 0.003
"""Standard error of a weight read one end at a time, share of the weight: the end that rests is neither level nor at the
very end. Common practice, no source."""


class BadWeighing(Problem):
    """A weight that cannot be, or one that says nothing."""


@dataclass(frozen=True)
class WeighingScale:
    """mark: between two marks of the weighing scale, or the last digit it shows [kg]; own: standard error of the scale beside its
    marks, share of the weight."""

    mark_kg: float
    own: float = 0.0

    def error_kg(self, weight_kg: float, readings: int = 1) -> float:
        """Standard error of a weight that took so many readings [kg]."""
        return hypot(self.mark_kg * MARK_SPREAD * sqrt(readings), self.own * weight_kg)

    def mark_in_mc(self, dry_kg: float) -> float:
        """What one mark means in moisture for a piece of this oven-dry weight [-].

        >>> round(WeighingScale(0.5).mark_in_mc(20.0), 3)
        0.025
        """
        if dry_kg <= 0.0:
            raise BadWeighing(f"An oven-dry weight of {dry_kg:g} kg cannot be: give more than zero.")
        return self.mark_kg / dry_kg


@dataclass(frozen=True)
class Weight:
    """Weight of the wood alone [kg] and its standard error [kg]."""

    kg: float
    error_kg: float

    @property
    def estimate(self) -> Estimate:
        """The weight with its 5 and 95 % points [kg]."""
        reach = Z_95 * self.error_kg
        return Estimate(self.kg, max(self.kg - reach, 0.0), self.kg + reach, Basis(Ground.READING, "weighing scale"), 0.0)


def weighed(readings_kg: Sequence[float], scale: WeighingScale, *, tare_kg: float = 0.0) -> Weight:
    """The wood's weight from one reading, or from two, one end of the piece after the other with the other end on a block.

    tare: sling, stickers and blocks that hung with it, over all readings together [kg]. By the balance of moments both ends
    together bear all of it, wherever the centre of mass lies, so long as the piece is level and held at its very ends.
    Raises BadWeighing for other counts, or where the tare is as heavy as all.
    """
    if len(readings_kg) not in (1, 2) or min(readings_kg, default=0.0) <= 0.0:
        raise BadWeighing("A piece is weighed in one reading, or in two, one end after the other; each above zero.")
    total = sum(readings_kg) - tare_kg
    if tare_kg < 0.0 or total <= 0.0:
        raise BadWeighing(f"A tare of {tare_kg:g} kg from {sum(readings_kg):g} kg leaves no wood: weigh the sling alone.")
    return weight_of(total, scale, ends=len(readings_kg) == 2)


def weight_of(kg: float, scale: WeighingScale, *, ends: bool = False) -> Weight:
    """A weight of the wood alone [kg] with its error; ends: it was weighed one end after the other."""
    return Weight(kg, hypot(scale.error_kg(kg, 2 if ends else 1), END_ERROR * kg if ends else 0.0))


def gain_from(last: Weight) -> float:
    """The weight above which a piece that dries is asked about [kg]: more than the last by what the weighing scale may be off
    both times. Rain, another piece or a forgotten tare are likelier than a gain; and yet a gain can be."""
    return last.kg + Z_95 * sqrt(2.0) * last.error_kg


def lightest(dry_kg: Estimate) -> float:
    """The weight below which it is asked about [kg]: the least that it can be oven dry."""
    return dry_kg.low


def at_moisture(dry_kg: Estimate, mc: float) -> Estimate:
    """What a piece weighs at moisture `mc` [-] by its oven-dry weight [kg]: the figure for its tag."""
    low, likely, high = (kg * (1.0 + mc) for kg in (dry_kg.low, dry_kg.likely, dry_kg.high))
    return Estimate(likely, low, high, dry_kg.basis, 0.0)


def coarse(scale: WeighingScale, dry_kg: float, least_mc: float = 0.01) -> str:
    """What is said before a coarse weighing scale is trusted; empty when one mark is `least_mc` [-] or less."""
    mark = scale.mark_in_mc(dry_kg)
    if mark <= least_mc:
        return ""
    return f"One mark of this weighing scale is {mark * 100:.1f} % moisture for this piece: only large changes can be told by it."
