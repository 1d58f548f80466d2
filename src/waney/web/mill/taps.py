"""Taps: what a tap at the mill writes, as an act. The page's module writes the same acts."""

from __future__ import annotations

from dataclasses import dataclass

from waney.papers.by_plan import NewPiece, OnTheBed, came_off, happened, kept, some_wood
from waney.web.mill.fold import stands
from waney.web.mill.holds import Holds
from waney.yard.acts.mill import AtTheMill, CameOff, Happened, Off


@dataclass(frozen=True)
class Tap:
    """How it came off: as was to come, or how not; thick_steps: by so many marks too thick (thin: below 0)."""

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
    if kept(step) is None:
        return happened(bed, step, now.step, _off_by(holds, tap))
    new = NewPiece(piece, holds.names[0] if holds.names else "", holds.first_order + now.order + 1, holds.spot)
    stood = None if now.height_steps is None else max(0, now.height_steps - tap.thick_steps)
    height = None if stood is None else round(stood * holds.step_m, 9)
    return came_off(bed, step, new, height, tap.how, _off_by(holds, tap), round(now.comes_steps * holds.step_m, 9))


def _off_by(holds: Holds, tap: Tap) -> float | None:
    return round(tap.thick_steps * holds.step_m, 9) if tap.thick_steps else None


def as_a_cant(holds: Holds, piece: str) -> CameOff:
    """What lies on the bed is kept as it is, to be sawn another day."""
    return without_plan(holds, None, piece, Tap(Off.CANT))


def without_plan(holds: Holds, meant_m: float | None, piece: str, tap: Tap = Tap()) -> CameOff:
    """One tap where there is no plan: the piece has its name, its order and its thickness: as it was meant, where that is known,
    and the miss on top."""
    off_by = _off_by(holds, tap)
    order = holds.first_order + sum(each.kind == "came-off" for each in holds.done) + 1
    name, thick = holds.names[0] if holds.names else "", None if meant_m is None else some_wood(meant_m + (off_by or 0.0))
    return CameOff(
        piece,
        holds.day,
        holds.log,
        name=name,
        order=order,
        how=tap.how,
        off_by_m=off_by,
        thickness_m=thick,
        spot=holds.spot,
    )


def clamped(holds: Holds, pith_steps: tuple[int, int] | None) -> AtTheMill:
    """The log was moved or clamped again; pith_steps: where its pith stands at butt and top, where that was read."""
    pith = tuple(round(steps * holds.step_m, 9) for steps in pith_steps or ())
    return AtTheMill(Happened.CLAMPED_AGAIN, holds.day, holds.log, pith_m=pith)


def found(holds: Holds, what: Happened, along_m: float | None, clock: float | None, words: str = "") -> AtTheMill:
    """Something happened; along_m: how far from the butt it was found [m], clock: where on the clock of the butt, where known."""
    return AtTheMill(what, holds.day, holds.log, along_m=along_m, clock=clock, words=words)
