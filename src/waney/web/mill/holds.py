"""Holds: everything that the page at the mill has with it, so that it needs nobody while there is no signal."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import floor

from waney.papers.mill_steps import AtMill
from waney.yard.known_tags import KnownTags

FORMAT = "waney-mill-page/1"
HALF = 0.5 + 1e-6
"""what lies half way between two sizes is written as the larger, whatever the last digits are"""


@dataclass(frozen=True)
class Done:
    """Something that was done, as far as the page needs it. command: its id; steps are marks of the bed scale.

    kind: "came-off", "at-the-mill" or "tagged"; what: how it came off, or what happened; name: what stood on the piece as it came
    off, or stands on the tag that it got.
    """

    command: str
    kind: str
    what: str
    about: str
    """the stream that it is taken back in"""
    cut: int | None = None
    step: int | None = None
    thick_steps: int = 0
    pith_steps: tuple[int, int] | None = None
    name: str = ""
    thickness_m: float | None = None
    height_steps: int | None = None


@dataclass(frozen=True)
class Holds:
    """What the page holds. names: free ones, in order; done: of this log on this day, in order; thicknesses: sawn lately [m]."""

    format: str
    day: str
    on: str
    log: str
    log_name: str
    wood: str
    device: str
    person: str
    plan: str
    at_mill: AtMill | None
    step_m: float
    kerf_m: float
    names: tuple[str, ...]
    done: tuple[Done, ...]
    thicknesses: tuple[float, ...]
    thickness_words: tuple[str, ...]
    first_order: int
    """how many pieces of this log came off on other days"""
    printed: tuple[tuple[str, str, str, str], ...] = ()
    """heights of the bed scale where there is no plan that has them"""
    spot: str = ""
    spot_called: str = ""
    """where what comes off is carried; empty where nobody said"""
    eighths: tuple[str, ...] = ()
    """one to four eighths of an inch and eight of them, to the nearest mark of the scale, as this shop writes them"""
    along: tuple[tuple[float, str], ...] = ()
    """places along the log that a hand can point at: distance from the butt [m], in words"""
    size_m: float = 0.0
    sizes: tuple[tuple[str, str, str, str], ...] = ()
    """thicknesses as this shop writes them, size_m apart, from 0 to what may come off by the plan"""
    tags: KnownTags = field(default_factory=KnownTags)
    """names that can be stapled on, and names that cannot; for whoever may write"""

    def thickness(self, metres: float) -> tuple[str, str, str, str]:
        """A thickness to the nearest that this shop writes: whole, numerator, denominator, unit."""
        return self.sizes[min(floor(metres / self.size_m + HALF), len(self.sizes) - 1)]
