"""Writes docs/methods/drying-answers.md: what the drying model answers today, beside published figures where there are any."""

# ruff: noqa: E501
from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from answers_kiln import coefficient, even_lines, heat, kiln_lines, oak_lines, oak_rows, oregon, twice_lines
from answers_stacks import (
    DRAWS,
    likely_packages,
    maple,
    maple_lines,
    of_a_year,
    packages,
    pooled,
    stack_lines,
    sun_lines,
)
from answers_words import head, holds, line, number, percent, ranged, span
from heat_page import Cell, cells
from heat_page import percent as off_by

from waney.drying.either import MANY
from waney.drying.equalising import PARTS, SCENARIOS
from waney.drying.hard_chamber import Hard, Kind, Ways, hard_on
from waney.drying.heating import LEAST_OFF, MOST_OFF, Bar, core_minutes
from waney.drying.kiln_sheet import Heat, KilnSheet
from waney.drying.load import way, ways_in
from waney.drying.lot import Lot
from waney.drying.pile_parts import PilePiece
from waney.drying.safe_rate import EIGHT_QUARTERS_M, FOUR_QUARTERS_M, fastest_day, safe_rate
from waney.drying.stack import PARTICLES
from waney.drying.stress import stresses
from waney.drying.vacuum import Plates
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import likely
from waney.wood.species import species

PAGE = Path(__file__).parents[1] / "docs" / "methods" / "drying-answers.md"
READ = Basis(Ground.READING, "meter")
CHAMBER = KilnSheet("plates", 3.2, 1.3, 1.2, 3000.0, Heat.PLATES, Plates(60.0, 7000.0))
LONG_M, WIDE_M = 2.4, 0.2
"""Of a piece in the chamber."""
HEATED = {
    "F1": ("red oak", 4.0, 4.0, 0.0, 15.6),
    "F2": ("red maple", 6.0, 6.0, 0.0, 15.6),
    "F3": ("sugar maple", 1.0, 6.0, 10.0, 15.6),
    "F4": ("red oak", 2.0, 6.0, 10.0, 15.6),
    "F5": ("ponderosa pine", 4.0, 4.0, 2.0, 4.4),
    "F6": ("ponderosa pine", 10.0, 10.0, 8.0, 15.6),
}
"""Worked examples of heat treatment among the published cells: wood, inches, depression [°F], temperature at the start [°C]."""
SLASH_PINE = ((0.9, 15.0), (50.0, 438.0))
"""F7, 25 mm green slash pine (Simpson 2003, abstract, seen): depression [°F], minutes."""


# worked examples


def worked() -> Iterator[str]:
    """Published figures of the worked examples, the model's, and whether they hold."""
    yield from head("id", "published", "here", "holds")
    row, one, found = maple(), likely_packages(), packages(DRAWS)
    low, high = pooled(found)
    year_low, year, year_high = of_a_year(found)
    assert row.mean is not None
    yield line(
        "E1 sugar maple 4/4 in packages, Upper Michigan, green to 20 %",
        f"{span(row.least, row.most)} days, mean about {number(row.mean)} (FPL Report 2086, seen)",
        f"likely package {span(one.least, one.most)}, mean {number(one.mean)}; nine in ten packages {span(low, high)}; mean of all {number(year)} ({span(year_low, year_high)})",
        f"nine in ten packages: {low / row.least:.2f} and {high / row.most:.2f} times; {number(row.mean)} within the mean's range: {holds(row.mean, year_low, year_high)}",
    )
    yield from oak_rows()
    yield from heated_rows()


def heated_rows() -> Iterator[str]:
    """F1 to F7."""
    found_cells = cells()
    for name, sought in HEATED.items():
        cell = next(one for one in found_cells if _is(one, sought))
        lies = LEAST_OFF <= cell.printed / cell.model <= MOST_OFF
        yield line(
            f"{name} {sought[0]}, {sought[1]:g} x {sought[2]:g} in, depression {sought[3]:g} °F",
            f"{cell.printed:.0f} minutes (Wood Handbook, seen)",
            f"{cell.model:.0f}",
            f"likely {off_by(cell.off)}; printed range: {'yes' if lies else 'no'}",
        )
    pine = species("slash pine")
    assert pine.sg_green is not None
    assert pine.green_mc is not None
    board = Bar(0.025, 0.15, pine.sg_green.likely, pine.green_mc.likely, 16.0)
    for depression_f, printed in SLASH_PINE:
        found = core_minutes(board, 71.1, 71.1 - depression_f / 1.8)
        yield line(
            f"F7 slash pine, 25 mm, depression {depression_f:g} °F",
            f"{printed:.0f} minutes (Simpson 2003, abstract, seen)",
            ranged(found),
            f"{holds(printed, found.low, found.high)}, the range; likely {found.likely / printed - 1.0:+.0%}".replace("%", " %"),
        )


def _is(cell: Cell, sought: tuple[str, float, float, float, float]) -> bool:
    row = cell.row
    numbers = (row["thickness_in"], row["width_in"], row["wet_bulb_depression_f"], row["initial_wood_temp_c"])
    return (row["species"], *map(float, numbers)) == sought


# sharing in vacuum


@dataclass(frozen=True)
class Shared:
    """A lot in the chamber: days, and what it does there and by its own schedule."""

    lot: Lot
    days: float
    ways: Ways
    hard: dict[Kind, Hard]


def lot(wood: str, size: str, thickness_m: float, mc: float, *, sapwood: bool = False) -> Lot:
    """Read at `mc`, wanted at 7 %."""
    called = f"{species(wood).common}{' sapwood' if sapwood else ''} {size}, {mc * 100:.0f} %"
    piece = PilePiece("one", LONG_M, WIDE_M, thickness_m, Estimate.known(10.0, READ))
    return Lot(called, species(wood), thickness_m, Estimate.known(mc, READ), 0.07, (piece,), sapwood)


LOTS = (
    lot("oak_white", "4/4", FOUR_QUARTERS_M, 0.60),
    lot("oak_northern_red", "4/4", FOUR_QUARTERS_M, 0.80),
    lot("oak_northern_red", "8/4", EIGHT_QUARTERS_M, 0.25),
    lot("oak_northern_red", "4/4", FOUR_QUARTERS_M, 0.15),
    lot("maple_red", "2 in", 0.050, 0.15, sapwood=True),
    lot("maple_red", "4/4", FOUR_QUARTERS_M, 0.60),
    lot("maple_red", "4/4", FOUR_QUARTERS_M, 0.60, sapwood=True),
)


def in_chamber(one: Lot) -> Shared:
    """A lot alone in the chamber, the likely piece."""
    middle = likely(one.doubts())
    alone = way(CHAMBER, one, None, middle)
    ways = ways_in(CHAMBER, one, alone.air, middle)
    return Shared(one, alone.days, ways, {each.kind: each for each in hard_on(one, ways)})


def sharing_lines() -> Iterator[str]:
    """What a chamber does to lots, beside their own schedule and the safe rate."""
    yield from head(
        "lot",
        "days",
        "itself over the air of its schedule, at most",
        "most in a day (limits of permeability); by its schedule; safe",
        "surface kept from shrinking; by its schedule",
        "too hard by",
    )
    for one in map(in_chamber, LOTS):
        course, alone = one.ways.course, one.ways.alone
        safe = safe_rate(one.lot.wood.id, one.lot.thickness_m)
        assert alone is not None
        assert safe is not None
        most, own, *limits = (fastest_day(each.days, each.mean, each.start.mean)[0] for each in (course, alone, *one.ways.limits))
        strains = [percent(stresses(each, one.lot.wood).most_strain) for each in (course, alone)]
        over = one.hard[Kind.HOT].over
        yield line(
            one.lot.name,
            number(one.days),
            f"{over:.0f} °C" if over > 0.0 else "under it",
            f"{percent(most)} ({100 * min(limits):.1f} to {100 * max(limits):.1f}); {percent(own)}; {percent(safe.a_day)}",
            "; ".join(strains),
            ", ".join(CALLED[kind] for kind, each in one.hard.items() if each.said) or "nothing",
        )


CALLED = {Kind.HOT: "heat", Kind.FAST: "speed", Kind.PULLED: "stress"}


def page() -> str:
    """The text of the page."""
    return "\n".join(
        (
            "# Drying: what the model answers, beside what is published",
            "",
            "Written by `tools/answers_page.py`, which runs the model for every figure of its own; a test holds the page to it. What the model is, where its numbers come from and what was reasoned stands in [drying](drying.md). Printed air-drying",
            "and kiln times wood by wood: [drying times](drying-times.md). In brackets from the 5 to the 95 % point, where not said otherwise. Green thickness of 4/4: 28.6 mm, of 8/4: 54 mm.",
            "",
            "## Worked examples",
            "A range holds where the published figure lies within it; a likely figure is held against it too. Nothing was moved for any of them.",
            "",
            *worked(),
            "",
            f"The printed range of minutes, {LEAST_OFF:.2f} to {MOST_OFF:.2f} of the likely ones, was set from the worst of these very cells: that it holds F1 to F6 was made so and shows nothing. What is checked there is the likely figure",
            "([every cell](heat-treatment.md)), to which nothing was fitted; no drying time moves it.",
            "",
            "### E1: sugar maple in packages",
            *maple_lines(),
            "",
            "## Stacks outdoors",
            f"Days to 20 % from green, as `waney dry` tells them ({PARTICLES} drawn pieces, weather and site); Indianapolis, in the open, 4 ft wide:",
            "",
            *stack_lines(),
            "",
            'Printed times are of piles 6 to 16 ft wide all over the country ([drying times](drying-times.md)). Beside it shop talk, 4/4 in 60 days and 8/4 in 180 of good weather, "a year an inch" at the slow end (no source).',
            "",
            "## Kiln",
            "### By the schedule and held to the safe rate",
            *kiln_lines(),
            "",
            oregon(),
            "",
            "### White oak from green",
            "Likely piece and range as `waney schedule` tells them, each trial on its own; why it was looked for: [drying](drying.md#white-oak-from-green).",
            "",
            *oak_lines(),
            "",
            "### Equalising",
            f"A lot whose pieces differ, as `waney schedule` tells it ({SCENARIOS.n} lots drawn, {len(PARTS)} sample boards each), from green unless said otherwise. A drying specialist names six hours in one load and four days in another (seen); how far",
            "pieces differ in pace was made so wide that 4/4 hardwoods come to that.",
            "",
            *even_lines(),
            "",
            "### Thickness",
            *twice_lines(),
            "",
            "### Heat and the coefficient",
            heat(),
            "",
            coefficient(),
            "",
            "## Chambers that the sun warms",
            f"Madison, Wisconsin, 4/4 from green: days with the range over a dull, a usual and a good chamber, as `waney dry` tells them ({MANY} drawn pieces in each).",
            "",
            *sun_lines(),
            "",
            "## Vacuum: who may share",
            f"Plates at {CHAMBER.plates.plate_c:.0f} °C, {CHAMBER.plates.pressure_pa / 1000:.0f} kPa, each lot alone to 7 %, likely figures, pieces {LONG_M:g} m long, heartwood unless said otherwise. What a wood bears is from memory but for the safe rates of 4/4 oak. Who may share: [drying](drying.md#vacuum)."
            if CHAMBER.plates
            else "",
            "",
            *sharing_lines(),
            "",
        )
    )


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
