"""Wanted lengths: a list, or every whole foot (quarter metre) from the least up to what the log gives."""

from __future__ import annotations

from math import floor

from waney.pieces.measures import FOOT_M
from waney.sawing.sheets.defaults import Fields
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import list_of

LEAST_STEPS = (4, 5)
"""Shortest length wanted when nothing is said: 4 ft, or 5 x 0.25 m = 1.25 m. Common practice, no source."""


def wanted_lengths(fields: Fields, m: Measures, log_length_m: float, trim_m: float) -> tuple[float, ...]:
    """Lengths in metres, rising, without trim; never empty."""
    typed = fields.table.take("lengths", list_of(m.length_from(0.05, 50.0)))
    least = fields.table.take("least_length", m.length_from(0.05, 50.0))
    if typed and least is not None:
        fields.table.note("least_length", "lengths are listed already; keep one of the two lines.")
    if typed:
        return tuple(sorted(set(typed)))
    if least is not None:
        return in_steps(least, log_length_m - trim_m, m.imperial) or (least,)
    return _usual(fields, m, log_length_m - trim_m)


def in_steps(least_m: float, most_m: float, imperial: bool) -> tuple[float, ...]:
    """The least length itself, and every whole foot or quarter metre above it, not over the most [m]."""
    step = step_m(imperial)
    first, last = floor(least_m / step + 1e-9) + 1, floor(most_m / step + 1e-9)
    steps = tuple(round(n * step, 9) for n in range(first, last + 1))
    return ((least_m,) if least_m <= most_m + 1e-9 else ()) + steps


def step_m(imperial: bool) -> float:
    """A foot, or a quarter of a metre [m]."""
    return FOOT_M if imperial else 0.25


def _usual(fields: Fields, m: Measures, most_m: float) -> tuple[float, ...]:
    step = step_m(m.imperial)
    fewest = min(LEAST_STEPS[0 if m.imperial else 1], floor(most_m / step + 1e-9))
    if fewest < 1:
        only = max(most_m, 0.05)
        fields.note("least_length", f"{m.written(only)}, all that this short log gives")
        return (only,)
    says = f"{m.written(fewest * step)}, then every {'whole foot' if m.imperial else '0.25 m'} that the log gives"
    fields.note("least_length", says)
    return in_steps(round(fewest * step, 9), most_m, m.imperial)
