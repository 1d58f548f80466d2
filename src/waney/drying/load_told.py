"""What is told of a load beside its days: where it pulls at the wood most, and what edges and ends do for a lot in it."""

from __future__ import annotations

from dataclasses import replace

from waney.drying.board import NEVER, Course, dry
from waney.drying.kiln_sheet import Heat, KilnSheet
from waney.drying.load import Load, Traveller, days_alone, kiln_doubts, way
from waney.drying.lot import Lot
from waney.drying.stress import stresses
from waney.drying.watch import LEAST_SHORTER, said_of_stress, shorter
from waney.figures.scenarios import likely
from waney.wood.species import NoFigure


def said_of_load_stress(load: Load) -> str:
    """Drying stress of the lot whose surface is kept from shrinking most, by the likely case, as a risk."""
    middle = likely({name: one for lot in load.travellers for name, one in lot.lot.doubts().items()} | kiln_doubts(load.kiln))
    air = way(load.kiln, load.pace, load.plan, middle).air
    warm = float(air.source[0])
    found: list[tuple[float, Traveller, Course]] = []
    for one in load.travellers:
        stop = one.lot.target if one.early else NEVER
        course = dry(one.lot.piece(middle, load.kiln, warm), air, stop_at=stop, profiles=True)
        try:
            found.append((stresses(course, one.lot.wood).most_strain, one, course))
        except NoFigure:
            continue
    if not found:
        return "not known: for none of these woods the tables have shrinkage and elasticity"
    _, worst, course = max(found, key=lambda each: each[0])
    return f"{worst.lot.name}: {said_of_stress(course, worst.lot.wood)}"


def said_of_lot_sides(lot: Lot, kiln: KilnSheet) -> str:
    """By how much edges and bare ends shorten the days of a lot by itself in heated air; empty for none."""
    edges, ends = replace(lot, ends_open=False), replace(lot, edges_open=False)
    count = [one.counted_m < LEAST_SHORTER * one.thickness_m for one in (edges, ends)]
    if kiln.heat is not Heat.AIR or not any(count):
        return ""
    wide = replace(lot, edges_open=False, ends_open=False)
    return shorter(days_alone(lot, kiln), days_alone(wide, kiln), edges=count[0], ends=count[1])
