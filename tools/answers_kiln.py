"""The kiln for `answers_page.py`: days by schedule and held to the safe rate, white oak, equalising, thickness, heat."""

# ruff: noqa: E501
from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import log2

import numpy as np
from answers_words import head, line, number, percent, ranged, span
from drying_model import Kilned, kiln_of

from waney.drying.equalising import Equalising, equalising_wood
from waney.drying.kiln import Wanted, days_of_one, energy
from waney.drying.kiln_days import AS_BUILT, COOL, KILN_FILM, MILD, KilnDays, kiln_days
from waney.drying.law import with_free_water
from waney.drying.load import held
from waney.drying.load_plan import LIKELY
from waney.drying.pace import likely_pace
from waney.drying.safe_rate import EIGHT_QUARTERS_M, FOUR_QUARTERS_M, fastest_day, safe_rate
from waney.drying.schedules import Schedule, code_for, schedule
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.figures.tables import table
from waney.wood.diffusion import REFERENCE_C
from waney.wood.sorption import saturation_moisture
from waney.wood.species import Species, species
from waney.wood.vapour import STANDARD_PRESSURE
from waney.wood.weight import green_moisture

AS_TOLD = Scenarios(seed=1, n=64)
"""As many pieces as `waney schedule` draws."""
OAK, OREGON = species("oak_white"), species("oak_oregon_white")
AIR_DRY, MIXED = 0.20, 0.22
DRY = 0.06
"""To which printed kiln times go [-]."""
SHOP = Basis(Ground.READING, "meter")
COOL_KILN_C = 60.0
CONDITION_H, MONTH = 24.0, 31.0
EVENED: tuple[tuple[str, float, float | None, float], ...] = (
    ("maple_sugar", FOUR_QUARTERS_M, None, 0.07),
    ("walnut_black", FOUR_QUARTERS_M, None, 0.07),
    ("oak_northern_red", FOUR_QUARTERS_M, None, 0.07),
    ("oak_white", FOUR_QUARTERS_M, None, 0.07),
    ("ash_white", FOUR_QUARTERS_M, 0.20, 0.07),
    ("oak_white", EIGHT_QUARTERS_M, 0.25, 0.07),
    ("cherry_black", FOUR_QUARTERS_M, 0.25, 0.08),
)
"""Lots that are equalised: wood, green thickness [m], moisture at the start (None: green) and wanted [-]."""
TWICE = ("pine_eastern_white", "maple_sugar", "oak_northern_red")
TRADE_POWER = 1.5
"""Of days on thickness, by the rule of the trade (fpl-ah-188, memory)."""
TWICE_PLAN, TWICE_FROM, TWICE_TO = "T5-C2", 0.60, 0.07


@cache
def own_plan(wood: Species, thickness_m: float = FOUR_QUARTERS_M) -> Schedule:
    """The wood's own schedule."""
    return schedule(code_for(wood.id, thickness_m))


@cache
def days(
    wood: Species, start: float | None, target: float, draws: Scenarios = AS_TOLD, condition_h: float = 0.0, thickness_m: float = FOUR_QUARTERS_M
) -> KilnDays:  # fmt: skip
    """As `waney schedule` tells them, by the wood's own schedule. start None: green."""
    begins = None if start is None else Estimate.known(start, SHOP)
    wanted = Wanted(target, condition_h=condition_h)
    return kiln_days(wood, thickness_m, own_plan(wood, thickness_m), wanted, draws, begins)


@cache
def even(wood: Species, thickness_m: float, start: float | None, target: float, hottest_c: float | None = None) -> Equalising:
    """Of a lot of one kind of piece, as `waney schedule` tells it, in a kiln that gets no hotter."""
    begins = None if start is None else Estimate.known(start, SHOP)
    return equalising_wood(wood, thickness_m, held(own_plan(wood, thickness_m), hottest_c), target, begins)


def held_days(found: KilnDays) -> Estimate:
    """In a kiln held to the safe rate, of a wood that has one."""
    assert found.held is not None
    return found.held


# 4/4, every wood of which a safe rate and a kiln time are known


@dataclass(frozen=True)
class Own:
    """A wood with its printed times, the likely piece from green and from 20 %, and the loss of whole days from green [-]."""

    wood: Species
    printed: Kilned
    green: KilnDays
    air_dry: KilnDays
    lost: tuple[float, ...]
    most: float
    safe: float


@cache
def own() -> tuple[Own, ...]:
    """Every wood that a row of safe rates names first, where kiln times are printed too."""
    return tuple(_own())


def _own() -> Iterator[Own]:
    for row in table("safe_drying_rates"):
        wood = species(row["species_ids"].split()[0])
        printed, safe = kiln_of(wood.id), safe_rate(wood.id, FOUR_QUARTERS_M)
        if not printed or safe is None:
            continue
        green, air_dry = (days(wood, start, DRY, LIKELY) for start in (None, AIR_DRY))
        course = green.course
        whole = course.mean_on(np.arange(int(course.days[-1]) + 1, dtype=float))
        most, _ = fastest_day(course.days, course.mean, course.start.mean)
        yield Own(wood, printed[0], green, air_dry, tuple(-np.diff(whole)), most, safe.a_day)


def kiln_lines() -> Iterator[str]:
    """Days by schedule and held, beside the printed ones, and loss a day beside the safe one."""
    yield from head(
        "4/4, to 6 %", "schedule", "green: by the schedule", "held to the safe rate", "printed",
        "from 20 %: by the schedule", "held", "printed", "loses a day: in the middle, most", "safe",
    )  # fmt: skip
    for one in own():
        yield line(
            one.wood.common,
            one.printed.code,
            number(one.green.days.likely),
            number(held_days(one.green).likely),
            _printed(one.printed.from_green),
            number(one.air_dry.days.likely),
            number(held_days(one.air_dry).likely),
            _printed(one.printed.from_20),
            f"{100 * float(np.median(one.lost)):.1f}, {100 * one.most:.1f} %",
            percent(one.safe),
        )
    yield ""
    costs = [
        (held_days(one.green).likely - one.green.days.likely, held_days(one.air_dry).likely - one.air_dry.days.likely)
        for one in own()
    ]
    slow, fast = max(cost for cost, _ in costs), min(cost for cost, _ in costs)
    late = {one.wood.common: held_days(one.green).likely - one.printed.from_green[1] for one in own()}
    later = [f"{name} {past:.0f}" for name, past in late.items() if past >= 0.5]
    within = sum(
        0.0 <= -past <= one.printed.from_green[1] - one.printed.from_green[0]
        for past, one in zip(late.values(), own(), strict=True)
    )
    yield f"- Likely figures; a wood's factor is fitted to the printed ones. To hold to the safe rate costs {number(fast)} to {number(slow)} days from green, at most {number(max(cost for _, cost in costs))} from 20 %."
    yield f"- Held, {within} of {len(own())} lie within what is printed from green; half a day and more past its slow end are {', '.join(later) or 'none'} (days), the others by less. Printed times are of kilns that run the schedule (memory of AH-188)."
    yield f"- The fastest day is {min(one.most / one.safe for one in own()):.1f} to {max(one.most / one.safe for one in own()):.1f} times the safe one, the middle day {min(_middle(one) for one in own()):.1f} to {max(_middle(one) for one in own()):.1f} times: first wet days are too fast. Safe rates of 4/4 red and white oak seen, the others memory."


def _printed(ends: tuple[float, float]) -> str:
    return f"{ends[0]:g} to {ends[1]:g}"


def _middle(one: Own) -> float:
    return float(np.median(one.lost)) / one.safe


def oregon() -> str:
    """Oregon white oak, which is not in the fit, by white oak's schedule."""
    found = kiln_days(OREGON, FOUR_QUARTERS_M, own_plan(OAK), Wanted(0.07), AS_TOLD).days
    return f"Oregon white oak 4/4, no factor, not in the fit, by {own_plan(OAK).code} to 7 %: {ranged(found)} days. A laboratory dried it by such a schedule in 21 (Research Paper 27, abstract, seen)."


# worked example E4, and what was tried for it


def oak_rows() -> Iterator[str]:
    """E4: air-dried, green by the schedule, green held to the safe rate."""
    air_dried, green = days(OAK, MIXED, DRY), days(OAK, None, DRY)
    held_green = held_days(green)
    both = f"{ranged(air_dried.days)} days by the schedule, {ranged(held_days(air_dried))} held to the safe rate"
    lies = all(7.0 <= one.likely <= 14.0 for one in (air_dried.days, held_days(air_dried)))
    yield line(
        f"E4 white oak 4/4, kiln, from {MIXED * 100:.0f} %",
        "1 to 2 weeks (OSU EM 8612, seen)",
        both,
        f"{'yes' if lies else 'no'}, the likely days",
    )
    slow = [f"{'yes' if one.high > MONTH else 'no'}, {one.high:.1f} at its slow end" for one in (green.days, held_green)]
    yield line(
        "E4 green", '"can take more than a month" (the same); 20 to 30 (AH-188, memory)',
        f"{ranged(green.days)} days by the schedule, {ranged(held_green)} held to the safe rate",
        f"{MONTH:.0f} days and more: by the schedule {slow[0]}; held {slow[1]}",
    )  # fmt: skip


def oak_lines() -> Iterator[str]:
    """What was tried for white oak from green, each on its own."""
    green = days(OAK, None, DRY)
    likely, evened = green.days.likely, even(OAK, FOUR_QUARTERS_M, None, 0.07)
    conditioned = days(OAK, None, DRY, LIKELY, CONDITION_H).days.likely - likely
    targets = ", ".join(number(days(OAK, None, target, LIKELY).days.likely) for target in (0.08, 0.07, 0.06))
    safe = safe_rate(OAK.id, FOUR_QUARTERS_M)
    assert safe is not None
    yield from head("tried", "days", "kept")
    yield line(f"the likely piece by {own_plan(OAK).code}, to 6 %", number(likely), "as it was")
    yield line(
        f"moisture at the start up to {green_moisture(OAK).high * 100:.0f} %, gravity, factor and level as far as they are not known",
        f"the range: {span(green.days.low, green.days.high)}",
        "was there",
    )
    yield line("dried to 8, 7, 6 %", targets, "the target is asked for")
    yield line(f"conditioning of {CONDITION_H:.0f} hours", f"{conditioned:+.1f}", "asked for")
    yield line(
        "pieces that differ, equalised, to 7 %",
        f"{ranged(evened.whole)}; one piece {number(days(OAK, None, 0.07, LIKELY).days.likely)}",
        "yes: a load is as slow as its slow boards, and that is told beside the days of one piece",
    )
    yield line(
        f"no day faster than the safe rate, {percent(safe.a_day)}",
        ranged(held_days(green)),
        "yes: told beside the schedule's days",
    )


# equalising, thickness, heat, the coefficient


def even_lines() -> Iterator[str]:
    """Days of equalising, lot by lot; then in a kiln that gets less hot."""
    yield from head("wood, to", "one piece by the schedule", "driest 2 % below on day", "equalising", "a lot in all")
    for wood, thickness, start, target in EVENED:
        one, found = species(wood), even(species(wood), thickness, start, target)
        alone = days(one, start, target, LIKELY, thickness_m=thickness).days.likely
        size = "4/4" if thickness == FOUR_QUARTERS_M else "8/4"
        called = f"{one.common} {size}{'' if start is None else f' from {start * 100:.0f} %'}, {target * 100:.0f} %"
        yield line(called, number(alone), *(ranged(each) for each in (found.begins, found.days, found.whole)))
    cool, hot = (even(species("ash_white"), FOUR_QUARTERS_M, AIR_DRY, 0.07, hottest) for hottest in (COOL_KILN_C, None))
    yield ""
    yield f"In a kiln that gets no hotter than {COOL_KILN_C:.0f} °C 4/4 white ash from {AIR_DRY * 100:.0f} % is equalised in {ranged(cool.days)} days, a lot in all {ranged(cool.whole)}: {cool.whole.likely / hot.whole.likely:.1f} times as long."


def twice_lines() -> Iterator[str]:
    """How days grow with thickness by one schedule."""
    most = 0.0
    yield from head(
        f"by {TWICE_PLAN}, {TWICE_FROM * 100:.0f} to {TWICE_TO * 100:.0f} %", "half as thick", "4/4", "twice", "four times",
        "days go with thickness to the power of, from half to 4/4, to twice, to four times",
    )  # fmt: skip
    for wood in TWICE:
        found = [
            days_of_one(piece_of(species(wood), times * FOUR_QUARTERS_M, TWICE_FROM), schedule(TWICE_PLAN), TWICE_TO, KILN_FILM)
            for times in (0.5, 1.0, 2.0, 4.0)
        ]
        powers = [log2(thick / thin) for thin, thick in pairwise(found)]
        most = max(most, powers[1])
        yield line(species(wood).common, *map(number, found), ", ".join(f"{one:.2f}" for one in powers))
    yield ""
    yield f"The rule of the trade says {TRADE_POWER} (AH-188, memory): by it the model would be up to {2.0 ** (most - TRADE_POWER):.2f} times too slow at twice 4/4. Nobody has read times of 8/4 to hold it against."


def heat() -> str:
    """Heat over that of evaporation alone, without walls and leaks, over the woods of the kiln table."""
    found = [energy(one.green.run, *air) for one in own() for air in (MILD, COOL)]
    least, most = (end(each.total / each.evaporation for each in found) for end in (min, max))
    return f"Heat of these woods from green, without walls and leaks: {least:.2f} to {most:.2f} times that of evaporation alone. Kilns as built take 1.5 to {AS_BUILT:.0f} times (memory of AH-188)."


def coefficient() -> str:
    """What is left of the coefficient below saturation, beside the published lumber models."""
    full = saturation_moisture(REFERENCE_C)
    at = np.array([0.12, full + 0.01])
    dry_wood, wet = with_free_water(at, REFERENCE_C, 0.5, likely_pace().free, STANDARD_PRESSURE)
    mean = float(with_free_water(np.linspace(0.06, 0.28, 45), REFERENCE_C, 0.5, likely_pace().free, STANDARD_PRESSURE).mean())
    return f"Coefficient across the grain at {REFERENCE_C:.0f} °C, gravity 0.5: at 12 % {dry_wood / wet:.2f} of what it is wet, in the mean from 6 to 28 % {mean / wet:.2f}. Lumber models that fit data take a quarter below saturation (abstract, seen)."
