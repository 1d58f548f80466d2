"""Ways to cut a stem or a log to length: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from waney.web.asked.figure import Figure


@dataclass(frozen=True)
class CutsAsked:
    """A log sheet, ways to cut it (each a list of lengths [m] from the butt), and the sheets that the shop has settled."""

    sheet: str
    ways: tuple[tuple[float, ...], ...]
    mill: str
    wants: str
    metric: bool


@dataclass(frozen=True)
class WayShown:
    """One way. ahead: in how many of the cases it is the best; logs: the figures of each log from the butt up."""

    lengths: str
    figures: tuple[Figure, ...]
    ahead: str
    logs: tuple[tuple[Figure, ...], ...]


@dataclass(frozen=True)
class CutsAnswer:
    """The best way first. bases: what the figures of the logs stand on; sentence: why there is no answer."""

    answer: str = ""
    ways: tuple[WayShown, ...] = ()
    bases: tuple[Figure, ...] = ()
    sentence: str = ""
