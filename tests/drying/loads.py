"""A checker of loads: replays one with the kiln of sample boards, which shares no code with how a load is planned.

Only the thickness that edges leave to be counted is taken from the lot: `tests/drying/test_sides.py` holds that to sections.
"""

from __future__ import annotations

import numpy as np

from waney.drying.air import joined
from waney.drying.board import dry
from waney.drying.kiln import Wanted, kiln_air, run_kiln
from waney.drying.load import Load
from waney.drying.wood_piece import piece_of

LOOK_DAYS = 0.125 * 10
"""A look every three hours, in each of at most ten steps."""


def replayed(load: Load) -> dict[str, tuple[float, float]]:
    """For each lot of a load in heated air: days until it is at its target (nan: not), and its moisture at the end."""
    assert load.plan is not None
    pace = load.pace
    warm = load.plan.steps[0].dry_c
    sample = piece_of(pace.wood, pace.counted_m, pace.start.likely, temperature_c=warm)
    run = run_kiln([sample], load.plan, Wanted(pace.target, equalise=False))
    air = joined([kiln_air(look.step) for look in run.looks])
    found = {}
    for one in load.travellers:
        lot = one.lot
        course = dry(piece_of(lot.wood, lot.counted_m, lot.start.likely, temperature_c=warm), air)
        when = course.days_to(lot.target)
        found[lot.name] = (np.nan if when is None else when, float(course.mean[-1]))
    return found


def wrong_with(load: Load) -> list[str]:
    """What a replay does not confirm, as sentences."""
    found = []
    for one, (ready, end) in zip(load.travellers, replayed(load).values(), strict=True):
        if not np.isnan(ready) and abs(ready - one.ready_days.likely) > LOOK_DAYS:
            found.append(f"{one.lot.name} is ready on day {ready:.1f}, not {one.ready_days.likely:.1f}.")
        if abs(end - one.mc_at_end.likely) > 0.005:
            found.append(f"{one.lot.name} ends at {end:.1%}, not {one.mc_at_end.likely:.1%}.")
    return found
