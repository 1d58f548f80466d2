"""Loading day: what wood holds on the day on which it goes into a kiln, by the forecasts of the stacks it lies on.

Wood goes on drying after it was read. A piece that was read on the day itself needs no forecast, nor does a lot whose moisture
was typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from waney.web.asked.load import Expected, LotAsked
from waney.web.asked.stack import LineAnswer, StackAnswer
from waney.web.asking import Job
from waney.web.ready import ready_of
from waney.web.shop import Shop
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.looking import PieceStands
from waney.yard.book.stack_seen import ReadOf, drying_stacks
from waney.yard.here import day_here

AT_TARGET = 1e-3
"""So near the moisture down to which a stack is followed it is there [-]."""


@dataclass(frozen=True)
class OnTheDay:
    """lots: with what is expected of their pieces; job: a forecast that is still worked out, else None."""

    lots: tuple[LotAsked, ...]
    job: Job | None


def on_the_day(shop: Shop, lots: Sequence[LotAsked], pieces: Sequence[PieceStands], on: date) -> OnTheDay:
    """Lots with the forecasts of their stacks for that day, as far as they are needed; asks for those that are not there yet."""
    ids = {one.name: one.id for one in pieces}
    read = read_since_kiln(shop.book, ids.values())
    needed = {name for lot in lots for name in _needing(lot, {name: read.get(ids[name], ReadOf()) for name in _names(lot)}, on)}
    found: dict[str, Expected] = {}
    job = None
    for story in drying_stacks(shop.book) if needed else ():
        if needed & {one.piece.name for one in story.lying}:
            ready = ready_of(shop, story)
            if ready.answer is not None:
                found |= _expected(ready.answer, on)
            elif ready.job is not None and ready.job.goes_on:
                job = ready.job
    given = {name: one for name, one in found.items() if name in needed}
    return OnTheDay(tuple(_told(lot, given) for lot in lots), job)


def _names(lot: LotAsked) -> Iterable[str]:
    return (one.name for one in lot.pieces)


def _needing(lot: LotAsked, read: Mapping[str, ReadOf], on: date) -> list[str]:
    """Pieces of a lot whose forecast is asked: those read before that day; where none was read, all."""
    if lot.moisture:
        return []
    known = {name: one for name, one in read.items() if one.weights_now or one.moistures or one.sample}
    return [name for name, one in known.items() if not _fresh(one, on)] if known else list(read)


def _fresh(read: ReadOf, on: date) -> bool:
    return any(day_here(one.told.happened_at) >= on for one in read.moistures)


def _expected(answer: StackAnswer, on: date) -> dict[str, Expected]:
    return {name: _of_line(line, answer, on) for line in answer.lines for name in line.pieces}


def _of_line(line: LineAnswer, answer: StackAnswer, on: date) -> Expected:
    low, likely, high = line.band.on((on - date.fromisoformat(line.since)).days)
    there = answer.target if likely <= answer.target + AT_TARGET else None
    return Expected(low, likely, high, line.read > 0, there)


def _told(lot: LotAsked, expected: Mapping[str, Expected]) -> LotAsked:
    return replace(lot, pieces=tuple(replace(one, expected=expected.get(one.name)) for one in lot.pieces))
