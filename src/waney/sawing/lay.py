"""Lay: one log on one mill in one lie, worked out as far as arrays, ready to be judged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.frames import Placing
from waney.logs.rings import UNDEFINED_WITHIN_M, RingField
from waney.logs.shape import LogShape
from waney.sawing.effort import effort_of
from waney.sawing.kernel.records import Ask, Obstacles, Rings, Sections, Variation
from waney.sawing.kernel.sections import cut_sections
from waney.sawing.kernel.through import turned_over
from waney.sawing.lie import Lie, half_turned
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Mill
from waney.sawing.obstacles import obstacles_of
from waney.sawing.orders import orders_of
from waney.sawing.wants import Wants

Array = NDArray[np.float64]

DEFAULT_SD = Estimate(0.0254 / 32, 0.0254 / 64, 0.0254 / 16, Basis(Ground.DEFAULT, "", "1/32 in between boards set alike"), 0.0)
"""Sawing variation of a mill whose boards nobody has measured [m]."""


class Outline(NamedTuple):
    """The shape's outline points before they are laid on the bed: (n, m, 3) inside bark, over bark; log frame [m]."""

    wood: Array
    bark: Array


def outline_of(shape: LogShape) -> Outline:
    """Both surfaces of a shape, worked out once for all lies."""
    return Outline(np.ascontiguousarray(shape.surface(bark=False)), np.ascontiguousarray(shape.surface(bark=True)))


def sections_of(outline: Outline, to_saw: Placing) -> Sections:
    """Cut the log at its stations, as it lies."""
    return cut_sections(outline.wood, outline.bark, np.array(to_saw.turn), np.array(to_saw.shift))


def rings_of(field: RingField, to_saw: Placing) -> Rings:
    """The ring field of a log as it lies."""
    turn, shift = np.array(to_saw.turn), np.array(to_saw.shift)
    return Rings(field.z_m, field.pith_m, field.reach_m, turn, shift, UNDEFINED_WITHIN_M)


@dataclass(frozen=True, eq=False)
class Laid:
    """Sections, rings and obstacles of a log as it lies."""

    to_saw: Placing
    sections: Sections
    rings: Rings
    obstacles: Obstacles


def laid(log: LogToSaw, outline: Outline, lie: Lie) -> Laid:
    """Lay a log down."""
    return laid_at(log, outline, lie.to_saw)


def laid_at(log: LogToSaw, outline: Outline, to_saw: Placing) -> Laid:
    """Lay a log down where a rigid move brings it."""
    sections = sections_of(outline, to_saw)
    return Laid(to_saw, sections, rings_of(log.shape.rings, to_saw), obstacles_of(log.shape, to_saw, sections.w))


def laid_over(log: LogToSaw, first: Laid, height_m: float) -> Laid:
    """The same log after a half turn about a plane that stood at this height."""
    over = half_turned(first.to_saw, height_m)
    sections = turned_over(first.sections, height_m)
    return Laid(over, sections, rings_of(log.shape.rings, over), obstacles_of(log.shape, over, sections.w))


def ask_of(log: LogToSaw, mill: Mill, wants: Wants) -> Ask:
    """What is the same in every lie."""
    sd = (mill.sawing_sd_m or DEFAULT_SD).likely
    return Ask(
        orders=orders_of(wants, log.shrinking, mill.step_m, mill.kerf_m),
        effort=effort_of(mill, hardwood=log.hardwood, metal_margin_m=wants.metal_margin_m),
        own=wants.own_settings,
        variation=Variation(sd, mill.scale_error_m, wants.share_finishing),
        step=mill.step_m,
        kerf=mill.kerf_m,
    )
