"""Too fast: pieces that lost more a day than they may, by weights of this week, as the forecasts of their stacks tell it.

A forecast is asked for when a weight has come in, and read once: a look at the week computes nothing anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from waney.drying.spring import spring_after
from waney.web.asked.packing import read_back
from waney.web.asked.stack import StackAnswer
from waney.web.asking import Job, answer_of
from waney.web.ready import ready_of
from waney.web.shop import Shop
from waney.web.watching import Fast, Known
from waney.yard.acts.settings import Setting
from waney.yard.book.stack_seen import WeighedStack, stack_story, stacks_weighed

THIS_WEEK = timedelta(days=10)
"""a weight is of this week for so long: one is weighed once a week, with some give. Common practice, no source."""
NEW_AT_A_LOOK = 3
"""stacks of which one look at the week asks or reads the answer (a fortieth of a second each); of the others the next one does"""
SETTLED = (Setting.PLACE, Setting.WEATHER, Setting.UNITS, Setting.METER)
"""settings that a forecast stands on"""


@dataclass(frozen=True)
class Watched:
    """fast: stacks on which something dries too fast, and what; waits: those whose answer is not there yet."""

    fast: tuple[tuple[WeighedStack, tuple[Fast, ...]], ...]
    waits: tuple[WeighedStack, ...]


def watched(shop: Shop) -> Watched:
    """Of the stacks that were weighed this week."""
    today, settled = shop.today(), shop.settled()
    told = (*(settled.get(one, "") for one in SETTLED), spring_after(today).isoformat())
    stacks = stacks_weighed(shop.book, (today - THIS_WEEK).isoformat())
    known, left = {}, NEW_AT_A_LOOK
    for stack in stacks:
        key = (*told, str(stack.seq))
        found = shop.watching.known(stack.id, key)
        if left > 0 and (found is None or found.fast is None):
            found, left = _answered(shop, found or _asked(shop, stack, key)), left - 1
        if found is not None:
            known[stack.id] = found
    shop.watching.keep(known)
    each = [(stack, known[stack.id].fast if stack.id in known else None) for stack in stacks]
    fast = ((stack, tuple(_of_this_week(found or (), today))) for stack, found in each)
    return Watched(tuple(one for one in fast if one[1]), tuple(stack for stack, found in each if found is None))


def _asked(shop: Shop, stack: WeighedStack, key: tuple[str, ...]) -> Known:
    job = ready_of(shop, stack_story(shop.book, stack.id)).job
    return Known(key, "", ()) if job is None else Known(key, job.id, None)


def _answered(shop: Shop, known: Known) -> Known:
    """With what its job found; a job that failed finds nothing: the page of the stack says why."""
    if known.fast is not None:
        return known
    job = Job.at(shop, known.job)
    if job.goes_on:
        return known
    content = answer_of(shop, job)
    return replace(known, fast=() if content is None else too_fast(read_back(content, StackAnswer)))


def too_fast(answer: StackAnswer) -> tuple[Fast, ...]:
    """What dries too fast on a stack by its last two weights, whenever they were read."""
    return tuple(Fast(one.name, one.weighed, one.losing) for one in answer.lines if one.too_fast)


def fast_now(answer: StackAnswer, today: date) -> tuple[Fast, ...]:
    """The same by weights of this week."""
    return tuple(_of_this_week(too_fast(answer), today))


def _of_this_week(found: tuple[Fast, ...], today: date) -> Iterator[Fast]:
    return (one for one in found if today - date.fromisoformat(one.weighed) <= THIS_WEEK)
