"""Sawn log: every cross-section of a log walked through a plan, so that what each pass takes off can be weighed and measured."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from waney.logs.measured import Hidden
from waney.logs.shape import LogShape, Zone
from waney.sawing.facts.walk import Walked, walked
from waney.sawing.mill import Mill
from waney.sawing.plan import Plan

Array = NDArray[np.float64]
Band = tuple[float, float]
"""Lowest and highest point above the bed [m]."""


@dataclass(frozen=True, eq=False)
class SawnLog:
    """A log's cross-sections at all its stations, each walked through all moves of a plan."""

    plan: Plan
    shape: LogShape
    mill: Mill
    sections: tuple[Walked, ...]

    @classmethod
    def of(cls, plan: Plan, shape: LogShape, mill: Mill) -> SawnLog:
        """Walk all stations."""
        return cls(plan, shape, mill, tuple(walked(plan, shape, mill, i) for i in range(len(shape.z_m))))

    def weighed(self, area: Callable[[Walked], shapely.Geometry], bark_density: float) -> float:
        """Volume [m3] of a part of every section, its bark counted at so much of the wood's density."""
        return self._volume([_weighed(section, area(section), bark_density) for section in self.sections])

    def share_off(self, cut: int, bark_density: float) -> float:
        """Share of the log's mass that a cut (from 1) takes off."""
        return self.weighed(lambda s: s.parts[cut - 1].with_bark, bark_density) / self._whole(bark_density)

    def share_on_bed(self, lie: int, bark_density: float) -> float:
        """Share of the log's mass that lies on the bed when a lie begins."""
        return self.weighed(lambda s: s.on_bed[lie], bark_density) / self._whole(bark_density)

    def _whole(self, bark_density: float) -> float:
        return self.weighed(lambda s: s.bark, bark_density)

    def _volume(self, areas: list[float]) -> float:
        """Areas between stations run straight."""
        return float(np.trapezoid(areas, self.shape.z_m))

    def widest_m(self, cut: int) -> float:
        """Widest place of a cut (from 1) over bark."""
        return max(_length(section, cut) for section in self.sections)

    def face_m(self, cut: int) -> tuple[float, float]:
        """Width inside bark of the face that a cut (from 1) opens, at the butt and at the top end."""
        ends = (self.sections[0], self.sections[-1])
        butt, top = (_face(section, cut) for section in ends)
        return butt, top

    def size_m(self, lie: int) -> tuple[float, float]:
        """Height and width over bark of what lies on the bed when a lie begins, at the butt end."""
        butt = self.sections[0]
        uv = butt.planes[lie].uv(np.array(shapely.get_coordinates(butt.on_bed[lie])))
        return float(uv[:, 1].max()), float(np.ptp(uv[:, 0]))

    def zones(self, lie: int, *kinds: Hidden) -> tuple[tuple[Zone, Band], ...]:
        """Zones of these kinds that are still on the bed when a lie begins, each with the heights it takes up."""
        return tuple((zone, self._band(zone, lie)) for zone in self.shape.zones if zone.kind in kinds and self._there(zone, lie))

    def piths(self, lie: int) -> tuple[Band, ...]:
        """The heights that each pith takes up in a lie, from end to end."""
        rings = self.shape.rings
        lines = (self.plan.lies[lie].there(np.column_stack([pith, rings.z_m]))[:, 1] for pith in rings.pith_m)
        return tuple((float(line.min()), float(line.max())) for line in lines)

    def _band(self, zone: Zone, lie: int) -> Band:
        axis = np.array([(zone.x_m, zone.y_m, zone.from_m), (zone.x_m, zone.y_m, zone.to_m)])
        heights = self.plan.lies[lie].there(axis)[:, 1]
        return float(heights.min()) - zone.radius_m, float(heights.max()) + zone.radius_m

    def _there(self, zone: Zone, lie: int) -> bool:
        middle = (zone.from_m + zone.to_m) / 2.0
        section = self.sections[int(np.abs(self.shape.z_m - middle).argmin())]
        return bool(section.on_bed[lie].intersects(shapely.Point(zone.x_m, zone.y_m).buffer(zone.radius_m)))


def _weighed(section: Walked, area: shapely.Geometry, bark_density: float) -> float:
    wood = area.intersection(section.wood).area
    return float(wood + bark_density * (area.area - wood))


def _length(section: Walked, cut: int) -> float:
    stroke = section.cuts[cut - 1].stroke
    return 0.0 if stroke is None else float(shapely.LineString(stroke).length)


def _face(section: Walked, cut: int) -> float:
    stroke = section.cuts[cut - 1].stroke
    return 0.0 if stroke is None else float(shapely.LineString(stroke).intersection(section.wood).length)
