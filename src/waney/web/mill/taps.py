"""Taps: what a tap at the mill writes, as an act. The page's module writes the same acts."""

from __future__ import annotations

from dataclasses import dataclass

from waney.papers.by_plan import NewPiece, OnTheBed, came_off, happened, kept
from waney.web.mill.fold import stands
from waney.web.mill.holds import Holds
from waney.yard.acts.mill import AtTheMill, CameOff, Happened, Off


@dataclass(frozen=True)
class Tap:
    """How it came off: as meant, or how not; thick_steps: by so many marks too thick (thin: below 0)."""

    how: Off = Off.AS_MEANT
    thick_steps: int = 0


def tapped(holds: Holds, tap: Tap, piece: str) -> CameOff | AtTheMill | None:
    """What is written when the next step of the plan was done; piece: an id for what comes off. None when all was done."""
    if holds.at_mill is None:
        return None
    now = stands(holds.at_mill, holds.done)
    if now.step is None:
        return None
    step, bed = holds.at_mill.steps[now.step], OnTheBed(holds.day, holds.log, holds.plan)
    off_by = round(tap.thick_steps * holds.step_m, 9) if tap.thick_steps else None
    if kept(step) is None:
        return happened(bed, step, now.step, off_by)
    new = NewPiece(piece, holds.names[0] if holds.names else "", holds.first_order + now.order + 1, holds.spot)
    height = None if now.height_steps is None else round(now.height_steps * holds.step_m, 9)
    return came_off(bed, step, new, height, tap.how, off_by)


def as_a_cant(holds: Holds, piece: str) -> CameOff:
    """What lies on the bed is kept as it is, to be sawn another day."""
    return without_plan(holds, None, piece, Off.CANT)


def without_plan(holds: Holds, thickness_m: float | None, piece: str, how: Off = Off.AS_MEANT) -> CameOff:
    """One tap where there is no plan: the piece has its name, its order and its thickness, where that is known."""
    order = holds.first_order + sum(each.kind == "came-off" for each in holds.done) + 1
    name = holds.names[0] if holds.names else ""
    return CameOff(piece, holds.day, holds.log, name=name, order=order, how=how, thickness_m=thickness_m, spot=holds.spot)


def clamped(holds: Holds, pith_steps: tuple[int, int] | None) -> AtTheMill:
    """The log was moved or clamped again; pith_steps: where its pith stands at butt and top, where that was read."""
    pith = tuple(round(steps * holds.step_m, 9) for steps in pith_steps or ())
    return AtTheMill(Happened.CLAMPED_AGAIN, holds.day, holds.log, pith_m=pith)


def found(holds: Holds, what: Happened, along_m: float | None, clock: float | None, words: str = "") -> AtTheMill:
    """Something happened; along_m: how far from the butt it was found [m], clock: where on the clock of the butt, where known."""
    return AtTheMill(what, holds.day, holds.log, along_m=along_m, clock=clock, words=words)
