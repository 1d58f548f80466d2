"""Waited: what stain took of the shop's own logs that lay long before they were sawn. It narrows what another week costs.

Nobody tells why a board was sold cheap or came to nothing. So what logs that were sawn soon did not bring is what happens anyway;
what logs that lay long did not bring beyond that, less the end checks by the model, is laid to stain, over how far stain had
come by then.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import fmean

from waney.trade.learned import ALONE_FROM
from waney.trade.storage import keeping_of
from waney.trade.waiting import Own, Waiting, gone_by

LATE_FROM = 0.25
"""how far stain must have come, of all it does, for a log to say something of it. Ours, no source."""


@dataclass(frozen=True)
class Waited:
    """A log as it was on the day it was sawn. lost: the share of what its boards might have brought that they did not; below 0
    where they brought more."""

    log: Waiting
    lost: float


def stain_took(logs: Iterable[Waited]) -> Own:
    """One case a log that lay long; none while fewer than three logs were sawn soon, because nothing stands to compare with.

    The order of logs does not matter.
    """
    soon: list[float] = []
    late: list[tuple[str, float, float, float]] = []
    for one in logs:
        keeping, (stained, checked) = keeping_of(one.log.species), gone_by(one.log)
        if keeping is not None and one.log.days is not None and stained >= LATE_FROM:
            late.append((keeping.begins, one.lost, stained, checked))
        elif one.log.days is not None:
            soon.append(one.lost)
    if len(soon) < ALONE_FROM:
        return {}
    anyway, found = fmean(sorted(soon)), dict[str, list[float]]()
    for begins, lost, stained, checked in sorted(late):
        found.setdefault(begins, []).append(min(_beyond(_beyond(lost, anyway), checked) / stained, 1.0))
    return {begins: tuple(cases) for begins, cases in found.items()}


def _beyond(lost: float, anyway: float) -> float:
    """What is lost of that which another loss leaves, 0 to 1. lost, other: up to 1, below 0 for a gain.

    >>> _beyond(0.5, 0.2), _beyond(0.1, 0.2)
    (0.375, 0.0)
    """
    return 0.0 if anyway >= 1.0 else max(1.0 - (1.0 - lost) / (1.0 - anyway), 0.0)
