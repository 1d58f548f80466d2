"""Writes docs/methods/heat-treatment.md: minutes to a core of 56 °C by the model beside every published cell, with the errors."""

# ruff: noqa: E501
from __future__ import annotations

import csv
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from waney.drying.heating import LEAST_OFF, MOST_OFF, SPEED, Bar, ColdAir, minutes_to_core
from waney.wood.species import species

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "methods" / "heat-treatment.md"
CELLS = ROOT / "tests" / "published" / "heat_sterilization.csv"
INCH_M = 0.0254
WOODS = {
    "red maple": "maple_red",
    "sugar maple": "maple_sugar",
    "red oak": "oak_northern_red",
    "basswood": "basswood",
    "aspen": "aspen_quaking",
    "ponderosa pine": "pine_ponderosa",
}
"""The woods of the table by our own names."""
HARDWOODS = "experimental"


@dataclass(frozen=True)
class Cell:
    """A published cell that one run of the model answers: its row, and both minutes."""

    row: dict[str, str]
    printed: float
    model: float

    @property
    def off(self) -> float:
        """Logarithm of the model's minutes over the printed ones."""
        return math.log(self.model / self.printed)


def published() -> list[dict[str, str]]:
    """Every row of the published table."""
    return list(csv.DictReader(CELLS.read_text("utf-8").splitlines()))


def why_not(row: dict[str, str]) -> str:
    """Why a row has no mean to be held against; empty where it has one."""
    if row["species"] not in WOODS:
        return "a range over airs, not given cell by cell"
    if not row["heating_time_min"]:
        return "its mean cannot be read in the copy at hand"
    return ""


def minutes(row: dict[str, str]) -> float:
    """The model's minutes for a row. Raises ColdAir."""
    wood = species(WOODS[row["species"]])
    assert wood.sg_green is not None
    assert wood.green_mc is not None
    sizes = (float(row["thickness_in"]) * INCH_M, float(row["width_in"]) * INCH_M)
    bar = Bar(*sizes, wood.sg_green.likely, wood.green_mc.likely, float(row["initial_wood_temp_c"]))
    dry_c = float(row["dry_bulb_c"])
    return minutes_to_core(bar, dry_c, dry_c - float(row["wet_bulb_depression_f"]) / 1.8)


def cells() -> tuple[Cell, ...]:
    """Every cell that the model answers, in the order of the table."""
    return tuple(Cell(row, float(row["heating_time_min"]), minutes(row)) for row in published() if not why_not(row))


def percent(off: float) -> str:
    """An error as a share: +15 %."""
    share = round((math.exp(off) - 1.0) * 100)
    return f"{share:+d} %" if share else "0 %"


def summary(found: Sequence[Cell]) -> str:
    """Errors of some cells: how many, from worst to worst, in the middle."""
    errors = [one.off for one in found]
    spread = math.sqrt(sum(off * off for off in errors) / len(errors))
    return (
        f"{len(found)} | {percent(min(errors))} to {percent(max(errors))} | {percent(median(errors))} | "
        f"{(math.exp(median(map(abs, errors))) - 1.0) * 100:.0f} % | {spread:.2f}"
    )


def line(one: Cell) -> str:
    """A cell as a row of the page."""
    row = one.row
    return (
        f"| {row['species']} | {float(row['thickness_in']):g} x {float(row['width_in']):g} | {row['wet_bulb_depression_f']} | "
        f"{row['initial_wood_temp_c']} | {one.printed:.0f} | {one.model:.0f} | {percent(one.off)} |"
    )


def left_out() -> Iterator[str]:
    """Rows without a mean of their own, each with why."""
    for row in published():
        why = why_not(row)
        if why:
            size = f"{row['thickness_in']} x {row['width_in'] or '?'} in"
            air = f"depression {row['wet_bulb_depression_f'] or 'not given'} °F"
            printed = row["heating_time_min"] or "illegible"
            most = f" to {row['upper_99pct_or_range_max_min']}" if row["upper_99pct_or_range_max_min"] else ""
            model = f"{minutes(row):.0f}" if row["species"] in WOODS else ""
            yield f"| {row['species']} | {size} | {air} | {printed}{most} | {model} | {why} |"


def page() -> str:
    """The text of the page."""
    found = cells()
    hard = [one for one in found if one.row["kind"] == HARDWOODS]
    pine = [one for one in found if one.row["kind"] != HARDWOODS]
    by_wood = {name: [one for one in found if one.row["species"] == name] for name in WOODS}
    worst = max(found, key=lambda one: abs(one.off))
    inside = sum(LEAST_OFF <= one.printed / one.model <= MOST_OFF for one in found)
    return "\n".join(
        (
            "# Heat treatment: the model beside every published cell",
            "",
            "Written by `tools/heat_page.py` from `tests/published/heat_sterilization.csv`. Minutes until the core of wet, stickered wood is at 56 °C in air of 71 °C: the model's likely minutes beside",
            f"those printed in the Wood Handbook, Tables 20-4 (hardwoods, measured; seen) and 20-8 (ponderosa pine, a regression; seen). The model: [drying](drying.md). Air at {SPEED:g} m/s, gravity and green moisture as the",
            "tables have them; nothing was fitted. An error is the model's minutes over the printed ones, less one: above nothing, the model is slow.",
            "",
            "| cells | number | from, to | median | median of the size | root mean square of the logarithm |",
            "|---|---|---|---|---|---|",
            f"| hardwoods, measured | {summary(hard)} |",
            f"| ponderosa pine, regression | {summary(pine)} |",
            *(f"| {name} | {summary(some)} |" for name, some in by_wood.items() if name != "ponderosa pine"),
            f"| all | {summary(found)} |",
            "",
            f"The farthest off: {worst.row['species']} {float(worst.row['thickness_in']):g} x {float(worst.row['width_in']):g} in, depression {worst.row['wet_bulb_depression_f']} °F: {worst.model:.0f} minutes for {worst.printed:.0f}, {percent(worst.off)}. `waney heat-treat` prints a range of "
            f"{LEAST_OFF:.2f} to {MOST_OFF:.2f} of",
            f"the likely minutes; {inside} of {len(found)} printed figures lie in it. Plan by its high end; only a record of the core proves.",
            "",
            "## Every cell",
            "",
            "| wood | inches | depression, °F | from, °C | printed, min | model, min | error |",
            "|---|---|---|---|---|---|---|",
            *map(line, found),
            "",
            "## Rows without a mean to hold the model against",
            "",
            "The upper figure is the printed one below which 99 of a hundred are, or the end of a printed range.",
            "",
            "| wood | size | air | printed, min | model, min | why it is not held against a mean |",
            "|---|---|---|---|---|---|",
            *left_out(),
            "",
        )
    )


if __name__ == "__main__":
    try:
        PAGE.write_text(page(), encoding="utf-8")
    except ColdAir as cold:
        raise SystemExit(str(cold)) from None
