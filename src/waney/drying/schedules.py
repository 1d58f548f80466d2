"""Conventional kiln schedules: a code such as T4-D2 becomes steps of dry and wet bulb, each from a moisture on.

UnknownSchedule    no such code, or no code for this wood and thickness
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from waney.figures.problem import Problem
from waney.figures.tables import Row, table
from waney.units.temperature import celsius
from waney.wood.emc import equilibrium_moisture, humidity_for
from waney.wood.vapour import humidity_of_bulbs, wet_bulb

CODE = re.compile(r"^(T\d{1,2})-([A-F][1-8])$")
THICK_M = 0.0445
"""Up to here (6/4 green, 1 3/4 in) the first code of a wood holds, above it that for 8/4 [m]."""
TOO_THICK_M = 0.060
"""Above 8/4 green the book has no code: it says to be milder [m]."""
MILDEST_TEMPERATURE, MILDEST_DEPRESSION = 3, 1
"""10/4 and thicker: T3 at most, depression schedule 1. fpl-ah-188, from memory."""
COLDEST_WET_C = 32.2
"""90 °F: the lowest wet bulb that many kilns can hold; the modified tables of FPL-GTR-57 stop there."""


class UnknownSchedule(Problem):
    """No schedule of that name, or none for that wood."""


@dataclass(frozen=True)
class Step:
    """One step: holds from the moisture `from_mc` [-] down (None: from the start); dry and wet bulb [°C]."""

    from_mc: float | None
    dry_c: float
    wet_c: float

    @property
    def humidity(self) -> float:
        """Of its air [-]."""
        return humidity_of_bulbs(self.dry_c, self.wet_c)

    @property
    def emc(self) -> float:
        """Moisture that wood would settle at [-]."""
        return equilibrium_moisture(self.dry_c, self.humidity)


@dataclass(frozen=True)
class Schedule:
    """A schedule's code and its steps, from green to dry."""

    code: str
    steps: tuple[Step, ...]

    def at(self, mc: float) -> Step:
        """The step for a controlling moisture [-]: the last one that has begun."""
        begun = [step for step in self.steps if step.from_mc is None or mc <= step.from_mc + 1e-12]
        return begun[-1]


@cache
def _rows(code: str) -> tuple[Row, ...]:
    return tuple(row for row in table("kiln_schedules") if row["code"] == code)


def _value(rows: tuple[Row, ...], mc: float | None, column: str) -> float:
    """The column of the step that rules at moisture `mc` [%]; None: above every step."""
    begun = [row for row in rows if not row["from_mc_pct"] or (mc is not None and mc <= float(row["from_mc_pct"]))]
    return float(begun[-1][column])


def schedule(code: str, coldest_wet_c: float | None = COLDEST_WET_C) -> Schedule:
    """The steps of a code. A wet bulb below `coldest_wet_c` is held there; None for the book's own figures.

    Raises UnknownSchedule. Source: fpl-ah-188 chapter 7, from memory.
    """
    parts = CODE.match(code.strip().upper())
    temperatures, depressions = (_rows(parts.group(1)), _rows(parts.group(2))) if parts else ((), ())
    if not temperatures or not depressions:
        raise UnknownSchedule(f"{code!r} is no schedule: write one such as T4-D2, T1 to T14 with A to F and 1 to 8.")
    marks = sorted({float(row["from_mc_pct"]) for row in temperatures + depressions if row["from_mc_pct"]}, reverse=True)
    steps = [_step(temperatures, depressions, mark, coldest_wet_c) for mark in (None, *marks)]
    kept = [
        step for i, step in enumerate(steps) if i == 0 or (step.dry_c, step.wet_c) != (steps[i - 1].dry_c, steps[i - 1].wet_c)
    ]
    return Schedule(code.strip().upper(), tuple(kept))


def _step(temperatures: tuple[Row, ...], depressions: tuple[Row, ...], mark: float | None, coldest: float | None) -> Step:
    dry_f = _value(temperatures, mark, "dry_bulb_f")
    wet_c = celsius(dry_f - _value(depressions, mark, "depression_f"))
    held = wet_c if coldest is None else max(wet_c, min(coldest, celsius(dry_f)))
    return Step(None if mark is None else mark / 100.0, celsius(dry_f), held)


def code_for(species_id: str, thickness_m: float) -> str:
    """The code of a wood at a green thickness [m]. Raises UnknownSchedule for a wood without one.

    Above 8/4 the code for 8/4 is made milder as the book says: at most T3, depression schedule 1.
    """
    row = next((row for row in table("kiln_codes") if species_id in row["species_ids"].split()), None)
    code = "" if row is None else row["up_to_6_4"] if thickness_m <= THICK_M else row["at_8_4"]
    if not code:
        raise UnknownSchedule(
            f"No kiln schedule is known for {species_id} at {thickness_m * 1000:.0f} mm: write a code such as T3-A1."
        )
    return code if thickness_m <= TOO_THICK_M else _milder(code)


def _milder(code: str) -> str:
    parts = CODE.match(code)
    assert parts is not None
    number = min(int(parts.group(1)[1:]), MILDEST_TEMPERATURE)
    return f"T{number}-{parts.group(2)[0]}{MILDEST_DEPRESSION}"


def holding(dry_c: float, emc: float) -> Step:
    """A step that holds an equilibrium moisture [-] at a dry bulb [°C]: for equalising and conditioning."""
    return Step(None, dry_c, wet_bulb(dry_c, humidity_for(dry_c, emc)))
