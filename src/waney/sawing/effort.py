"""Effort: a mill's limits and rates as the kernel wants them."""

from __future__ import annotations

import numpy as np

from waney.sawing.kernel.records import Effort
from waney.sawing.mill import Mill


def effort_of(mill: Mill, *, hardwood: bool, metal_margin_m: float) -> Effort:
    """The mill's limits and rates for one kind of wood. Costs that were not typed count nothing."""
    wear = mill.blade_cents / mill.blade_life_m2 if mill.blade_cents and mill.blade_life_m2 else 0.0
    return Effort(
        widest=mill.widest_cut_m,
        lowest=mill.lowest_m,
        highest=mill.highest_m,
        backstop=mill.backstop_lowest_m,
        thickest=mill.thickest_m if mill.thickest_m is not None else np.inf,
        cents_per_min=(mill.hourly_cents or 0.0) / 60.0,
        pass_min=mill.minutes_per_pass,
        turn_min=mill.minutes_per_turn,
        load_min=mill.minutes_per_loading,
        edge_min=mill.minutes_per_edging,
        feed_width=np.array([f.width_m for f in mill.feeds], float),
        feed_speed=np.array([f.hard_m_per_min if hardwood else f.soft_m_per_min for f in mill.feeds], float),
        wear_per_m2=wear,
        blade=mill.blade_cents or 0.0,
        metal_margin=metal_margin_m,
    )
