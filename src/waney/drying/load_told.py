"""What is told of a load beside its days: where it pulls at the wood most, what edges and ends do in it, what plates mind."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import replace

from waney.drying.board import NEVER, Course, dry
from waney.drying.kiln import LoadNeverDry
from waney.drying.kiln_sheet import IN_AIR, Heat, KilnSheet
from waney.drying.load import Load, Traveller, days_alone, kiln_doubts, way
from waney.drying.lot import Lot
from waney.drying.sides import Sides, by_edges
from waney.drying.stress import stresses
from waney.drying.watch import LEAST_SHORTER, said_of_stress, shorter, which_count
from waney.figures.scenarios import likely
from waney.wood.species import NoFigure

NOT_IN_VACUUM = "Its edges are counted in heated air only: in vacuum pieces as narrow as these may be dry sooner."
CLOSED = Sides(edges_open=False, ends_open=False)


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
    """By how much edges and bare ends shorten the days of a lot by itself in air; elsewhere edges are not counted (nor has
    every wood a schedule), which is said of pieces whose edges would tell. Empty for none."""
    if kiln.heat not in IN_AIR:
        narrow = min(lot.sides.width_m or lot.thickness_m, lot.thickness_m) if lot.edges_open else lot.thickness_m
        return NOT_IN_VACUUM if by_edges(lot.thickness_m, lot.sides) * narrow < LEAST_SHORTER * lot.thickness_m else ""
    counting = which_count(lot.sides, lot.thickness_m, lambda sides: _with(lot, sides).counted_m)
    return shorter(_alone(lot, kiln), _alone(_with(lot, CLOSED), kiln), *counting) if any(counting) else ""


def _with(lot: Lot, sides: Sides) -> Lot:
    return replace(lot, edges_open=sides.edges_open, ends_open=sides.ends_open)


def _alone(lot: Lot, kiln: KilnSheet) -> float | None:
    """None for one that never gets there in the days that are looked at."""
    try:
        return days_alone(lot, kiln)
    except LoadNeverDry:
        return None


def touch_told(load: Load, inside: Container[str]) -> tuple[dict[str, float], tuple[str, ...]]:
    """What somebody told of those pieces of a load that lie inside and a plate minds: cups by name [m], and who has bark on; none
    without plates."""
    if load.kiln.heat is not Heat.PLATES:
        return {}, ()
    told = [each for one in load.travellers for each in one.lot.touch if each.piece in inside]
    return {each.piece: each.cup_m for each in told if each.cup_m}, tuple(each.piece for each in told if each.bark_on)
