"""How wood dried: a stack for each sawing day, some of them through the kiln, then onto a rack; what the meter said."""

from __future__ import annotations

from functools import partial

from waney.cli.demo_year.story import INCH_M
from waney.cli.demo_year.yard import Yard
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy, StackBuilt
from waney.yard.book.looking import pieces
from waney.yard.services import stacks

STICKER_M, APART_M = round(0.75 * INCH_M, 5), 16 * INCH_M
A_LAYER = 3
INTO, OUT, KILN, LOADS = 110, 96, "old container kiln", 4
"""days after sawing; the first so many stacks went through the kiln"""
RACKED_AFTER, RACKED = 118, 7
"""days after sawing; the first so many stacks were taken down"""
READ = (
    (21, 0.52, Depth.WHOLE),
    (55, 0.29, Depth.WHOLE),
    (93, 0.19, Depth.WHOLE),
    (105, 0.08, Depth.SHELL),
    (105, 0.11, Depth.CORE),
)
"""made up: days after sawing, what the meter said, and where"""
ROOM_C = 18.0


def enter(yard: Yard) -> None:
    """Put it on the agenda."""
    for number, ago in enumerate(yard.story.days[:-1], 1):
        yard.diary.on(ago, 17, partial(_stacked, yard, number, ago))


def _stacked(yard: Yard, number: int, ago: int) -> None:
    """What came off that day, three to a layer; what happens to the stack later goes on the agenda."""
    diary, stack = yard.diary, yard.diary.new_id()
    came = [piece for log in yard.story.logs if log.sawn == ago and not log.cant for piece in yard.pieces[log.code]]
    layers = tuple(tuple(came[first : first + A_LAYER]) for first in range(0, len(came), A_LAYER))
    stacks.build_stack(
        yard.ruth, StackBuilt(stack, f"by the mill, {number}", yard.spots[yard.story.wet_stack], layers, STICKER_M, APART_M)
    )
    if any(log.sawn == ago and log.cant for log in yard.story.logs):
        diary.on(ago - 7, 16, lambda: stacks.put_on(yard.ruth, stack, tuple(yard.posts)))
    if number <= LOADS:
        diary.on(ago - INTO, 9, partial(_into_kiln, yard, stack, ago))
    if number <= RACKED:
        diary.on(ago - RACKED_AFTER, 14, partial(_racked, yard, stack, came, yard.story.racks[number % len(yard.story.racks)]))
    for after, mc, depth in READ:
        if ago - after > 1 and (number <= LOADS or depth is Depth.WHOLE):
            diary.on(ago - after, 15, partial(_read, yard, came[len(came) // 2], mc, depth))


def _into_kiln(yard: Yard, stack: str, ago: int) -> None:
    load = stacks.load_kiln(yard.ruth, KILN, (stack,), words="a slow schedule, fans on one side").id
    yard.diary.on(ago - OUT, 9, lambda: stacks.unload_kiln(yard.ruth, load, "flat, two ends checked"))


def _racked(yard: Yard, stack: str, came: list[str], rack: str) -> None:
    there = {piece.id for piece in pieces(yard.diary.book) if not piece.ended}
    stacks.take_off(yard.ruth, stack, tuple(piece for piece in came if piece in there), yard.spots[rack])


def _read(yard: Yard, piece: str, mc: float, depth: Depth) -> None:
    stacks.read_moisture(yard.ruth, MoistureRead(f"piece:{piece}", mc, ReadBy.PINS, depth, 1.2, ROOM_C))
