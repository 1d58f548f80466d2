"""Writes docs/methods/drying-stress.md: how hard every wood's own kiln schedule pulls its surface, beside what the wood bears."""

# ruff: noqa: E501
from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from waney.drying.air import HOUR, AirState, air_steps, filmed
from waney.drying.board import Course, Drying, dry
from waney.drying.doubts import doubts, drawn
from waney.drying.kiln import air_by_step, days_by_step
from waney.drying.kiln_days import KILN_FILM
from waney.drying.safe_rate import FOUR_QUARTERS_M, fastest_day, safe_rate
from waney.drying.schedules import UnknownSchedule, code_for, schedule
from waney.drying.stress import Stresses, stresses
from waney.figures.scenarios import likely
from waney.figures.tables import Row, table
from waney.wood.species import NoFigure, Species, all_species, species
from waney.wood.stiffness import across_over_along
from waney.wood.strength import HALF_OF_DRY, MPA, PSI, Taken, dry_pa, green_planes_pa, strength_across

PAGE = Path(__file__).parents[1] / "docs" / "methods" / "drying-stress.md"
TARGET = 0.07
SAME_AIR, SAME_DAYS = AirState(43.3, 0.80, 1.5), 15
"""One air for all woods: warm and mild (110 °F), and for how many days."""
CHECKS = ("oak_northern_red", "oak_white", "oak_black", "oak_post", "oak_swamp_white", "beech_american", "sweetgum")
"""Woods that the trade calls slow and prone to surface checks: common practice, no source."""
EASY = ("walnut_black", "cherry_black", "yellow_poplar", "basswood", "pine_eastern_white")
"""Woods that it calls easy to dry: common practice, no source."""


@dataclass(frozen=True)
class OwnWay:
    """A wood at 4/4 from green by its own schedule: code, stresses, moisture of the surface when it is pulled most [-], most lost in
    a day [-]; same: the stresses in one air for all woods."""

    wood: Species
    code: str
    found: Stresses
    surface_mc: float
    fastest: float
    same: Stresses


@cache
def own_way(wood: Species) -> OwnWay:
    """Raises UnknownSchedule, or NoFigure for a wood that the model cannot dry or bend."""
    code = code_for(wood.id, FOUR_QUARTERS_M)
    plan = schedule(code)
    piece = drawn(likely(doubts(wood, None)), FOUR_QUARTERS_M, plan.steps[0].dry_c)
    steps = days_by_step(piece, plan, TARGET, KILN_FILM)
    course = dry(piece, filmed(air_by_step(steps), KILN_FILM), profiles=True)
    found = stresses(course, wood)
    surface = float(course.profiles[int(found.surface_pa.argmax()), 0])
    lost, _ = fastest_day(course.days, course.mean, course.start.mean)
    return OwnWay(wood, code, found, surface, lost, stresses(_in_one_air(piece), wood))


def _in_one_air(piece: Drying) -> Course:
    return dry(piece, air_steps([(6.0 * HOUR, SAME_AIR)] * (4 * SAME_DAYS)), profiles=True)


@cache
def ways() -> tuple[OwnWay, ...]:
    """Of every wood with a schedule and with something to hold against: what it bears, or a safe rate."""
    return tuple(_ways())


def _ways() -> Iterator[OwnWay]:
    for wood in all_species():
        if strength_across(wood.id) is None and safe_rate(wood.id, FOUR_QUARTERS_M) is None:
            continue
        try:
            yield own_way(wood)
        except (UnknownSchedule, NoFigure):
            continue


def line(way: OwnWay) -> str:
    """One row of the first table."""
    bears, safe, taken = strength_across(way.wood.id), safe_rate(way.wood.id, FOUR_QUARTERS_M), way.found.surface_index
    same = way.same.surface_index
    read = "not read" if bears is None else "green" if bears.green else "at 12 % only"
    cells = (
        way.wood.common,
        way.code,
        f"{way.fastest * 100:.1f}",
        "" if safe is None else f"{safe.a_day * 100:.1f}",
        f"{way.found.most_strain * 100:.1f}",
        f"{float(way.found.surface_pa.max()) / MPA:.1f}",
        "" if bears is None else _span(bears.least_pa / MPA, bears.most_pa / MPA),
        read,
        "" if taken is None else taken.said,
        "" if same is None else same.said,
    )
    return f"| {' | '.join(cells)} |"


def _span(least: float, most: float) -> str:
    ends = f"{least:.1f}", f"{most:.1f}"
    return ends[0] if ends[0] == ends[1] else " to ".join(ends)


@dataclass(frozen=True)
class Place:
    """Where a wood that checks stands against the easy ones by its own schedule: clear above, with ranges that meet, clear below."""

    name: str
    above: tuple[str, ...]
    meets: tuple[str, ...]
    below: tuple[str, ...]


def places() -> tuple[Place, ...]:
    """Of each wood that checks, where something was read of it."""
    easy = tuple((one.common, taken) for one in map(species, EASY) if (taken := own_way(one).found.surface_index) is not None)
    mine = ((one.common, taken) for one in map(species, CHECKS) if (taken := own_way(one).found.surface_index) is not None)
    return tuple(_place(name, taken, easy) for name, taken in mine)


def _place(name: str, taken: Taken, easy: tuple[tuple[str, Taken], ...]) -> Place:
    above = tuple(other for other, one in easy if taken.least > one.most)
    below = tuple(other for other, one in easy if taken.most < one.least)
    return Place(name, above, tuple(other for other, _ in easy if other not in above + below), below)


def pairs() -> tuple[tuple[str, str, float], ...]:
    """Wood, source and what it bears green (the weaker plane) over dry [-], of every reading that has both."""
    rows = table("tension_across")
    found = []
    for row in rows:
        dry_too = [dry_pa(other) for other in rows if shared(row, other) and (other["dry_psi"] or other["dry_mpa"])]
        if green_planes_pa(row) and dry_too:
            found.append((row["printed"], row["source"], min(green_planes_pa(row)) / min(dry_too)))
    return tuple(found)


def shared(one: Row, other: Row) -> bool:
    """Whether two rows of the table stand for the same wood."""
    return bool(set(one["species_ids"].split()) & set(other["species_ids"].split()))


def order() -> tuple[float, float, float, int]:
    """Rank correlation with the safe rate [-]: of the most that is taken up by the own schedule, of the same in one air, of the
    strain by the own schedule; of how many woods."""
    held = [
        (safe.a_day, taken.most, in_one_air.most, way.found.most_strain)
        for way in ways()
        if (safe := safe_rate(way.wood.id, FOUR_QUARTERS_M)) is not None
        and (taken := way.found.surface_index) is not None
        and (in_one_air := way.same.surface_index) is not None
    ]
    rate, *others = (spearman_rank(column) for column in zip(*held, strict=True))
    index, same, strain = (float(np.corrcoef(rate, one)[0, 1]) for one in others)
    return index, same, strain, len(held)


def spearman_rank(values: tuple[float, ...]) -> list[float]:
    """Places from the smallest on; equal values share the mean of theirs."""
    return [float(np.mean([i for i, one in enumerate(sorted(values)) if one == value])) for value in values]


def both_read() -> dict[str, Taken]:
    """What its own schedule takes up of each wood of which both the stiffness and the strength of green wood were read."""
    some = ((way, strength_across(way.wood.id)) for way in ways() if across_over_along(way.wood.id).of_this_wood)
    read = {way.wood.common: way.found.surface_index for way, strength in some if strength is not None and strength.green}
    return {name: taken for name, taken in read.items() if taken is not None}


def page() -> str:
    """The text of the page."""
    found, ranks = ways(), places()
    taken = {way.wood.common: one for way in found if (one := way.found.surface_index) is not None}
    both = both_read()
    surface = [way.surface_mc * 100.0 for way in found]
    index, same, strain, many = order()
    ratios, other = pairs(), across_over_along("")
    below = " and ".join(f"{name} {ratio:.2f} ({key})" for name, key, ratio in ratios if ratio < HALF_OF_DRY)
    often = [name for name, one in taken.items() if one.most > 1.0]
    always = [name for name, one in taken.items() if one.least > 1.0]
    above, lower = [one.name for one in ranks if one.above], [one.name for one in ranks if one.below]
    red, white = (
        own_way(species(id)).found.surface_pa.max() / (psi * PSI)
        for id, psi in (("oak_northern_red", 639.0), ("oak_white", 622.0))
    )
    return "\n".join(
        (
            "# Drying stress, wood by wood: what the surface takes up by the wood's own kiln schedule",
            "",
            "Written by `tools/stress_page.py`, which runs the model for every figure; what the model is stands in [drying](drying.md#drying-stress). 4/4 from green to 7 %, the likely piece, flatsawn, schedule codes from memory of",
            f"Agriculture Handbook 188. Every wood with a schedule of which a strength was read or a safe rate is known: {len(found)}, of which {len(taken)} have an index. The index is the most tension of the surface over what the wood bears",
            f"across the grain; **one air** is the same for all: {SAME_DAYS} days in {SAME_AIR.temperature_c:.0f} °C and {SAME_AIR.humidity * 100:.0f} % humidity.",
            "",
            "## What a wood bears",
            "Table `tension_across`, as printed: the Wood Handbook (oaks Table 5-3b of 2021; ponderosa pine to redwood one page of Tables 5-3a and 5-3b of 2010), Record's Table III of 1914 (25 woods, green, by the plane that breaks), and a web page that",
            "retypes the Handbook's figures at 12 %; all seen. Of these:",
            "",
            "- Green counts where it was read, the Handbook before the older book. Where only Record has a wood, from its weaker plane (a surface check opens along the rays) to the mean of both, which is what the Handbook prints.",
            f"- The two books do not agree: red oak 639 and 874 psi by plane in Record, 750 here; white oak 622 and 749, 770 here; red pine 179 and 205, 300 here. By Record's weaker plane red oak would stand at {red:.2f} below, white oak at {white:.2f}.",
            f"- Dry wood counts where it bears less than green: the surface is at {min(surface):.0f} to {max(surface):.0f} % (in the middle {np.median(surface):.0f} %) when it is pulled most, in the runs below.",
            f"- Where only dry wood was read, from {HALF_OF_DRY:g} of it to all of it. Of {len(ratios)} readings that have both, the weaker plane green is {min(one for *_, one in ratios):.2f} to {max(one for *_, one in ratios):.2f} of dry wood; below {HALF_OF_DRY:g} are",
            f"  {below}; above 1 are {sum(one > 1.0 for *_, one in ratios)}, of which nothing is made.",
            "- Where nothing was read (hickories, red maple, sweetgum, chestnut oak and more) there is no index; the strain stands alone.",
            "",
            "## By the own schedule",
            "Loss and strain in per cent, tension and strength in MPa.",
            "",
            "| wood | schedule | most lost in a day | safe a day | surface kept from shrinking | tension | bears | read | index | index in one air |",
            "|---|---|---|---|---|---|---|---|---|---|",
            *map(line, found),
            "",
            "## What it is not: an order of woods",
            "A schedule is what the trade dries a wood by without checks, so by its own every wood should stand below 1, those that check easily near it and above the easy ones (which are which: common practice, no source). It is not so for all of them:",
            "",
            f"- Where it is near so: the {len(both)} woods of which both the stiffness and green wood were read stand at {min(one.least for one in both.values()):.2f} to {max(one.most for one in both.values()):.2f} by their own schedules, all near what they bear ({', '.join(both)}).",
            "  With one stiffness of 0.06 for all woods, as it was first, they stood at 0.61 to 2.23, and oak below basswood.",
            f"- {len(often)} of {len(taken)} woods pass 1 with their most, {len(always)} with their least too: {', '.join(always)}.",
            f"- Of {len(ranks)} woods that check easily, clear above an easy wood stand: {', '.join(above) or 'none'}; clear below one: {', '.join(lower) or 'none'}. Of sweetgum nothing was read.",
            f"- Against the safe rates ({many} woods that have both) the rank correlation of the index is {index:+.2f} by the own schedule and {same:+.2f} in one air. A good index would be near -1 in one air; here the woods that bear a fast day stand",
            f"  high. That of the strain is {strain:+.2f}, by schedules that are mild to the woods that need it.",
            "",
            "| checks easily | clear above | ranges meet | clear below |",
            "|---|---|---|---|",
            *(f"| {one.name} | {', '.join(one.above)} | {', '.join(one.meets)} | {', '.join(one.below)} |" for one in ranks),
            "",
            f"Elasticity along the rings over that along the grain is each wood's own where the Wood Handbook's Table 5-1 has it (memory, but for two rows; table `elastic_across`), else {other.likely:.3f}, {other.least:.3f} to {other.most:.3f}, by which the index is the wider. What is",
            "known to be wrong: the strain of drying under load is carried over from pine by elasticity alone, so that in every wood the stress levels off at a height that shrinkage and elasticity set: it is a figure of the wood more than of the drying. No table of it by wood was read.",
            "",
            "So hold one air against another for the same wood by it, never one wood against another, and take nothing below 1 for a promise: northern red oak, which checks if any wood does, stands below 1. The safe rate goes first.",
            "",
        )
    )


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
