"""What edges and bare ends do for drying: sections in two dimensions -> the numbers of `drying.sides`, and how far they are off.

usage: python tools/fit_sides.py            writes src/waney/data/drying_sides.csv and prints the errors, about five minutes
       python tools/fit_sides.py --check    prints the errors of the numbers as they are, on other draws
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import exp, sqrt
from pathlib import Path

import numpy as np
from scipy.optimize import brentq, least_squares

from waney.drying.air import DAY, filmed, part
from waney.drying.board import Drying, dry
from waney.drying.kernel.records import AirSteps, Array
from waney.drying.kiln import kiln_air
from waney.drying.outdoors import Exposure, outdoor_air
from waney.drying.pace import likely_pace
from waney.drying.schedules import code_for, schedule
from waney.drying.section import Section, dry_section, live_edge, rectangle, short_piece
from waney.drying.sides import SHORTEST, fitted, of_length, of_width
from waney.drying.wood_piece import piece_of
from waney.wood.climate import station
from waney.wood.diffusion import ease_along
from waney.wood.species import species

TABLE = Path(__file__).parents[1] / "src" / "waney" / "data" / "drying_sides.csv"
WOODS = ("oak_white", "walnut_black", "cherry_black", "pine_eastern_white", "maple_sugar", "yellow_poplar")
PLACES = (("IN", "Indianapolis"), ("AZ", "Phoenix"), ("WA", "Seattle"), ("WI", "Madison"))
THICK_M = (0.029, 0.041, 0.054, 0.081)
SHELTERS = (Exposure.OPEN, Exposure.ROOF, Exposure.FAN)
CASES = 80
LEAN = 0.5
"""How far a live edge leans out, per thickness."""
AT_ONCE = 8
"""Intervals of air given to a section at once."""


@dataclass(frozen=True)
class Drawn:
    """A piece in air: across is its width or, where `ends`, its length [m]; days of the section and of the board of the same
    thickness; share: of its thickness that the board has which takes the section's days; middle: how many times as far above
    the face its middle is as that board's."""

    words: str
    piece: Drying
    air: AirSteps
    target: float
    across_m: float
    ends: bool
    along: float
    wide_days: float
    days: float
    share: float
    middle: float

    def counted_days(self, share: float) -> float:
        """Days of a board so much thinner."""
        return board_days(self.piece, share, self.air, self.target)


def board_days(piece: Drying, share: float, air: AirSteps, target: float) -> float:
    found = dry(replace(piece, thickness_m=share * piece.thickness_m), air, stop_at=target).days_to(target)
    return np.inf if found is None else found


def section_days(section: Section, piece: Drying, air: AirSteps, target: float) -> tuple[float, float, float]:
    """Days of the section to the target, and moistures of its middle and of the middle of its face then."""
    moistures, warm = np.full(section.volumes.size, piece.mean), piece.temperature_c
    days, before, begun = 0.0, piece.mean, 0
    while begun < air.seconds.size:
        now = part(air, begun, min(begun + AT_ONCE, air.seconds.size))
        course = dry_section(section, piece.law, piece.sg_green, now, moistures, warm, piece.factor)
        moistures, warm = course.moistures, float(course.temperature_c[-1])
        for seconds, mean in zip(now.seconds, course.mean, strict=True):
            if mean <= target:
                gone = days + (before - target) / (before - mean) * seconds / DAY
                face = int(np.flatnonzero(section.points[:, 1] == 0.0)[-1])
                return gone, float(moistures[-1]), float(moistures[face])
            days, before = days + seconds / DAY, mean
        begun += now.seconds.size
    return np.nan, np.nan, np.nan


def airs(rng: np.random.Generator, wood: str, thickness_m: float) -> tuple[str, AirSteps, float | None, float]:
    """Air, in words, moisture at the start (None: green) and wanted: three in four outdoors, the others one step of a kiln."""
    if rng.random() < 0.75:
        place, month = PLACES[rng.integers(len(PLACES))], int(rng.integers(1, 13))
        shelter = SHELTERS[rng.integers(len(SHELTERS))]
        air = outdoor_air(station(*place), date(2023, month, 1), 1400, shelter)
        return f"{place[1]}, month {month}, {shelter}", filmed(air, likely_pace().film), None, 0.20
    steps = schedule(code_for(species(wood).id, thickness_m)).steps
    at = int(rng.integers(1, len(steps)))
    air = kiln_air(steps[at], 24.0 * 200, 800)
    start = min(steps[at].from_mc or 0.5, 0.5)
    return f"kiln, step {at + 1}", air, start, max(steps[at].emc + 0.03, start * 0.4)


def drawn(seed: int, ends: bool) -> list[Drawn]:
    """Pieces that the model dries, both as a section and as a wide board, in the time given."""
    rng = np.random.default_rng(seed)
    found: list[Drawn] = []
    while len(found) < CASES:
        wood, thickness = WOODS[rng.integers(len(WOODS))], float(rng.choice(THICK_M))
        words, air, start, target = airs(rng, wood, thickness)
        piece = piece_of(species(wood), thickness, start, temperature_c=float(air.source[0]))
        along = ease_along(piece.sg_green, float(air.source.mean()))
        across = float(np.exp(rng.uniform(np.log(0.15 if ends else thickness), np.log(2.4 if ends else 6.0 * thickness))))
        across = max(across, SHORTEST * thickness) if ends else across
        section = short_piece(across, thickness, along, cells=(16, 12)) if ends else rectangle(across, thickness, (12, 12))
        wide = board_days(piece, 1.0, air, target)
        days, middle, face = section_days(section, piece, air, target) if np.isfinite(wide) else (np.nan,) * 3
        if np.isnan(days) or board_days(piece, 0.2, air, target) >= days >= wide:
            continue
        share = share_with(days, piece, air, target)
        board = dry(replace(piece, thickness_m=share * thickness), air, stop_at=target)
        beyond = (middle - face) / (float(board.core[-1]) - float(board.surface[-1]))
        words = f"{wood}, {1000 * thickness:.0f} by {1000 * across:.0f} mm, {words}"
        found.append(Drawn(words, piece, air, target, across, ends, along, wide, days, share, beyond))
    return found


def share_with(days: float, piece: Drying, air: AirSteps, target: float) -> float:
    """Share of the thickness that the board has which takes so many days."""
    return float(brentq(lambda one: board_days(piece, one, air, target) - days, 0.2, 1.02, xtol=1e-4))


def of_table(one: Drawn, numbers: dict[str, float]) -> float:
    """Share by the rule of `drying.sides`, with the numbers given (put in the place of the fitted ones)."""
    fitted().update(numbers)
    if one.ends:
        return of_length(one.piece.thickness_m, one.across_m, one.along, numbers["film"] * float(one.air.resistance.mean()))
    return of_width(one.piece.thickness_m, one.across_m)


def deeper(one: Drawn, numbers: Sequence[float]) -> float:
    return 1.0 + numbers[0] * exp(-one.across_m / one.piece.thickness_m / numbers[1])


def fit(widths: list[Drawn], lengths: list[Drawn]) -> dict[str, float]:
    """Least squares, one number after the other: edges, then the film at ends, then the middle."""

    def by_edge(x: Array) -> list[float]:
        return [of_table(one, {"edge": float(x[0])}) - one.share for one in widths]

    edge = float(least_squares(by_edge, [0.36]).x[0])

    def by_film(x: Array) -> list[float]:
        return [of_table(one, {"edge": edge, "film": abs(float(x[0])) * 1e-11}) - one.share for one in lengths]

    film = float(least_squares(by_film, [2.6]).x[0])

    def by_middle(x: Array) -> list[float]:
        return [deeper(one, x.tolist()) - one.middle for one in widths]

    inside = least_squares(by_middle, [0.5, 5.5]).x
    return {"edge": edge, "film": abs(film) * 1e-11, "deeper": float(inside[0]), "reach": float(inside[1])}


def errors(name: str, found: list[Drawn], numbers: dict[str, float]) -> None:
    shares = np.array([of_table(one, numbers) for one in found])
    off = np.array([one.counted_days(share) / one.days - 1.0 for one, share in zip(found, shares, strict=True)])
    wide = np.array([one.wide_days / one.days - 1.0 for one in found])
    apart = shares - np.array([one.share for one in found])
    worst = int(np.argmax(np.abs(off)))
    print(
        f"{name}: {len(found)} pieces; share of the thickness off by {sqrt(float(np.mean(apart**2))):.4f} (root of mean square)"
    )
    for words, apart_days in (("days off", off), ("as a wide board", wide)):
        middle, most = np.quantile(np.abs(apart_days), (0.5, 0.9))
        print(f"  {words}: median {middle:.1%}, nine in ten {most:.1%}, at most {np.abs(apart_days).max():.1%}")
    print(f"  the worst: {found[worst].words}: {found[worst].days:.1f} days, wide {found[worst].wide_days:.1f}")
    if not found[0].ends:
        inside = np.array([deeper(one, (numbers["deeper"], numbers["reach"])) - one.middle for one in found])
        print(f"  middle over face: off by {np.median(np.abs(inside)):.3f}, at most {np.abs(inside).max():.3f}")


def leaning() -> None:
    """How much faster live edges dry that lean by half the thickness than the mean width which is counted."""
    for thickness, width, place in ((0.081, 0.16, "IN"), (0.081, 0.25, "IN"), (0.054, 0.17, "AZ")):
        home = next(each for each in PLACES if each[0] == place)
        air = filmed(outdoor_air(station(*home), date(2023, 4, 1), 1400, Exposure.OPEN), likely_pace().film)
        piece = piece_of(species("oak_white"), thickness, temperature_c=float(air.source[0]))
        reach = width / 2.0 - LEAN * thickness / 2.0
        days, _, _ = section_days(live_edge(thickness, LEAN, reach, 1.0, (12, 11)), piece, air, 0.20)
        counted = board_days(piece, of_width(thickness, width), air, 0.20)
        sizes = f"{1000 * thickness:.0f} by {1000 * width:.0f} mm"
        print(f"leaning edge, {sizes}, {home[1]}: counted {counted / days - 1.0:+.1%} days")


def main(check: bool) -> None:
    seeds = (11, 12) if check else (1, 2)
    widths, lengths = drawn(seeds[0], ends=False), drawn(seeds[1], ends=True)
    numbers = dict(fitted()) if check else fit(widths, lengths)
    if not check:
        head = "# What edges and ends of a piece do (drying.sides), fitted to sections in two dimensions by tools/fit_sides.py."
        rows = (f"{name},{value:.3g}" for name, value in numbers.items())
        TABLE.write_text("\n".join((head, "name,value", *rows)) + "\n", encoding="utf-8")
    errors("edges", widths, numbers)
    errors("ends", lengths, numbers)
    leaning()


if __name__ == "__main__":
    main(sys.argv[1:] == ["--check"])
