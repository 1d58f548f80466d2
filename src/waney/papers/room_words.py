"""Room words: whether a piece is ready for its room, in a sentence; how long it would lie there; what to do."""

from __future__ import annotations

from collections.abc import Iterator

from waney.drying.room_wait import LONGEST_WEEKS, RoomReady, Verdict
from waney.figures.estimate import Estimate
from waney.units.moisture import print_mc

READ_IT = "read its core"
STALE_DAYS = 42
"""Older readings are asked for anew (six weeks: ours, no source)."""


def verdict_words(found: RoomReady, place: str) -> str:
    """The verdict, with the weeks it would lie there."""
    room = f"a room at {place}"
    if found.verdict is Verdict.READY:
        return f"Ready for {room}."
    if found.verdict is Verdict.NOT_KNOWN:
        return f"Not known whether it is ready for {room}."
    if found.verdict is Verdict.STACK:
        return f"Not ready for {room}: dry it on a stack or in a kiln first. Wood this wet checks in a heated room."
    waits = "" if found.weeks is None else _waits(found.weeks)
    if found.verdict is Verdict.PERHAPS:
        return f"Perhaps ready for {room}.{f' To be sure, let it lie there {waits}.' if waits and found.weeks else ''}"
    if found.verdict is Verdict.KILN:
        never = found.weeks is None or found.weeks.likely >= LONGEST_WEEKS
        why = "this room does not bring it there in two years" if never else f"in this room it would take {waits}"
        return f"Not ready for {room}: back in the kiln, {why}."
    inside = any(part.read for part in found.figures.parts if part.name != "shell")
    lacks = "tell its wood and its thickness" if inside else READ_IT
    how_long = waits or f"how long is not known: {lacks}"
    return f"Not ready for {room}: let it lie there on stickers, {how_long}."


def _waits(weeks: Estimate) -> str:
    low, likely, high = (round(value) for value in (weeks.low, weeks.likely, weeks.high))
    last = "over two years" if high >= LONGEST_WEEKS else f"{high} weeks"
    return f"about {likely} {'week' if likely == 1 else 'weeks'} ({low} to {last})"


def advice(found: RoomReady, days_old: int | None) -> Iterator[str]:
    """What to do besides. days_old: since the oldest reading that counts; None: nothing was read."""
    core = next((part for part in found.figures.parts if part.name == "core"), None)
    if found.verdict is Verdict.NOT_KNOWN or core is None or core.read is None:
        yield "Read the core: pins driven to the middle, or a section dried in the oven. The face says little of it."
    if days_old is not None and days_old > STALE_DAYS:
        yield f"It was read {days_old // 7} weeks ago: read it again before you build with it or sell it as dry."
    if found.drier:
        yield "It is drier than that room and will swell there: let it lie there before anything is fitted to it."


def room_figures(found: RoomReady) -> tuple[tuple[str, str], ...]:
    """What was read against what is wanted, and what the room does through a year."""
    ends = f"{print_mc(found.driest)} in its driest month, {print_mc(found.dampest)} in its dampest"
    mean = f"{print_mc(found.mean.likely)} ({print_mc(found.mean.low)} to {print_mc(found.mean.high)}) over the year"
    return (("Read, and wanted", found.figures.figures), ("The room brings wood to", f"{mean}; {ends}"))
