"""How stiff a wood is across the grain, beside how stiff it is along it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from statistics import quantiles

from waney.figures.estimate import Basis
from waney.figures.sources import cited
from waney.figures.tables import table


@dataclass(frozen=True)
class Stiffness:
    """Elasticity along the rings over that along the grain [-], likely, least and most; of_this_wood: it stands for itself."""

    likely: float
    least: float
    most: float
    of_this_wood: bool
    basis: Basis


@cache
def across_over_along(species_id: str) -> Stiffness:
    """Of a wood at 12 % (table elastic_across); of one that the table lacks the middle of all that it has, and from the lowest
    to the highest sixth of them, because woods differ threefold.

    >>> across_over_along("oak_white").likely
    0.072
    """
    rows = table("elastic_across")
    own = next((row for row in rows if species_id in row["species_ids"].split()), None)
    if own is not None:
        share = float(own["tangential"])
        return Stiffness(share, share, share, True, cited(own["source"]))
    sixths = quantiles([float(row["tangential"]) for row in rows], n=6)
    return Stiffness(sixths[2], sixths[0], sixths[4], False, cited(rows[0]["source"], f"by {len(rows)} other woods"))
