"""Sides: what was told of bark and ends of a piece, each with its day."""

from __future__ import annotations

from dataclasses import dataclass

from waney.drying.known_sides import KnownSides
from waney.yard.acts.drying import Bark, Ends


@dataclass(frozen=True)
class SidesStand:
    """Empty: not known."""

    bark: str = ""
    bark_since: str = ""
    ends: str = ""
    ends_since: str = ""

    def known(self, *, live_edge: bool) -> KnownSides:
        """As the physics takes them. live_edge: its edges are not sawn."""
        return KnownSides(live_edge, _yes(self.bark, Bark.ON), _yes(self.ends, Ends.BARE))

    @property
    def said(self) -> str:
        """ "bark off, ends coated"; empty where nothing is known."""
        told = (("bark", self.bark), ("ends", self.ends))
        return ", ".join(f"{what} {word}" for what, word in told if word)


NOT_TOLD = SidesStand()


def _yes(told: str, word: str) -> bool | None:
    return told == word if told else None
