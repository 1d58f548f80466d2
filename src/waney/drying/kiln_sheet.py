"""Kiln sheet: what a kiln is inside, what it bears, and how heat gets into the wood."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.drying.air import STICKER_M
from waney.drying.outdoors import NARROWEST_M, WIDEST_M, Passage
from waney.drying.pile_parts import Base, bearers
from waney.drying.sun_kiln import SunKiln
from waney.drying.vacuum import Cycle, Plates, Radio
from waney.figures.problem import Problem


class BadKiln(Problem):
    """A kiln sheet whose lines do not go together."""


class Heat(StrEnum):
    """How heat gets into the wood; the text is how a page names it."""

    AIR = "heated air"
    PLATES = "heated plates in vacuum"
    CYCLES = "hot air and vacuum by turns"
    RADIO = "radio frequency in vacuum"
    SUN = "sun"


IN_AIR = (Heat.AIR, Heat.SUN)
"""What dries in air: edges count there, and nothing is pumped out."""


@dataclass(frozen=True)
class KilnSheet:
    """A kiln. length_m, width_m, height_m: room for the pile inside; load_kg: what its floor or cart bears; plates: with heated
    plates, cycle: with hot air and vacuum by turns, radio: with radio frequency, None where nobody told its figures; within_m:
    most that thicknesses in one layer may differ, which with plates is what still touches; bearing_m: most between bearers;
    hottest_c: what the kiln can hold, None: as hot as asked; whose: empty, our own; fee: what it charges, in words; sun: of one
    that the sun warms, its chamber and weather."""

    name: str
    length_m: float
    width_m: float
    height_m: float
    load_kg: float
    heat: Heat = Heat.AIR
    plates: Plates | None = None
    cycle: Cycle | None = None
    within_m: float = 0.003
    sticker_m: float = STICKER_M
    bearing_m: float = 0.41
    hottest_c: float | None = None
    whose: str = ""
    fee: str = ""
    radio: Radio | None = None
    sun: SunKiln | None = None

    def __post_init__(self) -> None:
        if min(self.length_m, self.width_m, self.height_m, self.load_kg) <= 0.0:
            raise BadKiln(f"{self.name}: length, width, height inside and the weight it bears must be above zero.")
        if (self.heat is Heat.PLATES) != (self.plates is not None) or (self.heat is Heat.CYCLES) != (self.cycle is not None):
            raise BadKiln(f"{self.name}: {self.heat} needs its own figures of temperature and pressure, and no others.")
        if (self.heat is Heat.SUN) != (self.sun is not None):
            raise BadKiln(f"{self.name}: what was read in a chamber that the sun warms goes with one alone that it does warm.")
        if self.radio is not None and self.heat is not Heat.RADIO:
            raise BadKiln(f"{self.name}: figures of radio frequency, and yet it is heated by {self.heat}.")

    @property
    def pressure_pa(self) -> float:
        """In vacuum [Pa]; 0 where there is none, or none was told."""
        if self.cycle is not None:
            return self.cycle.vacuum_pa
        inside = self.plates or self.radio
        return 0.0 if inside is None else inside.pressure_pa

    @property
    def passage(self) -> Passage:
        """What its air goes through: a pile as wide as its room, between its stickers."""
        return Passage(min(max(self.width_m, NARROWEST_M), WIDEST_M), self.sticker_m)

    @property
    def base(self) -> Base:
        """As a pile is laid in it; with plates there is a plate where elsewhere a sticker lies."""
        at = bearers(self.length_m, self.bearing_m)
        return Base(self.length_m, self.width_m, self.height_m, at, sticker_m=self.sticker_m, within_m=self.within_m)
