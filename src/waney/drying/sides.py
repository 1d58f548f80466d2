"""Sides: what the edges and the ends of a piece do for its drying, as the thinner wide board that dries in the same days.

Drying from the edges shortens days by shares that hang on weather and season; the thickness of the board that does the same
hardly does. So one thickness is counted, and every run stays one through the thickness. Fitted to runs of sections in two
dimensions by `tools/fit_sides.py` (docs/methods/drying.md has the errors). t: thickness, w: width, l: length [m].
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import exp, sqrt

from waney.drying.kernel.records import AirSteps
from waney.figures.problem import Problem
from waney.figures.tables import table
from waney.wood.diffusion import ease_along

ORDINARY = 5.0
"""Width over thickness from which a board is an ordinary one: printed times, to which the pace is fitted, are of such boards (4/4
by six inches and more), edges included, so that only what a piece has of edges beyond that counts. Ours, a choice."""
SHORTEST = 4.0
"""Length over thickness below which bare ends are counted as if it were this: shorter pieces were not fitted."""


class BadSides(Problem):
    """Sides that no piece has."""


@dataclass(frozen=True)
class Sides:
    """width, length [m]: None is not known, held to be wide and long; edges_open: sawn, or the bark is off, and air comes to
    them; ends_open: bare, neither coated nor closed otherwise."""

    width_m: float | None = None
    length_m: float | None = None
    edges_open: bool = True
    ends_open: bool = False

    def __post_init__(self) -> None:
        if any(size is not None and size <= 0.0 for size in (self.width_m, self.length_m)):
            raise BadSides("A piece has a width and a length above zero: measure it again.")

    @property
    def dry_from_edges(self) -> bool:
        """Whether its width is known and water leaves by its edges."""
        return self.edges_open and self.width_m is not None

    @property
    def dry_from_ends(self) -> bool:
        """Whether its length is known and water leaves by its ends."""
        return self.ends_open and self.length_m is not None


WIDE_AND_LONG = Sides()
"""Nothing is known of its edges and ends: the board that the model was fitted to."""


@cache
def fitted() -> dict[str, float]:
    """edge: what open edges take of the thickness [-] for t/w of 1; film: how thick the wood is that hinders water as much as a
    film of 1 m2 s Pa/kg does [m]; deeper, reach: see `middle_over`."""
    return {row["name"]: float(row["value"]) for row in table("drying_sides")}


def of_width(thickness_m: float, width_m: float) -> float:
    """Share of the smaller side that a wide board has which dries alike [-]: 1 - edge · t/w."""
    small, large = sorted((thickness_m, width_m))
    return 1.0 - fitted()["edge"] * small / large


def by_edges(thickness_m: float, sides: Sides) -> float:
    """Share of the smaller side that counts for what open edges do beyond those of an ordinary board [-], 1 at most."""
    if not sides.dry_from_edges or sides.width_m is None:
        return 1.0
    return min(of_width(thickness_m, sides.width_m) / (1.0 - fitted()["edge"] / ORDINARY), 1.0)


def of_length(thickness_m: float, length_m: float, along: float, film_m: float) -> float:
    """The same for bare ends [-]; along: how much easier water moves along the grain; film_m: the film as a thickness of wood.

    An end a length l off is an edge at l/sqrt(along), behind a film sqrt(along) times as thick.
    """
    root, film = sqrt(along), film_m / thickness_m
    hindered = (1.0 + film) / (1.0 + root * film)
    return 1.0 - fitted()["edge"] * hindered * root * thickness_m / max(length_m, SHORTEST * thickness_m)


def by_ends(thickness_m: float, sides: Sides, along: float, film_m: float) -> float:
    """Share of the thickness that counts for what bare ends do [-]; 1 where they are coated, or the length is not known."""
    if not sides.dry_from_ends or sides.length_m is None:
        return 1.0
    return of_length(thickness_m, sides.length_m, along, film_m)


def counted_m(thickness_m: float, sides: Sides, sg_green: float, air: AirSteps) -> float:
    """Thickness of the wide board that dries in the same days [m], in air with its film factor; the piece's own where it is an
    ordinary board with coated ends, or its sizes are not known."""
    small = min(thickness_m, sides.width_m or thickness_m) if sides.dry_from_edges else thickness_m
    found = by_edges(thickness_m, sides) * small
    if not sides.dry_from_ends:
        return found
    along = ease_along(sg_green, float(air.source.mean()))
    return found * by_ends(found, sides, along, fitted()["film"] * float(air.resistance.mean()))


def middle_over(thickness_m: float, sides: Sides) -> float:
    """How many times as far above the face the middle of the piece is as that of the wide board with the same mean [-]."""
    if not sides.dry_from_edges or sides.width_m is None:
        return 1.0
    small, large = sorted((thickness_m, sides.width_m))
    return 1.0 + fitted()["deeper"] * exp(-large / small / fitted()["reach"])
