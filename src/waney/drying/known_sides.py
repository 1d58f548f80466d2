"""Known sides: what is known of bark and ends of a piece, and what counts where nobody told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the yard book knows sides long before anybody asks for days: loaded where it is used
    from waney.drying.sides import Sides


@dataclass(frozen=True)
class KnownSides:
    """live_edge: its edges are not sawn; bark_on, ends_bare: None is not known."""

    live_edge: bool = False
    bark_on: bool | None = None
    ends_bare: bool | None = None

    @property
    def edges_open(self) -> bool:
        """Whether air comes to its edges: where nobody told, bark counts as on a live edge."""
        return not (self.live_edge if self.bark_on is None else self.bark_on)

    @property
    def ends_open(self) -> bool:
        """Whether its ends are bare: where nobody told, they count as coated."""
        return self.ends_bare is True

    def sized(self, width_m: float | None, length_m: float | None) -> Sides:
        """With its width and length [m], as far as they are known."""
        from waney.drying.sides import Sides

        return Sides(width_m, length_m, self.edges_open, self.ends_open)


NOT_TOLD = KnownSides()
"""Nobody told, and its edges are sawn."""


def said_of_told(pieces: Sequence[KnownSides]) -> str:
    """What was told of pieces that are reckoned as one, and what counts where it was not told of all; empty for nothing."""
    shut = "" if all(one.edges_open for one in pieces) else ", so all count as under bark"
    bark = _told([one.bark_on for one in pieces], "bark is on", "bark is off", ("", shut))
    ends = _told([one.ends_bare for one in pieces], "ends are bare", "ends are coated", (", so all count as coated", ""))
    told = "; ".join(filter(None, (bark, ends)))
    return f"As told, {told}." if told else ""


def _told(each: Sequence[bool | None], yes: str, no: str, so: tuple[str, str]) -> str:
    """In words; so: what follows where it is so of some of them only."""
    said = []
    for value, words, follows in ((True, yes, so[0]), (False, no, so[1])):
        some = sum(one is value for one in each)
        if some == len(each):
            return words
        if some:
            said.append(f"{words} on {some} of {len(each)} pieces{follows}")
    return ", ".join(said)
