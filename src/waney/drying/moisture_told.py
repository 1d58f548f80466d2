"""A moisture as somebody wrote it down, and what it tells: put right for wood and temperature, with its range."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from waney.drying.meter import RIGHT, Meter, MeterReading, read_meter
from waney.drying.meter_sheet import MeterSheet
from waney.drying.sample_board import SECTION_SPREAD
from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import OutOfRange, Problem
from waney.wood.species import Species, species
from waney.wood.traits import Trait

OVEN = Basis(Ground.READING, "oven-dry sample")


class Where(StrEnum):
    """Where in the thickness a moisture was read."""

    WHOLE = "whole thickness"
    SHELL = "shell"
    CORE = "core"


@dataclass(frozen=True)
class MoistureTold:
    """A moisture as it was read [-]. meter: None for an oven-dry sample; wood_c: temperature of the wood [°C]; right: put right
    for wood and temperature already; set_to: the wood that the meter was set to, by whatever name."""

    day: date
    mc: float
    meter: Meter | None
    where: Where = Where.WHOLE
    wood_c: float | None = None
    right: bool = False
    set_to: str = ""


def moisture_of(told: MoistureTold, wood: Species, sheet: MeterSheet) -> MeterReading:
    """What it tells of a piece of this wood.

    A meter that was set to the wood, or whose reading was put right, needs no table; a reading beyond the typed-in table is
    read without it, and says so. Raises NoFigure for a wood without gravity, OutOfRange for what no meter is made for.
    """
    if told.meter is None:
        reach = Z_95 * SECTION_SPREAD * told.mc
        return MeterReading(Estimate(told.mc, told.mc - reach, told.mc + reach, OVEN, 0.0), False, "")
    gravity = wood.needed(Trait.SG_GREEN).likely
    table = RIGHT if told.right or _same(told.set_to, wood) else sheet.tables.get(wood.id)
    warm = sheet.own_c if told.right else told.wood_c
    try:
        return read_meter(told.meter, told.mc, warm, gravity, table, sheet.own_c)
    except OutOfRange as beyond:
        if table is None or table is RIGHT:
            raise
        plain = read_meter(told.meter, told.mc, warm, gravity, None, sheet.own_c)
        return MeterReading(plain.mc, plain.bracketed, f"{beyond} It was read as it stands, with a wider range.")


def _same(name: str, wood: Species) -> bool:
    try:
        return bool(name) and species(name).id == wood.id
    except Problem:
        return False
