"""What a log really earned, beside what its plan promised; a year of logs by species, hour and shed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from waney.units.duration import YEAR_DAYS


class Beside(StrEnum):
    """How what was earned stands beside the plan."""

    NO_PLAN = "no plan with prices"
    OPEN = "not to be told yet: what is left has no price"
    BELOW = "below the plan's bad case"
    WITHIN = "within the plan's range"
    ABOVE = "above the plan's good case"


@dataclass(frozen=True)
class Earned:
    """One log. Whole cents. sold: of what did not come back; standing: asked prices of what is left; planned: bad, likely, good.

    hours: of work told; shed_m2_years: area of shed times years. kept: stayed of what was given back in part, and of deposits.
    shared: by what its pieces share its costs, empty where nothing was spent; why_shared: why not as the shop settled it.
    """

    name: str
    species: str
    spent_cents: int
    sold_cents: int
    standing_cents: int = 0
    planned_cents: tuple[int, ...] = ()
    hours: float = 0.0
    shed_m2_years: float = 0.0
    pieces_sold: int = 0
    pieces_left: int = 0
    without_price: int = 0
    """pieces left for which nothing is asked yet"""
    kept_cents: int = 0
    shared: str = ""
    why_shared: str = ""

    @property
    def net_cents(self) -> int:
        """Earned so far."""
        return self.sold_cents + self.kept_cents - self.spent_cents

    @property
    def with_standing_cents(self) -> int:
        """Once all that is left is sold at what is asked."""
        return self.net_cents + self.standing_cents

    @property
    def beside(self) -> Beside:
        """Against the plan, which leaves out nothing that is left to sell."""
        if not self.planned_cents:
            return Beside.NO_PLAN
        if self.without_price or not self.pieces_sold + self.pieces_left:
            return Beside.OPEN
        bad, _, good = self.planned_cents
        if self.with_standing_cents < bad:
            return Beside.BELOW
        return Beside.ABOVE if self.with_standing_cents > good else Beside.WITHIN

    @property
    def hourly_cents(self) -> float | None:
        """Net for each hour of work; None without hours."""
        return self.net_cents / self.hours if self.hours else None

    @property
    def shed_cents(self) -> float | None:
        """Net for each m2 of shed and year; None where none was used."""
        return self.net_cents / self.shed_m2_years if self.shed_m2_years else None


SEVERAL_WAYS = "in several ways"


def summed(name: str, logs: Sequence[Earned]) -> Earned:
    """Several logs as one; the plan counts only where every log has one."""
    planned, ways = [log.planned_cents for log in logs], {log.shared for log in logs if log.shared}
    return Earned(
        name,
        logs[0].species if len({log.species for log in logs}) == 1 else "",
        sum(log.spent_cents for log in logs),
        sum(log.sold_cents for log in logs),
        sum(log.standing_cents for log in logs),
        tuple(map(sum, zip(*planned, strict=True))) if all(planned) else (),
        sum(log.hours for log in logs),
        sum(log.shed_m2_years for log in logs),
        sum(log.pieces_sold for log in logs),
        sum(log.pieces_left for log in logs),
        sum(log.without_price for log in logs),
        sum(log.kept_cents for log in logs),
        SEVERAL_WAYS if len(ways) > 1 else "".join(ways),
    )


def by_species(logs: Iterable[Earned]) -> tuple[Earned, ...]:
    """One row for each wood, the one that earned most first."""
    woods: dict[str, list[Earned]] = {}
    for log in logs:
        woods.setdefault(log.species, []).append(log)
    rows = [summed(species or "wood nobody named", some) for species, some in woods.items()]
    return tuple(sorted(rows, key=lambda row: (-row.net_cents, row.name)))


def shed_m2_years(floor_m2: float, layers: int, days: float) -> float:
    """Shed that one piece takes: its floor over the layers of its stack, times years [m2 a]."""
    return floor_m2 / max(layers, 1) * days / YEAR_DAYS
