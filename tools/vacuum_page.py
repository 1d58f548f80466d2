"""Writes docs/methods/vacuum.md: days in vacuum by the model, and what it would take for a mixed load to be dry in three days."""

# ruff: noqa: E501
from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from waney.drying.air import DAY, AirState, air_steps
from waney.drying.board import Course, Drying, dry
from waney.drying.kernel.records import AirSteps
from waney.drying.kilns_sheet import kiln_named, read_kilns
from waney.drying.load import days_alone
from waney.drying.load_sheet import read_load_sheet
from waney.drying.vacuum import (
    PERMEABLE,
    PLATE_FILM,
    REFRACTORY,
    Cycle,
    Permeability,
    Plates,
    cycle_steps,
    plate_steps,
    seep,
    with_ends,
)
from waney.drying.wood_piece import piece_of
from waney.wood.emc import equilibrium_moisture
from waney.wood.species import species
from waney.wood.vapour import STANDARD_PRESSURE, saturation_pressure

DOCS = Path(__file__).parents[1] / "docs"
PAGE, EXAMPLES = DOCS / "methods" / "vacuum.md", DOCS / "examples"
WOOD, LONG_M = species("maple_red"), 2.4
"""Soft maple; a piece of 8 ft."""
PLATE_C, PRESSURE_PA, SHORT_W = 60.0, 7000.0, 2.0
"""Of the first table: plates, chamber, and heat when it is short [°C, Pa, W/(m2 K)]."""
THICKNESSES_M = (0.025, 0.050, 0.075)
MOST_DAYS = 60.0
AIR_DRY, TO, WET, TO_WET, IN_DAYS = 0.15, 0.07, 0.60, 0.08, 3.0
"""The load of the second table: from and to [-], within so many days. The wet piece was sawn three months before."""
PLATES_C, PRESSURES_PA = (50.0, 60.0, 70.0, 80.0), (3000.0, 7000.0, 15000.0)
TURNS = tuple(Cycle(AirState(PLATE_C, 0.35, 3.0), hours, PRESSURE_PA, hours) for hours in (3.0, 8.0))
"""Warm air as dry as the wood is to become, then vacuum, as many hours each."""
TURNS_EACH, LOOK_MINUTES = 12.0, 30.0
"""Intervals of a turn, and minutes of one with plates: a third of either moves no figure by more than 2 %, but for days under one."""
PASSES = ((10.0, 5.0), (14.0, 7.0))
"""A custom shop's notes, thick live-edge slabs: days in the first pass and in the second, at the short and at the long end."""
REST = AirState(20.0, 0.60, 0.0)
REST_DAYS = 7.0
"""Between the passes, still air: how long and where was not told; ours."""
THINNEST_M, THICKEST_M, STEP_M = 0.010, 0.150, 0.001


def days(
    thickness_m: float, start: float | None, target: float, plates: Plates, permeability_m2: float, most: float
) -> float | None:
    """Days of one run; start None: green. None: not within `most` days."""
    piece = with_ends(piece_of(WOOD, thickness_m, start, pressure_pa=plates.pressure_pa), permeability_m2, LONG_M, plates.plate_c)
    return dry(piece, plate_steps(plates, most, LOOK_MINUTES), stop_at=target).days_to(target)


def turned(thickness_m: float, start: float | None, target: float, cycle: Cycle, permeability_m2: float) -> float | None:
    """The same by turns of warm air and vacuum, within MOST_DAYS."""
    warm = cycle.warming.temperature_c
    piece = piece_of(WOOD, thickness_m, start, temperature_c=warm, pressure_pa=cycle.vacuum_pa)
    air = cycle_steps(cycle, MOST_DAYS, 60.0 * cycle.warm_h / TURNS_EACH)
    return dry(with_ends(piece, permeability_m2, LONG_M, warm), air, stop_at=target).days_to(target)


def turn_rows() -> Iterator[str]:
    """The table of turns, a line at a time."""
    for thickness in THICKNESSES_M:
        for cycle in TURNS:
            cells = []
            for start, target in ((AIR_DRY, TO), (None, TO_WET)):
                likely, fast, slow = (
                    _said(turned(thickness, start, target, cycle, one))
                    for one in (PERMEABLE.likely, PERMEABLE.high, PERMEABLE.low)
                )
                cells.append(f"{likely} ({fast} to {slow})")
            yield f"| {thickness * 1000:.0f} | {cycle.warm_h:.0f} and {cycle.vacuum_h:.0f} | {' | '.join(cells)} |"


def passes(
    thickness_m: float, plates: Plates, permeability_m2: float, first: float, rest: float, second: float
) -> tuple[Course, ...]:
    """Green wood in two passes in vacuum with a rest in still air between them; a rest of no days: none."""
    seeping = seep(permeability_m2, LONG_M, plates.plate_c)
    green = piece_of(WOOD, thickness_m, None, pressure_pa=plates.pressure_pa)
    dense, thin = (piece_of(WOOD, thickness_m, None, pressure_pa=pa).law for pa in (STANDARD_PRESSURE, plates.pressure_pa))

    def goes_on(piece: Drying, air: AirSteps, *, in_vacuum: bool) -> Course:
        return dry(replace(piece, law=thin if in_vacuum else dense, seep=seeping if in_vacuum else 0.0), air)

    one = goes_on(green, plate_steps(plates, first, LOOK_MINUTES), in_vacuum=True)
    two = one if rest == 0.0 else goes_on(one.end, air_steps([(DAY / 24.0, REST)] * round(24.0 * rest)), in_vacuum=False)
    return one, two, goes_on(two.end, plate_steps(plates, second, LOOK_MINUTES), in_vacuum=True)


def pass_rows() -> Iterator[str]:
    """The table of two passes, a line at a time."""
    for thickness in THICKNESSES_M[1:]:
        for film, called in ((PLATE_FILM, "enough"), (SHORT_W, "short")):
            plates = Plates(PLATE_C, PRESSURE_PA, 0.0, film)
            rested = [_passed(thickness, plates, first, REST_DAYS, second) for first, second in PASSES]
            at_once = [_last(thickness, plates, first, 0.0, second, PERMEABLE.likely) for first, second in PASSES]
            yield f"| {thickness * 1000:.0f} | {called} | {' | '.join(rested)} | {' and '.join(at_once)} % |"


def noted() -> Iterator[str]:
    """Whether the notes lie within the model's range, thick and thin."""
    plates = Plates(PLATE_C, PRESSURE_PA)
    for thickness in THICKNESSES_M[1:]:
        ends = [
            passes(thickness, plates, through, first, REST_DAYS, second)[-1].end.mean
            for (first, second), through in zip(PASSES, (PERMEABLE.low, PERMEABLE.high), strict=True)
        ]
        lies = "lie" if min(ends) <= TO_WET <= max(ends) else "do not lie"
        yield f"For {thickness * 1000:.0f} mm to {TO_WET * 100:.0f} % those notes {lies} within the model's range."
    thin = [days(THICKNESSES_M[0], None, TO_WET, plates, through, MOST_DAYS) for through in (PERMEABLE.high, PERMEABLE.low)]
    fast, slow = (one if one is not None else MOST_DAYS for one in thin)
    lies = "lies" if fast <= 7.0 <= slow else "does not lie"
    yield f"1 in within a week {lies} within it: {fast:.1f} to {slow:.1f} days from green. The range is so wide that this says little; a rest changes next to nothing here, because the model has no stress in it that a rest would ease."


def _passed(thickness_m: float, plates: Plates, first: float, rest: float, second: float) -> str:
    """Mean after each part at the likely permeability, the middle at the end, and the last mean between the limits."""
    one, two, three = (course.end for course in passes(thickness_m, plates, PERMEABLE.likely, first, rest, second))
    least, most = (_last(thickness_m, plates, first, rest, second, through) for through in (PERMEABLE.high, PERMEABLE.low))
    means = ", ".join(f"{piece.mean * 100:.1f}" for piece in (one, two, three))
    return f"{means} %, its middle {three.moistures[-1] * 100:.1f} % ({least} to {most} %)"


def _last(thickness_m: float, plates: Plates, first: float, rest: float, second: float, permeability_m2: float) -> str:
    return f"{passes(thickness_m, plates, permeability_m2, first, rest, second)[-1].end.mean * 100:.1f}"


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


def beside_air() -> str:
    """Days of one lot in both kilns of an example, likely figures."""
    kilns, lots = ((EXAMPLES / f"{name}.toml").read_text("utf-8") for name in ("kilns-two", "load-mixed"))
    cherry = next(lot for lot in read_load_sheet(lots) if lot.wood.id == "cherry_black")
    air, plates = (days_alone(cherry, kiln_named(read_kilns(kilns), name)) for name in ("shed kiln", "plate kiln"))
    return (
        f"8/4 black cherry from 20 to 8 % takes {plates:.0f} days on plates at {PLATE_C:.0f} °C and {air:.0f} in heated air by its schedule, by the model (`docs/examples`): vacuum would be the slower kiln, and such\n"
        "kilns are bought because they are not (common practice, no source). What is missing is told below; every load in vacuum says so too. Do not choose between kilns by these days."
    )


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
            "## Warm air and vacuum by turns",
            f"Air of {PLATE_C:.0f} °C and {TURNS[0].warming.humidity:.0%} humidity at {TURNS[0].warming.speed_m_s:g} m/s, then {PRESSURE_PA / 1000:.0f} kPa with no more heat than warm walls give, as many hours each; permeable wood, in brackets between".replace(
                "%", " %"
            ),
            "the limits of permeability. In vacuum wood dries by the warmth that it brought along, so that shorter turns are a little quicker here: nobody's measured turns were read.",
            "",
            f"| mm | hours | {AIR_DRY:.0%} to {TO:.0%} | green to {TO_WET:.0%} |".replace("%", " %"),
            "|---|---|---|---|",
            *turn_rows(),
            "",
            "## Two passes with a rest",
            "A custom vacuum shop's public notes: thick live-edge slabs 10 to 14 days, rest, 5 to 7 more; 1 in under a week. Thickness, wood, plates, where and how long it rests, and what it comes to were not told. Here",
            f"permeable wood from green at {PLATE_C:.0f} °C and {PRESSURE_PA / 1000:.0f} kPa, resting {REST_DAYS:.0f} days in still air of {REST.temperature_c:.0f} °C and {REST.humidity:.0%} (ours): mean after the first pass, after the rest and after the second, in brackets the last between".replace(
                "%", " %"
            ),
            "the limits of permeability.",
            "",
            "| mm | heat | 10 days, rest, 5 days | 14 days, rest, 7 days | without the rest |",
            "|---|---|---|---|---|",
            *pass_rows(),
            "",
            *noted(),
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
            "## Beside heated air",
            beside_air(),
            "",
            "Edges of squares and narrow pieces count in heated air only: plates bring no heat to an edge, and no section was run in vacuum, where water may leave by them all the same. Narrow pieces may be dry sooner",
            "than is said here; `waney kiln-load` and the page of a load say so of pieces whose edges would count. Bare ends are in the flow along the grain, as if no end were coated.",
            "",
            "Where the model cannot reach it, what is missing is flow of vapour across the grain by pressure, through rays and checks, and water driven out as liquid while the core boils. Hotter plates and",
            "lower pressure make it faster here without end; in wood they make it check and collapse, and no reading says where that begins. No promise, and nothing was fitted to it.",
            "",
        )
    )


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
