"""Writes docs/methods/vacuum.md: days in vacuum by the model, and what it would take for a mixed load to be dry in three days."""

# ruff: noqa: E501
from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from waney.drying.board import dry
from waney.drying.vacuum import PERMEABLE, PLATE_FILM, REFRACTORY, Permeability, Plates, plate_steps, with_ends
from waney.drying.wood_piece import piece_of
from waney.wood.emc import equilibrium_moisture
from waney.wood.species import species
from waney.wood.vapour import saturation_pressure

PAGE = Path(__file__).parents[1] / "docs" / "methods" / "vacuum.md"
WOOD, LONG_M = species("maple_red"), 2.4
"""Soft maple; a piece of 8 ft."""
PLATE_C, PRESSURE_PA, SHORT_W = 60.0, 7000.0, 2.0
"""Of the first table: plates, chamber, and heat when it is short [°C, Pa, W/(m2 K)]."""
THICKNESSES_M = (0.025, 0.050, 0.075)
MOST_DAYS = 60.0
AIR_DRY, TO, WET, TO_WET, IN_DAYS = 0.15, 0.07, 0.60, 0.08, 3.0
"""The load of the second table: from and to [-], within so many days. The wet piece was sawn three months before."""
PLATES_C, PRESSURES_PA = (50.0, 60.0, 70.0, 80.0), (3000.0, 7000.0, 15000.0)
THINNEST_M, THICKEST_M, STEP_M = 0.010, 0.150, 0.001


def days(
    thickness_m: float, start: float | None, target: float, plates: Plates, permeability_m2: float, most: float
) -> float | None:
    """Days of one run; start None: green. None: not within `most` days."""
    piece = with_ends(piece_of(WOOD, thickness_m, start, pressure_pa=plates.pressure_pa), permeability_m2, LONG_M, plates.plate_c)
    return dry(piece, plate_steps(plates, most), stop_at=target).days_to(target)


def settles_at(plate_c: float, pressure_pa: float) -> float | None:
    """Moisture at which wood settles there [-]; None where the vapour is at peace with wet wood, so that nothing dries."""
    humidity = pressure_pa / saturation_pressure(plate_c)
    return equilibrium_moisture(plate_c, humidity) if humidity < 0.95 else None


def _said(found: float | None) -> str:
    if found is None:
        return f"over {MOST_DAYS:.0f}"
    return f"{found:.1f}" if found < 20.0 else f"{found:.0f}"


def rows() -> Iterator[str]:
    """The first table, a line at a time."""
    for thickness in THICKNESSES_M:
        for name, through in (("permeable", PERMEABLE), ("refractory", REFRACTORY)):
            cells = [
                _cell(thickness, start, target, film, through)
                for start, target in ((AIR_DRY, TO), (None, TO_WET))
                for film in (PLATE_FILM, SHORT_W)
            ]
            yield f"| {thickness * 1000:.0f} | {name} | {' | '.join(cells)} |"


def _cell(thickness_m: float, start: float | None, target: float, film_w: float, through: Permeability) -> str:
    """Days at the likely permeability, and between its limits where they matter."""
    plates = Plates(PLATE_C, PRESSURE_PA, 0.0, film_w)
    likely = days(thickness_m, start, target, plates, through.likely, MOST_DAYS)
    if through is REFRACTORY:
        return _said(likely)
    fast, slow = (days(thickness_m, start, target, plates, one, MOST_DAYS) for one in (through.high, through.low))
    return f"{_said(likely)} ({_said(fast)} to {_said(slow)})"


@cache
def thickest(plate_c: float, pressure_pa: float, permeability_m2: float, start: float, target: float) -> float | None:
    """Up to which thickness [m] wood is at its target within IN_DAYS; None for not even the thinnest tried."""
    plates = Plates(plate_c, pressure_pa)

    def done(steps: int) -> bool:
        return days(steps * STEP_M, start, target, plates, permeability_m2, IN_DAYS) is not None

    low, high = round(THINNEST_M / STEP_M), round(THICKEST_M / STEP_M)
    if not done(low):
        return None
    if done(high):
        return THICKEST_M
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if done(middle) else (low, middle)
    return low * STEP_M


def _thick(found: float | None) -> str:
    if found is None:
        return f"not even {THINNEST_M * 1000:.0f}"
    return f"{found * 1000:.0f} and more" if found >= THICKEST_M else f"{found * 1000:.0f}"


def answers() -> Iterator[str]:
    """The second table, a line at a time."""
    for plate_c in PLATES_C:
        for pressure in PRESSURES_PA:
            settles = settles_at(plate_c, pressure)
            at = "wet" if settles is None else f"{settles * 100:.1f} %"
            cells = [
                _thick(thickest(plate_c, pressure, through, start, target))
                for through in (PERMEABLE.likely, PERMEABLE.high)
                for start, target in ((AIR_DRY, TO), (WET, TO_WET))
            ]
            yield f"| {plate_c:.0f} | {pressure / 1000:.0f} | {at} | {' | '.join(cells)} |"


def said() -> str:
    """What the second table comes to, for the likely permeability and for the most."""
    likely, most = (_best(_both(through)) for through in (PERMEABLE.likely, PERMEABLE.high))
    return f"Both in the same load. At the likely permeability {likely}. At its upper limit {most}. Elsewhere it is not true."


def _both(permeability_m2: float) -> dict[str, list[str]]:
    """Where both pieces are done, by the thickness up to which they are."""
    found: dict[str, list[str]] = {}
    for plate_c in PLATES_C:
        for pressure in PRESSURES_PA:
            ends = [thickest(plate_c, pressure, permeability_m2, *way) for way in ((AIR_DRY, TO), (WET, TO_WET))]
            if all(ends):
                up_to = _thick(min(one for one in ends if one)).replace(" and more", " mm and more")
                called = up_to if up_to.endswith("more") else f"{up_to} mm"
                found.setdefault(called, []).append(f"{plate_c:.0f} °C with {pressure / 1000:.0f} kPa")
    return found


def _best(found: dict[str, list[str]]) -> str:
    if not found:
        return "it is true at none of these temperatures and pressures"
    return "it is true " + "; ".join(f"up to {thick} at {', '.join(where)}" for thick, where in found.items())


def refractory() -> str:
    """The same of wood whose vessels are plugged, at the most favourable of all that was tried."""
    plate_c, pressure = PLATES_C[-1], PRESSURES_PA[0]
    found = thickest(plate_c, pressure, REFRACTORY.high, WET, TO_WET)
    return f"Refractory wood, at the upper limit of its permeability, {plate_c:.0f} °C and {pressure / 1000:.0f} kPa: up to {_thick(found)} mm from wet."


def page() -> str:
    """The text of the page."""
    return "\n".join(
        (
            "# Drying in vacuum: days by the model",
            "",
            "Written by `tools/vacuum_page.py`, which runs the model for every figure; what the model is stands in [drying](drying.md). Each figure is one run of the likely red maple (soft maple),",
            f"{LONG_M:g} m long, not a range over woods. Permeability along the grain spans powers of ten, so it is tried at its likely value and at both limits ({PERMEABLE.low:.0e} to {PERMEABLE.high:.0e} m2, likely {PERMEABLE.likely:.0e};",
            f"refractory heartwood {REFRACTORY.low:.0e} to {REFRACTORY.high:.0e}). The plates' film ({PLATE_FILM:g} W/(m2 K)) is a guess without a source.",
            "",
            "## Days by thickness",
            f"Plates at {PLATE_C:.0f} °C, {PRESSURE_PA / 1000:.0f} kPa; in brackets between the limits of permeability. Green is as wet as the tables have red maple.",
            "",
            f"| mm | wood | {AIR_DRY:.0%} to {TO:.0%}, heat enough | heat short ({SHORT_W:g} W/(m2 K)) | green to {TO_WET:.0%}, heat enough | heat short |".replace(
                "%", " %"
            ),
            "|---|---|---|---|---|---|",
            *rows(),
            "",
            "A small kiln's public notes (thick live-edge slabs 10 to 14 days, rest, 5 to 7 more; 1 in under a week) lie inside that.",
            "",
            "## A mixed load in three days",
            f"Common practice, no source: one mixed load brought air-dried soft-maple live-edge slabs from about {AIR_DRY:.0%} to {TO:.0%}, and a live-edge slab sawn three months earlier from wet to {TO_WET:.0%}, in the same".replace(
                "%", " %"
            ),
            f"three days. Asked at what thickness, temperature and pressure that would be true: the thickest [mm] that is done within {IN_DAYS:.0f} days, wet wood taken at {WET:.0%}, heat enough.".replace(
                "%", " %"
            ),
            "",
            "| plates, °C | kPa | wood settles at | likely: 15 to 7 % | likely: wet to 8 % | most permeable: 15 to 7 % | most permeable: wet to 8 % |",
            "|---|---|---|---|---|---|---|",
            *answers(),
            "",
            said(),
            "",
            refractory(),
            "",
            "Where the model cannot reach it, what is missing is flow of vapour across the grain by pressure, through rays and checks, and water driven out as liquid while the core boils. Hotter plates and",
            "lower pressure make it faster here without end; in wood they make it check and collapse, and no reading says where that begins. No promise, and nothing was fitted to it.",
            "",
        )
    )


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
