"""A kiln held to the safe rate: the schedule's air, but milder wherever wood would lose more a day than it may.

A schedule says how harsh air may be at most; who dries by the safe rate damps it as long as a day loses too much. How mild is
looked for in 256ths of the step's depression, as finely as no kiln is set: what a shop gets is a little slower.
"""

from __future__ import annotations

from functools import lru_cache

from waney.drying.air import DAY, HOUR, filmed
from waney.drying.board import Drying, dry
from waney.drying.kernel.records import AirSteps
from waney.drying.kiln import MOST_DAYS, LoadNeverDry, kiln_air
from waney.drying.schedules import Schedule, Step
from waney.units.share import print_share

PARTS = 256
"""Parts of a step's depression that a kiln is set by: ours, a choice."""
BLOCK_H = 6.0
"""Hours between two looks [h]."""
TRIES = 12
"""Settings tried at a look at most."""


def milder(step: Step, parts: int) -> Step:
    """A step with so many of PARTS of its depression, as hot as it was."""
    return Step(step.from_mc, step.dry_c, step.dry_c - parts / PARTS * (step.dry_c - step.wet_c))


@lru_cache(maxsize=4096)
def _air(step: Step, film: float) -> AirSteps:
    return filmed(kiln_air(step, BLOCK_H, 2), film)


def days_held(piece: Drying, plan: Schedule, target: float, safe_a_day: float, film: float) -> float:
    """Days that one piece takes to `target` [-] by its own moisture, no day losing more than `safe_a_day` [share of dry mass],
    without equalising; film: film factor [-]. Where even the mildest air takes more, the mildest rules. Raises LoadNeverDry."""
    days, setting, most = 0.0, PARTS, safe_a_day * BLOCK_H * HOUR / DAY
    while piece.mean > target:
        setting, end = _look(piece, plan.at(piece.mean), setting, most, film)
        share = min((piece.mean - target) / max(piece.mean - end.mean, 1e-12), 1.0)
        days, piece = days + share * BLOCK_H * HOUR / DAY, end
        if days > MOST_DAYS:
            raise LoadNeverDry(
                f"After {MOST_DAYS} days the piece stands at {print_share(piece.mean, 1)}, not at {print_share(target)}."
            )
    return days


def _look(piece: Drying, step: Step, setting: int, most: float, film: float) -> tuple[int, Drying]:
    """The harshest setting found, from the last one on, that loses no more than `most`; and the piece after it."""
    kept: tuple[int, Drying] | None = None
    too_much = PARTS + 1
    for _ in range(TRIES):
        end = dry(piece, _air(milder(step, setting), film)).end
        lost = piece.mean - end.mean
        if lost > most:
            if setting == 1:
                return setting, end
            too_much = setting
        else:
            kept = setting, end
        below = kept[0] if kept else 0
        setting = max(1, min(too_much - 1, int(setting * most / lost) if lost > 0.0 else PARTS))
        if setting <= below:
            break
    return kept or (setting, end)
