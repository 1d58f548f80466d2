"""Ready: what shell and core of a piece were read at, against what was wanted of them.

The wet end of a range counts too: a likely figure at what was wanted is no more than perhaps ready while it lies well above.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from waney.drying.moisture_told import OfDay
from waney.figures.estimate import Estimate
from waney.units.moisture import print_mc

GRAIN = 0.005
"""Wanted figures are whole per cent: a reading so little above one is at it [-]."""
WELL_ABOVE = 0.025
"""Wet end of a range so far above what was wanted leaves it open [-]: a meter with its species table is at what was wanted as it
reads that (1.6 % either way), one without (2.6 %) half a per cent below. Ours, a choice."""
OVERDRY = 0.02
"""A shell so far below what was wanted is said to be [-]: ours, a choice."""

NARROWER = "To be sure, read it with the meter's species table and the wood's temperature, or dry a section of it."


class Word(StrEnum):
    """Whether it is ready; the text is how a page says it."""

    READY = "ready"
    PERHAPS = "perhaps ready"
    NOT = "not ready"
    NOT_KNOWN = "not known whether it is ready"


@dataclass(frozen=True)
class Part:
    """Shell or core: what it was read at, None: not told; what was wanted [-], None: nothing was said."""

    name: str
    read: Estimate | None
    wanted: float | None

    @property
    def word(self) -> Word:
        """By this part alone."""
        if self.read is None or self.wanted is None:
            return Word.NOT_KNOWN
        if self.read.likely > self.wanted + GRAIN:
            return Word.NOT if self.read.low > self.wanted else Word.PERHAPS
        return Word.PERHAPS if self.wide else Word.READY

    @property
    def wide(self) -> bool:
        """Whether its range reaches so far above what was wanted that its likely figure does not decide."""
        return self.read is not None and self.wanted is not None and self.read.high > self.wanted + WELL_ABOVE

    @property
    def said(self) -> str:
        """Both figures in part of a sentence: "core 8 % (5 to 11 %) against 8 % wanted"."""
        found = "not told" if self.read is None else _range(self.read)
        if self.wanted is None:
            return f"{self.name} {found}"
        below = self.read is not None and self.read.likely < self.wanted - OVERDRY
        return f"{self.name} {found} against {print_mc(self.wanted)} wanted{', drier than it was to be' if below else ''}"


@dataclass(frozen=True)
class Readiness:
    """Whether a piece is ready, and by which figures."""

    word: Word
    parts: tuple[Part, ...]

    @property
    def figures(self) -> str:
        """Both parts: "shell ... against ... wanted; core ..."."""
        asked = [part for part in self.parts if part.read is not None or part.wanted is not None]
        return "; ".join(part.said for part in asked or self.parts)

    @property
    def to_be_sure(self) -> str:
        """What settles a perhaps of which a wide range is the reason; empty elsewhere."""
        return NARROWER if self.word is Word.PERHAPS and any(part.wide for part in self.parts) else ""

    @property
    def sentence(self) -> str:
        """As a paper says it: "ready: shell ...; core ..."."""
        return f"{self.word}: {self.figures}"


def readiness(
    shell: Estimate | None, core: Estimate | None, wanted_shell: float | None, wanted_core: float | None
) -> Readiness:  # fmt: skip
    """Whether both parts are where they were wanted [-]. Nothing wanted of one: the other decides; nothing of both: not known.

    Too wet for certain in one part: not ready. Else not known as long as a part of which something was wanted is not read.
    """
    return by_parts(Part("shell", shell, wanted_shell), Part("core", core, wanted_core))


def by_parts(*parts: Part) -> Readiness:
    """The same for any parts of a piece."""
    asked = [part.word for part in parts if part.wanted is not None] or [Word.NOT_KNOWN]
    order = (Word.NOT, Word.NOT_KNOWN, Word.PERHAPS, Word.READY)
    return Readiness(next(word for word in order if word in asked), parts)


def dry_since(days: Iterable[OfDay], wanted: float) -> date | None:
    """The day from which on a whole piece was read at what is wanted [-] or under it each time; None where it was read above it
    last, or never. By the likely figures: it tells what was read, not that it is ready. days: oldest first."""
    since = None
    for one in days:
        dry = not one.wetter and one.mc.likely <= wanted + GRAIN
        since = (since or one.day) if dry else None
    return since


def _range(read: Estimate) -> str:
    low, high = print_mc(read.low).removesuffix(" %"), print_mc(read.high)
    return f"{print_mc(read.likely)} ({low} to {high})"
