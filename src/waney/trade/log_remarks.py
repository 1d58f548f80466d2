"""Log remarks: what whoever brought a log is told of it as it was measured, beside what the rules count."""

from __future__ import annotations

from collections.abc import Iterator

from waney.logs.measured import Inside, MeasuredLog
from waney.logs.sheet import LogSheet

NO_TOP = "the small end was not measured: what the rules read there follows from the usual taper"
OVER_BARK = "measured over the bark: how thick that is was not read, and follows from the wood"


def log_remarks(read: LogSheet) -> tuple[str, ...]:
    """What is odd, how bark and a small end that nobody measured were come by, and what is known to be in it."""
    return (*read.remarks, *(line for line in read.assumed if "bark" in line), *_not_read(read.log), *_inside(read.log))


def _not_read(log: MeasuredLog) -> Iterator[str]:
    if log.bark is None and any(one.over is Inside.BARK for one in log.rounds):
        yield OVER_BARK
    if log.rounds and log.rounds[-1].at_m < log.length_m:
        yield NO_TOP


def _inside(log: MeasuredLog) -> Iterator[str]:
    """Log rules of `logs.rules` read a size and a length: nothing is taken off for what is in a log."""
    known = dict.fromkeys(str(one.kind) if one.chance == 1.0 else f"{one.kind} (suspected)" for one in log.hidden)
    if known:
        yield f"known in it: {', '.join(known)}; the rules count it as if it were sound"
