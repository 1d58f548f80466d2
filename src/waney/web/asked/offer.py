"""Is a tree worth fetching: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from waney.web.asked.figure import Figure


@dataclass(frozen=True)
class OfferAsked:
    """A tree as it was offered, and the sheets that the shop has settled; empty, None: not known. metric: how it is written.

    losses, prices: the shop's own record: shares of logs lost in drying, cents that board feet of this wood got, 1 for each
    log from where this one grew in which metal was found, 0 for each other. _off: half of a size's range over the size, where it
    was told; girth_at_m: from the butt, None: breast height.
    """

    tree: str
    where: str
    species: str
    girth_m: float | None
    small_end_m: float | None
    length_m: float | None
    how: str
    yard_tree: bool | None
    way_m: float | None
    hours: float | None
    asked_cents: int | None
    costs: str
    mill: str
    wants: str
    metric: bool
    losses: tuple[float, ...] = ()
    prices: tuple[float, ...] = ()
    metal: tuple[float, ...] = ()
    girth_off: float | None = None
    small_end_off: float | None = None
    length_off: float | None = None
    girth_at_m: float | None = None


@dataclass(frozen=True)
class OfferAnswer:
    """reply: empty where there is no answer in money; sentence: why there is no answer at all.

    money, weight: the two figures that a list has room for; money_cents: bad, likely and good; missing: what nobody typed.
    """

    tree: str
    reply: str = ""
    reason: str = ""
    weight: str = ""
    money: str = ""
    money_cents: tuple[int, ...] = ()
    figures: tuple[Figure, ...] = ()
    would_change: str = ""
    missing: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    sentence: str = ""
