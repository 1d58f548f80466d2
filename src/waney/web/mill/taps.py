"""Taps: what a tap at the mill writes, as an act. The page's module writes the same acts."""

from __future__ import annotations

from dataclasses import dataclass

from waney.papers.at_mill import Kind, Step
from waney.web.mill.fold import stands
from waney.web.mill.holds import Holds
from waney.yard.acts.mill import AtTheMill, CameOff, Happened, Off

HAPPENED = {
    Kind.ROLL_ON: Happened.LAID,
    Kind.TURN: Happened.TURNED,
    Kind.EDGE: Happened.EDGED,
    Kind.CUT: Happened.OUTSIDE,
    Kind.LEFT: Happened.OUTSIDE,
}


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
    step = holds.at_mill.steps[now.step]
    off_by = round(tap.thick_steps * holds.step_m, 9) if tap.thick_steps else None
    if step.comes is None or not step.comes.kept:
        happened = HAPPENED[step.kind]
        return AtTheMill(happened, holds.day, holds.log, plan=holds.plan, step=now.step, off_by_m=off_by)
    return _piece(holds, step, tap, piece, now.height_steps, off_by, holds.first_order + now.order + 1)


def _piece(
    holds: Holds, step: Step, tap: Tap, piece: str, height_steps: int | None, off_by: float | None, order: int
) -> CameOff | None:
    comes = step.comes
    assert comes is not None
    thick = None if comes.thickness_m is None else round(comes.thickness_m + (off_by or 0.0), 9)
    return CameOff(
        piece,
        holds.day,
        holds.log,
        holds.plan,
        name=holds.names[0] if holds.names else "",
        cut=step.number,
        order=order,
        how=tap.how,
        off_by_m=off_by,
        height_m=None if height_steps is None else round(height_steps * holds.step_m, 9),
        thickness_m=thick,
        length_m=comes.length_m,
        widths_m=comes.widths_m,
        at=comes.at,
        product=comes.product,
    )


def without_plan(holds: Holds, thickness_m: float, piece: str) -> CameOff:
    """One tap where there is no plan: the piece has its name, its order and its thickness."""
    order = holds.first_order + sum(each.kind == "came-off" for each in holds.done) + 1
    name = holds.names[0] if holds.names else ""
    return CameOff(piece, holds.day, holds.log, name=name, order=order, thickness_m=thickness_m)
