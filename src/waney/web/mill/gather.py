"""Gather: what the page at the mill is to hold, read from the book."""

from __future__ import annotations

import json
from contextlib import suppress
from functools import lru_cache
from math import floor

from waney.figures.json_out import Encoder
from waney.figures.typed_json import Json
from waney.papers.mill_steps import AtMill
from waney.papers.words import Shop as Writes
from waney.papers.words import measure
from waney.units.direction import Direction
from waney.units.length import FOOT_NM, Grain
from waney.web.access.members import Member
from waney.web.mill.fold import TAGGED
from waney.web.mill.holds import FORMAT, Done, Holds
from waney.web.shop import Shop, writes
from waney.web.showing import Figures
from waney.yard.book.chosen import chosen_plan
from waney.yard.book.days import DayStands, HappenedStands, Off, came_off, happened, last_thicknesses
from waney.yard.book.logs_seen import LogStands
from waney.yard.book.looking import pieces
from waney.yard.book.tags import Stapled, free_names, stapled
from waney.yard.names import read_name
from waney.yard.problems import Refused
from waney.yard.services.mill import take_names

WITHOUT_PLAN, SPARE = 40, 12
"""how many pieces a log gives of which nobody knows, and how many names a device takes besides (common practice, no source)"""
THICKNESSES_M = (0.0254, 0.03175, 0.0381, 0.0508, 0.0635, 0.0762)
"""offered after those that were sawn lately: 1, 1 1/4, 1 1/2, 2, 2 1/2, 3 in; common practice, no source"""
MOST_THICKNESSES = 6
NO_STEP_M = 0.0015875
"""the bed scale of a mill that nobody described: 1/16 in"""
FOOT_M = FOOT_NM * 1e-9
NO_EIGHTH_STEPS = 2
EIGHTHS = (1, 2, 3, 4, 8)
NO_LENGTH_M, MOST_PLACES = 5.0, 20
"""how far places along a log go whose length nobody told, and how many are offered"""
HIGHEST_M = 1.016
"""40 in, above which no blade of such a mill stands"""
NO_KERF_M = 0.00238125
"""and its kerf: 3/32 in; common practice, no source"""
MISSES_M = 0.0254
"""1 in, twice the largest miss that is offered: by more no piece comes off thicker than planned"""
Lengths = tuple[tuple[str, str, str, str], ...]
"""whole, numerator, denominator, unit"""


def gathered(shop: Shop, member: Member | None, device: str, day: DayStands, log: LogStands, mill: AtMill | None) -> Holds:
    """Everything for one log on one day; mill: the steps of its chosen plan, where they are worked out; member: who may write
    with this device, None: whoever only looks, for whom no names are taken."""
    plan = chosen_plan(shop.book, log.id)
    step_m = mill.step_m if mill else NO_STEP_M
    before = sum(one.day != day.id for one in pieces(shop.book, log.id))
    thick = tuple(dict.fromkeys((*last_thicknesses(shop.book, MOST_THICKNESSES), *THICKNESSES_M)))[:MOST_THICKNESSES]
    writing = writes(shop.settled())
    return Holds(
        FORMAT,
        day.id,
        day.on,
        log.id,
        log.name,
        Figures.wood(log.species),
        device,
        member.person if member else "",
        plan.id if plan and mill else "",
        mill,
        step_m,
        mill.kerf_m if mill else NO_KERF_M,
        names_for(shop, member, device, log, pieces_of(mill)),
        done_on(shop, day.id, log.id, step_m),
        thick,
        tuple(str(writing.read(each)) for each in thick),
        before,
        () if mill else _printed(writing, step_m),
        day.spot,
        day.spot_called,
        _eighths(writing, step_m, mill.eighth_steps if mill else NO_EIGHTH_STEPS),
        _along(writing, mill),
        writing.sizes.metres,
        _sizes(writing, mill) if mill else (),
    )


def _printed(writing: Writes, step_m: float) -> Lengths:
    grain = Grain.MM if writing.sizes.metric else Grain.SIXTEENTH_INCH
    return _lengths(grain, step_m, HIGHEST_M)


def _sizes(writing: Writes, mill: AtMill) -> Lengths:
    thick = [step.comes.thickness_m for step in mill.steps if step.comes and step.comes.thickness_m]
    return _lengths(writing.sizes, writing.sizes.metres, max(thick, default=0.0) + MISSES_M)


@lru_cache(maxsize=32)
def _lengths(grain: Grain, apart_m: float, most_m: float) -> Lengths:
    lengths = (measure(count * apart_m, grain, Direction.READ) for count in range(round(most_m / apart_m) + 1))
    return tuple((one.whole, one.over, one.under, one.unit) for one in lengths)


def _eighths(writing: Writes, step_m: float, eighth_steps: int) -> tuple[str, ...]:
    return tuple(str(writing.read(n * eighth_steps * step_m)) for n in EIGHTHS)


def _along(writing: Writes, mill: AtMill | None) -> tuple[tuple[float, str], ...]:
    """From the butt on, a foot or a quarter of a metre apart, farther apart on a long log."""
    unit, unit_m, every = ("m", 1.0, 0.25) if writing.sizes.metric else ("ft", FOOT_M, 1)
    lengths = [step.comes.length_m for step in mill.steps if step.comes and step.comes.length_m] if mill else []
    long = max(lengths, default=NO_LENGTH_M) / unit_m
    while long / every > MOST_PLACES:
        every *= 2
    places = (n * every for n in range(1, floor(long / every) + 1))
    return ((0.0, "at the butt"), *((place * unit_m, f"{place:g} {unit}") for place in places))


def pieces_of(mill: AtMill | None) -> int:
    """How many names a log needs."""
    return WITHOUT_PLAN if mill is None else sum(step.comes is not None and step.comes.kept for step in mill.steps)


def names_for(shop: Shop, member: Member | None, device: str, log: LogStands, needed: int) -> tuple[str, ...]:
    """Free names that this device holds; while somebody who may write looks it takes more, once they are few.

    As many as the log needs and some to spare, not more: the names of the next device begin after them.
    """
    code = read_name(log.name).code
    held = free_names(shop.book, code, device)
    if member is not None and len(held) < min(needed, SPARE):
        with suppress(Refused):  # the book gives names itself, then
            take_names(shop.hand(member.person), code, needed + SPARE - len(held), device)
        held = free_names(shop.book, code, device)
    return tuple(map(str, held))


def done_on(shop: Shop, day: str, log: str, step_m: float) -> tuple[Done, ...]:
    """What was done with a log on a day, in the order of the book."""
    tags = stapled(shop.book, day, log)
    crayon = {one.piece: one.crayon for one in tags}
    off = [(one.seq, _off(one, crayon.get(one.piece, one.name), step_m)) for one in came_off(shop.book, day, log)]
    else_ = [(one.seq, _happened(one, step_m)) for one in happened(shop.book, day, log)]
    return tuple(done for _, done in sorted([*off, *else_, *((one.seq, _tagged(one)) for one in tags)], key=lambda pair: pair[0]))


def _tagged(one: Stapled) -> Done:
    return Done(one.command, "tagged", TAGGED, f"piece:{one.piece}", name=one.name)


def _off(one: Off, name: str, step_m: float) -> Done:
    thick = 0 if one.off_by_m is None else round(one.off_by_m / step_m)
    height = None if one.height_m is None else round(one.height_m / step_m)
    about = f"piece:{one.piece}"
    return Done(one.command, "came-off", one.how, about, one.cut, None, thick, None, name, one.thickness_m, height)


def _happened(one: HappenedStands, step_m: float) -> Done:
    thick = 0 if one.off_by_m is None else round(one.off_by_m / step_m)
    read = json.loads(one.pith_m)
    pith = (round(read[0] / step_m), round(read[1] / step_m)) if len(read) == 2 else None
    return Done(one.command, "at-the-mill", one.what, f"day:{one.day}", None, one.step, thick, pith)


def as_json(holds: Holds) -> Json:
    """For the page."""
    return Encoder().encode(holds, Holds)
