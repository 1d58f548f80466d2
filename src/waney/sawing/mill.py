"""Mill: what one bandsaw mill can do and what its work costs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.estimate import Estimate


class End(StrEnum):
    """An end of the log on the bed."""

    BUTT = "butt"
    TOP = "top"


@dataclass(frozen=True)
class Feed:
    """How fast the band goes through a cut of this width [m]: metres a minute in softwood and in hardwood."""

    width_m: float
    soft_m_per_min: float
    hard_m_per_min: float


@dataclass(frozen=True)
class Mill:
    """One mill. Metres, kilograms, minutes, cents. The first five are asked; the rest have printed defaults."""

    kerf_m: float
    widest_cut_m: float
    """between the guides"""
    lowest_m: float
    highest_m: float
    """underside of the blade above the bed"""
    bed_length_m: float
    step_m: float
    """bed scale step; every bed height is a whole number of these"""
    name: str = "mill"
    thickest_m: float | None = None
    """thickest piece that passes under the head above the blade; None: not limited"""
    backstop_lowest_m: float = 0.0
    backstop_highest_m: float | None = None
    crossbars_m: tuple[float, ...] = ()
    """from the butt end of the bed; empty: the bed is taken as a plane"""
    heaviest_log_kg: float | None = None
    heaviest_turn_alone_kg: float | None = None
    heaviest_turn_helped_kg: float | None = None
    sawyer_stands_at: End = End.BUTT
    scale_error_m: float = 0.0
    """what the bed scale itself may be wrong by (constant)"""
    sawing_sd_m: Estimate | None = None
    """standard deviation of thickness between boards set alike"""
    feeds: tuple[Feed, ...] = ()
    """rising by width; between them linear, outside held"""
    minutes_per_pass: float = 0.0
    """besides feeding: return, setting, taking the piece off"""
    minutes_per_turn: float = 0.0
    minutes_per_edging: float = 0.0
    """standing a batch on edge and clamping it, once a batch"""
    minutes_per_loading: float = 0.0
    hourly_cents: float | None = None
    blade_cents: float | None = None
    blade_life_m2: float | None = None
    """sawn face area of one blade"""
