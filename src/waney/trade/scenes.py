"""Scenes: what a log would give in every scenario: wood, scale, weight, money; by scale alone or by a quick saw plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.logs.doubts import doubts
from waney.logs.rules import international, scaling_diameter
from waney.logs.shape import LogShape
from waney.logs.sheet import log_sheet
from waney.logs.tape import build_shape
from waney.logs.volume import volume_of
from waney.logs.weight import mass_of, weight_doubts
from waney.pieces.measures import FOOT_M
from waney.prices.rules import PriceRules, Ranking
from waney.sawing.bench import NothingToSaw, Over
from waney.sawing.outcome.left_over import NothingLeft
from waney.sawing.outcome.outcome import Sawyer
from waney.sawing.outcome.sawn_again import CannotSawAgain
from waney.sawing.outcome.worlds import likely_world, worlds
from waney.sawing.search import PATTERNS
from waney.sawing.sheets.from_sheets import Ready, ready
from waney.sawing.wants import Pattern
from waney.units.length import length_of
from waney.wood.species import NoFigure, Species, UnknownSpecies, species
from waney.wood.weight import SG

Array = NDArray[np.float64]
INCH_M = length_of(1.0, "in")
ANY_DENSITY = Estimate(950.0, 650.0, 1250.0, Basis(Ground.DEFAULT, "", "green wood of any kind with its bark"), 300.0, 1400.0)
"""[kg/m3]"""
SMALLEST_M = 4.0 * INCH_M
"""Below four inches at the small end a log is not scaled."""


@dataclass(frozen=True, eq=False)
class Figured:
    """One quantity in every scenario (n,) and in the likely case."""

    values: Array
    likely: float

    def estimate(self, basis: Basis) -> Estimate:
        """Its 5, 50 and 95 % points."""
        return summed_up(self.values, self.likely, basis)

    def plus(self, other: Figured, times: float = 1.0) -> Figured:
        """Sum, scenario by scenario."""
        return Figured(self.values + times * other.values, self.likely + times * other.likely)


@dataclass(frozen=True, eq=False)
class Scene:
    """A log in all scenarios: wood inside bark [m3], International 1/4-inch board feet, mass with bark [kg] (None: no value)."""

    wood_m3: Figured
    board_feet: Figured
    mass_kg: Figured | None
    mass_basis: Basis = ANY_DENSITY.basis

    @property
    def weight_kg(self) -> Estimate | None:
        """What it weighs with its bark."""
        return None if self.mass_kg is None else self.mass_kg.estimate(self.mass_basis)


def scene_of(sheet: str, scenarios: Scenarios) -> Scene:
    """The log of a sheet on its doubts; a sheet that names no wood, or one nobody knows, is any wood. Raises SheetProblems."""
    wood, shapes, middle = _drawn(sheet, scenarios)
    return Scene(
        _volumes(shapes, middle),
        _each(shapes, middle, scaled_board_feet),
        _any_mass(shapes, middle, scenarios) if wood is None else _mass(wood, shapes, middle, scenarios),
        ANY_DENSITY.basis if wood is None else _mass_basis(wood),
    )


def wood_of(sheet: str, scenarios: Scenarios) -> Figured:
    """The wood of a scene alone, inside bark [m3]."""
    return _volumes(*_drawn(sheet, scenarios)[1:])


def _drawn(sheet: str, scenarios: Scenarios) -> tuple[Species | None, list[LogShape], LogShape]:
    """The wood it is, where it is known, its shape in every scenario and its likely one."""
    log = log_sheet(sheet).log
    wood = species(log.species) if log.species else None
    named = doubts(log, wood)
    return wood, [build_shape(log, values) for values in scenarios.draws(named)], build_shape(log, likely(named))


def _volumes(shapes: Sequence[LogShape], middle: LogShape) -> Figured:
    return _each(shapes, middle, lambda shape: volume_of(shape, bark=False))


def scaled_board_feet(shape: LogShape) -> float:
    """International 1/4-inch rule without rounding to inches, so that ranges do not jump; nothing below four inches."""
    return smooth_board_feet(scaling_diameter(shape), shape.length_m)


def smooth_board_feet(small_m: float, length_m: float) -> float:
    """The same of a scaling diameter and a length."""
    return 0.0 if small_m < SMALLEST_M else max(international(min(small_m / INCH_M, 60.0), min(length_m / FOOT_M, 40.0)), 0.0)


def along_length(length: Estimate, scenes: Sequence[Scene], at_m: Sequence[float], scenarios: Scenarios) -> Scene:
    """A log whose length is in doubt, from its scenes at low, likely and high length: straight between them."""
    masses = [scene.mass_kg for scene in scenes if scene.mass_kg is not None]
    return Scene(
        between_lengths(length, [scene.wood_m3 for scene in scenes], at_m, scenarios),
        between_lengths(length, [scene.board_feet for scene in scenes], at_m, scenarios),
        between_lengths(length, masses, at_m, scenarios) if len(masses) == len(scenes) else None,
        scenes[0].mass_basis,
    )


def between_lengths(length: Estimate, parts: Sequence[Figured], at_m: Sequence[float], scenarios: Scenarios) -> Figured:
    """One quantity of such a log, from what it is at each of these lengths [m]: straight between them."""
    lengths = scenarios.values("offer.length", length)
    rows = np.array([part.values for part in parts])
    values = np.array([np.interp(at, at_m, rows[:, i]) for i, at in enumerate(lengths)])
    return Figured(values, float(np.interp(length.likely, at_m, [part.likely for part in parts])))


@dataclass(frozen=True, eq=False)
class Sawn:
    """A quick through-and-through plan: its cents and usable dry wood [m3] in every scenario, nothing where nothing wanted can be
    sawn; rules: what the cents mean."""

    cents: Figured
    usable_m3: Figured
    rules: PriceRules

    @property
    def priced(self) -> bool:
        """Whether the wants carry prices."""
        return self.rules.ranking is Ranking.MONEY


def quick_plan(sheets: Mapping[str, str], scenarios: Scenarios, over: Over = map) -> Sawn | str:
    """The through-and-through plan of a log sheet with mill and wants, or the sentence that says why this log can have none.

    Raises SheetProblems.
    """
    try:
        prepared = ready(sheets)
        return _sawn(prepared, scenarios, over)
    except (NoFigure, UnknownSpecies, NothingLeft, CannotSawAgain) as why:
        return f"No quick plan: {why}"


def _sawn(prepared: Ready, scenarios: Scenarios, over: Over) -> Sawn:
    bench = prepared.bench
    try:
        plan = PATTERNS[Pattern.THROUGH](bench, over)
    except NothingToSaw:
        nothing = Figured(np.zeros(scenarios.n), 0.0)
        return Sawn(nothing, nothing, bench.wants.rules)
    sawyer = Sawyer.of(plan, bench)
    states = worlds(bench, prepared.measured.wood, prepared.measured.shapes(scenarios), scenarios)
    found = [sawyer.settled(sawyer.saw(each)) for each in states]
    middle = sawyer.settled(sawyer.saw(likely_world(bench)))
    cents = Figured(np.array([float(one.cents) for one in found]), float(middle.cents))
    return Sawn(cents, Figured(np.array([one.usable_m3 for one in found]), middle.usable_m3), bench.wants.rules)


READ = Basis(Ground.READING, "the readings")


def _each(shapes: Sequence[LogShape], middle: LogShape, figure: Callable[[LogShape], float]) -> Figured:
    return Figured(np.array([figure(shape) for shape in shapes]), figure(middle))


def _any_mass(shapes: Sequence[LogShape], middle: LogShape, scenarios: Scenarios) -> Figured:
    density = scenarios.values("offer.density", ANY_DENSITY)
    with_bark = _each(shapes, middle, lambda shape: volume_of(shape, bark=True))
    return Figured(with_bark.values * density, with_bark.likely * ANY_DENSITY.likely)


def _mass_basis(wood: Species) -> Basis:
    try:
        return Basis(Ground.SOURCE, weight_doubts(wood, bark=True)[SG].basis.key, f"{wood.common}, green, with bark")
    except NoFigure:
        return Basis(Ground.DEFAULT, "", "no table has its density")


def _mass(wood: Species, shapes: Sequence[LogShape], middle: LogShape, scenarios: Scenarios) -> Figured | None:
    try:
        named = weight_doubts(wood, bark=True)
    except NoFigure:
        return None
    masses = [mass_of(shape, values) for shape, values in zip(shapes, scenarios.draws(named), strict=True)]
    return Figured(np.array(masses), mass_of(middle, likely(named)))
