"""What stands beside every pass and every turn of a plan: weights, widths of opened faces, when to stop and look."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from waney.figures.estimate import Estimate
from waney.logs.measured import Hidden
from waney.logs.weight import GreenWeight
from waney.prices.product import Product
from waney.sawing.facts.sawn_log import Band, SawnLog
from waney.sawing.moves import heights_by_lie

LIFT_ALONE_KG = 23.0
"""More than one person should lift: load constant of the lifting equation, 51 lb. Source: niosh-lifting (from memory)."""


class Look(StrEnum):
    """Why the sawyer stops after a cut and looks at the face."""

    FIRST_FACE = "first face"
    STRESS = "growth stress"
    METAL = "metal"
    ROT = "rot"
    PITH = "pith"
    GRAIN = "grain"


@dataclass(frozen=True)
class CutFacts:
    """What is known of one pass."""

    weight_off: Estimate | None = None
    """of what comes off, with its bark [kg]"""
    face_m: tuple[float, float] | None = None
    """width inside bark of the face that the pass opens, at the butt and at the top end"""
    looks: tuple[Look, ...] = ()
    metal: bool = False
    """the pass comes near metal that was suspected"""
    heavy: bool = False
    """what comes off is more than one person should lift"""


@dataclass(frozen=True)
class TurnFacts:
    """What is known of one turn."""

    weight: Estimate | None = None
    """of what is turned [kg]"""
    size_m: tuple[float, float] | None = None
    """height and width over bark of what then lies on the bed, at the butt end"""
    helped: bool = False
    """too heavy for the sawyer alone, by the mill sheet"""
    by_machine: bool = False
    """too heavy even with help, by the mill sheet"""


@dataclass(frozen=True)
class _Cut:
    """One pass with what bounds it: the next height in its lie is 0 where it is the last one there."""

    number: int
    lie: int
    first_here: bool
    second_here: bool
    height_m: float
    next_m: float


def cut_facts(
    sawn: SawnLog, weight: GreenWeight | None, products: Mapping[str, Product], metal_margin_m: float
) -> Mapping[int, CutFacts]:
    """Facts by the number of the pass, from 1 over all lies. products: by the name of the piece."""
    return {cut.number: _facts(sawn, cut, weight, products, metal_margin_m) for cut in _cuts(sawn)}


def _facts(sawn: SawnLog, cut: _Cut, weight: GreenWeight | None, products: Mapping[str, Product], margin_m: float) -> CutFacts:
    facts = CutFacts(
        face_m=sawn.face_m(cut.number),
        looks=tuple(_looks(sawn, cut, products, margin_m)),
        metal=_near_metal(sawn, cut, margin_m),
    )
    if weight is None:
        return facts
    off = weight.share(sawn.share_off(cut.number, weight.bark_density))
    return replace(facts, weight_off=off, heavy=off.high > LIFT_ALONE_KG)


def turn_facts(sawn: SawnLog, weight: GreenWeight | None) -> Mapping[int, TurnFacts]:
    """Facts by the lie that a turn leads to, from 1."""
    return {lie: _turned(sawn, lie, weight) for lie in range(1, len(sawn.plan.lies))}


def _turned(sawn: SawnLog, lie: int, weight: GreenWeight | None) -> TurnFacts:
    size = sawn.size_m(lie)
    if weight is None:
        return TurnFacts(size_m=size)
    left, mill = weight.share(sawn.share_on_bed(lie, weight.bark_density)), sawn.mill
    return TurnFacts(
        weight=left,
        size_m=size,
        helped=mill.heaviest_turn_alone_kg is not None and left.high > mill.heaviest_turn_alone_kg,
        by_machine=mill.heaviest_turn_helped_kg is not None and left.high > mill.heaviest_turn_helped_kg,
    )


def metal_cuts(sawn: SawnLog, metal_margin_m: float) -> tuple[int, ...]:
    """Numbers of the passes that come near metal which was suspected or is sure."""
    return tuple(cut.number for cut in _cuts(sawn) if _near_metal(sawn, cut, metal_margin_m))


def _cuts(sawn: SawnLog) -> Iterator[_Cut]:
    number = 0
    for lie, steps in enumerate(heights_by_lie(sawn.plan.moves)):
        here = [*(height * sawn.mill.step_m for height in steps), 0.0]
        for i, height in enumerate(here[:-1]):
            number += 1
            yield _Cut(number, lie, i == 0, i == 1, height, here[i + 1])


def _looks(sawn: SawnLog, cut: _Cut, products: Mapping[str, Product], margin_m: float) -> Iterator[Look]:
    """What is asked of the opened face is about the piece under it, down to a margin beyond the next cut."""
    comes = (cut.next_m - margin_m, cut.height_m)
    if cut.first_here and cut.lie == 0:
        yield Look.FIRST_FACE
    if cut.second_here:
        yield Look.STRESS
    if any(_meet(band, comes) for _, band in sawn.zones(cut.lie, Hidden.METAL)):
        yield Look.METAL
    if any(_meet(band, comes) for _, band in sawn.zones(cut.lie, Hidden.ROT, Hidden.HOLLOW)):
        yield Look.ROT
    if any(_meet(band, comes) for band in sawn.piths(cut.lie)):
        yield Look.PITH
    if _wants_grain(sawn, cut, products):
        yield Look.GRAIN


def _wants_grain(sawn: SawnLog, cut: _Cut, products: Mapping[str, Product]) -> bool:
    """Whether the piece under the cut is to show a grain."""
    steps = round(cut.height_m / sawn.mill.step_m)
    under = (p.piece.name for p in sawn.plan.pieces if p.lie == cut.lie and p.upper_steps == steps)
    return any(name in products and products[name].grain is not None for name in under)


def _near_metal(sawn: SawnLog, cut: _Cut, margin_m: float) -> bool:
    band = (cut.height_m - margin_m, cut.height_m + sawn.mill.kerf_m + margin_m)
    return any(_meet(zone, band) for _, zone in sawn.zones(cut.lie, Hidden.METAL))


def _meet(one: Band, other: Band) -> bool:
    return one[0] < other[1] and other[0] < one[1]
