"""One pass: whether the mill can do it, and what it costs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waney.logs.measured import Hidden
from waney.sawing.check.inside import rod_of
from waney.sawing.check.sections import Sections
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.mill import Mill
from waney.sawing.moves import Pass

SLACK_M = 1e-6


@dataclass(frozen=True)
class Costs:
    """What passes and other work cost on one mill, in cents, not rounded."""

    mill: Mill
    hardwood: bool

    def minutes(self, minutes: float) -> float:
        """Time at the hourly rate; nothing when there is none."""
        return minutes * (self.mill.hourly_cents or 0.0) / 60.0

    def cut(self, width_m: float, length_m: float) -> float:
        """One pass: its own minutes, feeding, and the band's wear."""
        feeding = length_m / self._feed(width_m) if self.mill.feeds else 0.0
        return self.minutes(self.mill.minutes_per_pass + feeding) + self._wear(width_m * length_m)

    def metal(self, chance: float) -> float:
        """The band that may be lost."""
        return chance * (self.mill.blade_cents or 0.0)

    def _wear(self, area_m2: float) -> float:
        if self.mill.blade_cents is None or self.mill.blade_life_m2 is None:
            return 0.0
        return area_m2 * self.mill.blade_cents / self.mill.blade_life_m2

    def _feed(self, width_m: float) -> float:
        widths = [feed.width_m for feed in self.mill.feeds]
        speeds = [feed.hard_m_per_min if self.hardwood else feed.soft_m_per_min for feed in self.mill.feeds]
        return float(np.interp(width_m, widths, speeds))


def near_metal(sections: Sections, height_m: float, kerf_m: float, margin_m: float) -> tuple[float, ...]:
    """Chances of the metal zones that the band comes within margin of."""
    metal = (zone for zone in sections.left.shape.zones if zone.kind is Hidden.METAL)
    rods = (rod_of(zone, sections.lie) for zone in metal)
    found = []
    for rod in rods:
        reach = rod.radius_m + margin_m
        for station in sorted(rod.counts_at(sections.w_m)):
            u, v = rod.centre(float(sections.w_m[station]))
            gap = max(height_m - v, v - height_m - kerf_m, 0.0)
            room = sections.between_planes(station, min(max(v, height_m), height_m + kerf_m))
            if gap <= reach and room is not None and u + rod.radius_m > room[0] and u - rod.radius_m < room[1]:
                found.append(rod.chance)
                break
    return tuple(found)


def check_limits(move: Pass, mill: Mill, sections: Sections, above_m: float) -> float:
    """The widest cut of this pass [m]; raises Difference when the mill cannot do it. `above_m` is as in the design."""
    height = move.height_steps * mill.step_m
    what = f"The pass for {move.comes_off} at {height:.4f} m"
    if height < mill.lowest_m - SLACK_M or height > mill.highest_m + SLACK_M:
        raise Difference(Reason.LIMIT, f"{what} is outside the blade's {mill.lowest_m:.4f} to {mill.highest_m:.4f} m.")
    _check_backstops(what, height, move, mill)
    if mill.thickest_m is not None and above_m > mill.thickest_m + SLACK_M:
        raise Difference(Reason.LIMIT, f"{what} has {above_m:.4f} m above it; {mill.thickest_m:.4f} m pass under the head.")
    widest = sections.widest_m(height)
    if widest <= 0:
        raise Difference(Reason.AIR, f"{what} meets no wood and no bark.")
    if widest > mill.widest_cut_m + SLACK_M:
        raise Difference(Reason.LIMIT, f"{what} is {widest:.4f} m wide; the guides open {mill.widest_cut_m:.4f} m.")
    return widest


def _check_backstops(what: str, height: float, move: Pass, mill: Mill) -> None:
    if height <= mill.backstop_lowest_m + 1e-9:
        raise Difference(Reason.BACKSTOP, f"{what} runs into backstops that go no lower than {mill.backstop_lowest_m:.4f} m.")
    if not mill.backstop_lowest_m - SLACK_M <= move.backstop_at_most_m <= height + SLACK_M:
        raise Difference(Reason.BACKSTOP, f"{what} would have backstops and clamps up to {move.backstop_at_most_m:.4f} m.")
