"""Lot: like pieces that travel together, and what scenarios make of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import log10

from waney.drying.air import DAY, AirState, air_steps
from waney.drying.board import Drying
from waney.drying.doubts import FACTOR, FILM, LEVEL, doubts, drawn
from waney.drying.kiln import counted_in_kiln
from waney.drying.kiln_sheet import IN_AIR, KilnSheet
from waney.drying.law import law_of
from waney.drying.pace import Pace, shared
from waney.drying.particles import OWN
from waney.drying.pile_parts import PilePiece
from waney.drying.plate_touch import PlateTouch
from waney.drying.schedules import Schedule, UnknownSchedule, code_for, schedule
from waney.drying.sides import Sides, counted_m
from waney.drying.vacuum import permeability_of, with_ends
from waney.figures.estimate import Basis, Estimate, Ground, around
from waney.figures.problem import Problem
from waney.units.share import print_share
from waney.wood.species import Species
from waney.wood.traits import Trait
from waney.wood.weight import MOISTURE, SG, piece_mass

SHARED = (LEVEL, FILM)
"""Doubts of the model itself: the same for every lot."""
PERMEABILITY = "wood.permeability"
AIR_DRY, LEAST_ABOVE = 0.12, 0.01
"""Least moisture of wood that nobody read, and least above what is wanted [-]: ours, a choice."""


WARM_AIR = AirState(35.0, 0.5, 1.5)
"""What a wood without a schedule is counted by: about a chamber that the sun warms. Ours; only bare ends hang on it."""


class BadLot(Problem):
    """A lot that nothing can be said of."""


@dataclass(frozen=True)
class Lot:
    """Like pieces of one wood. thickness_m: green; start: moisture now [-]; target: wanted [-]; pieces: as they lie; sapwood: all
    of it; code: another schedule than the wood's own; owner: whose they are; edges_open, ends_open: as of `Sides`; said: what
    is to be minded of how `start` was read, as sentences; touch: of those pieces that a plate does not touch as it should."""

    name: str
    wood: Species
    thickness_m: float
    start: Estimate
    target: float
    pieces: tuple[PilePiece, ...]
    sapwood: bool = False
    code: str | None = None
    owner: str = ""
    edges_open: bool = True
    ends_open: bool = False
    said: tuple[str, ...] = ()
    touch: tuple[PlateTouch, ...] = ()

    def __post_init__(self) -> None:
        if not self.pieces:
            raise BadLot(f"{self.name} has no pieces.")
        if self.start.likely <= self.target:
            raise BadLot(
                f"{self.name} is at {print_share(self.start.likely)} and is wanted at "
                f"{print_share(self.target)}: it is dry already."
            )

    @property
    def plan(self) -> Schedule:
        """Its own schedule. Raises UnknownSchedule."""
        return schedule(self.code or code_for(self.wood.id, self.thickness_m))

    @property
    def sides(self) -> Sides:
        """Of its widest and its longest piece: the slowest."""
        width, length = max(one.width_m for one in self.pieces), max(one.length_m for one in self.pieces)
        return Sides(width, length, self.edges_open, self.ends_open)

    @cached_property
    def counted_m(self) -> float:
        """Thickness of the wide board that dries in the same days in heated air [m]; without a schedule in warm air."""
        try:
            return counted_in_kiln(self.wood, self.thickness_m, self.sides, self.plan)
        except UnknownSchedule:
            return counted_m(self.thickness_m, self.sides, self.wood.needed(Trait.SG_GREEN).likely, air_steps([(DAY, WARM_AIR)]))

    @property
    def volume_m3(self) -> float:
        """Of all its pieces as they lie."""
        return sum(one.volume_m3 for one in self.pieces)

    @property
    def length_m(self) -> float:
        """Mean length of its pieces [m]."""
        return sum(one.length_m for one in self.pieces) / len(self.pieces)

    def doubts(self) -> Mapping[str, Estimate]:
        """What is not known of it, by names: the model's own doubts as they are, the wood's by the wood, moisture by the lot."""
        own = doubts(self.wood, self.start)
        low, likely, high = permeability_of(self.wood.id, sapwood=self.sapwood)
        logs = Estimate(log10(likely), log10(low), log10(high), Basis(Ground.DEFAULT, "", "permeability along the grain"))
        return {name: one for name, one in own.items() if name in SHARED} | {
            f"{SG}.{self.wood.id}": own[SG],
            f"{FACTOR}.{self.wood.id}": own[FACTOR],
            f"{MOISTURE}.{self.name}": own[MOISTURE],
            f"{PERMEABILITY}.{self.name}": logs,
        }

    def piece(self, values: Mapping[str, float], kiln: KilnSheet, warm_c: float) -> Drying:
        """Its piece in one scenario, in that kiln; values: by the names of `doubts`, and of the kiln's own."""
        plain = {name: values[name] for name in SHARED}
        factor = values[f"{FACTOR}.{self.wood.id}"] * values.get(OWN, 1.0)
        plain |= {SG: values[f"{SG}.{self.wood.id}"], FACTOR: factor}
        plain |= {MOISTURE: max(values[f"{MOISTURE}.{self.name}"], self.target + 1e-3)}
        if kiln.heat in IN_AIR:
            return drawn(plain, self.counted_m, warm_c)
        one = drawn(plain, self.thickness_m, warm_c)
        law = law_of(one.sg_green, Pace(free=shared()["free"].likely), kiln.pressure_pa)
        return with_ends(replace(one, law=law), 10.0 ** values[f"{PERMEABILITY}.{self.name}"], self.length_m, warm_c)


def in_common(read: Sequence[Estimate]) -> Estimate:
    """Moisture of a lot from that of some of its pieces [-]: their mean, and as wide as all of them together."""
    return replace(around(read), hard_min=0.0)


def not_read(wood: Species, target: float) -> Estimate:
    """Moisture of wood that nobody read [-]: from nearly air-dry to green; where no table knows it green, to 100 %."""
    green = wood.green_mc.likely if wood.green_mc is not None else 1.0
    low = max(AIR_DRY, target + LEAST_ABOVE)
    likely = max(0.5 * (low + min(green, 0.5)), low)
    return Estimate(likely, low, max(green, likely), Basis(Ground.DEFAULT, "", "nobody read its moisture"), 0.0)


def mass_of(wood: Species, volume_m3: float, start: Estimate) -> Estimate:
    """What a piece of a lot weighs as it goes in [kg], from its green volume and its moisture [-]. Raises NoFigure."""
    low, middle, high = (piece_mass(wood, volume_m3, mc) for mc in (start.low, start.likely, start.high))
    return Estimate(middle.likely, low.low, high.high, middle.basis, 0.0)
