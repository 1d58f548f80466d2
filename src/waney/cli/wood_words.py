"""A wood's figures as lines of text, each in the unit of the trade."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from waney.cli.ranges import moisture
from waney.cli.views import View, shop_of, volume_unit
from waney.figures.estimate import Estimate, Ground
from waney.figures.sources import source
from waney.papers.columns import headed, paragraph
from waney.papers.ranges import spread
from waney.units.direction import Direction
from waney.units.force import NEWTON, POUND_FORCE
from waney.units.mass import print_mass
from waney.units.moisture import print_mc
from waney.units.pressure import GIGAPASCAL, MILLION_PSI
from waney.units.quantity import Unit, print_quantity
from waney.units.volume import BOARD_FOOT, CUBIC_METRE
from waney.wood.at_moisture import AtMoisture
from waney.wood.species import Species
from waney.wood.traits import CHANGES, HARDNESS, Figure, Trait

NO_VALUE = "no value"
GRAVITIES = frozenset({Trait.SG_GREEN, Trait.SG_12, Trait.BARK_SG})


def figure_lines(wood: Species, view: View, *, full: bool) -> Iterator[str]:
    """Every trait: its figure, range, mark and source, or "no value"; `full`: how the range was drawn."""
    said = [(_name(trait), wood.figure(trait), _printer(trait, view)) for trait in Trait]
    values = [spread(figure.value, say) if figure else NO_VALUE for _, figure, say in said]
    wide, long = max(len(name) for name, _, _ in said), max(len(value) for value in values)
    for (name, figure, _), value in zip(said, values, strict=True):
        yield f"  {name:{wide}}   {value:{long}}   {_mark(figure)}".rstrip()
        if full and figure:
            yield from paragraph(str(figure.value.basis), "      ")


def _name(trait: Trait) -> str:
    return str(trait).partition(" [")[0]


def _mark(figure: Figure | None) -> str:
    return f"{figure.status}; {figure.value.basis.key}" if figure else ""


def _printer(trait: Trait, view: View) -> Callable[[float], str]:
    if trait in GRAVITIES:
        return "{:.2f}".format
    if trait in CHANGES:
        return "{:.5f}".format
    if trait in HARDNESS:
        return _in(POUND_FORCE if view is View.INCHES else NEWTON)
    if trait is Trait.MOE_12:
        return _in(MILLION_PSI if view is View.INCHES else GIGAPASCAL)
    return print_mc


def _in(unit: Unit) -> Callable[[float], str]:
    return partial(print_quantity, unit=unit, direction=Direction.READ)


def at_lines(at: AtMoisture, green: Estimate | None, view: View) -> Iterator[str]:
    """What a board weighs green and at the moisture asked for, and how much it has shrunk by then."""
    sawn = BOARD_FOOT if view is View.INCHES else CUBIC_METRE
    yield f"A {sawn.one} as it comes off the saw weighs {_weight_of(green, sawn, view)} green"
    yield f"  the same wood at {print_mc(at.mc)}: {_weight_of(at.sawn_m3_kg, sawn, view)}"
    cube = volume_unit(view)
    yield f"A {cube.one} of it at {print_mc(at.mc)} weighs {_weight_of(at.density_kg_m3, cube, view)}"
    yield f"Shrunk from green to {print_mc(at.mc)}: {_or_no(moisture, at.shrunk_radial)} across a quartersawn width"
    yield f"  {_or_no(moisture, at.shrunk_tangential)} across a flatsawn width"


def _weight_of(per_m3_kg: Estimate | None, of: Unit, view: View) -> str:
    unit = shop_of(view).weight
    return _or_no(lambda e: spread(e, lambda kg: print_mass(of.in_si(kg), unit, Direction.READ)), per_m3_kg)


def _or_no(say: Callable[[Estimate], str], estimate: Estimate | None) -> str:
    return NO_VALUE if estimate is None else say(estimate)


def source_lines(wood: Species) -> Iterator[str]:
    """The sources of its figures, in full."""
    bases = [figure.value.basis for figure in wood.figures.values()]
    keys = dict.fromkeys(basis.key for basis in bases if basis.ground is Ground.SOURCE)
    yield from headed("Sources")
    for key in keys:
        yield from paragraph(f"{key}: {source(key)}")
