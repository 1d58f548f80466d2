"""The bill for sawing somebody's logs, by what was agreed: lines, taxes, sum."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.prices.measure import whole_cents
from waney.trade.counted import By, Counted, price_of
from waney.trade.custom import Job
from waney.trade.log_tally import TENTHS
from waney.trade.tax import TaxLine, tax_lines
from waney.trade.terms import Terms
from waney.trade.way_paid import How
from waney.units.share import print_share

HALF_A_TENTH = 0.5 / TENTHS
"""board feet: a tally counts in tenths"""


class BadBill(Problem):
    """A job that cannot be billed so."""


@dataclass(frozen=True)
class LogSawn:
    """One log as it was sawn: what was tallied off it; scale: what it was counted by the agreed rule before it was sawn.

    keeps: board feet of the whole pieces that stay with the sawyer; None: nobody said which.
    """

    name: str
    tally: Counted
    scale: Counted | None = None
    hours: float = 0.0
    blades_on_metal: int = 0
    keeps: float | None = None


@dataclass(frozen=True)
class Line:
    """One line of a bill. cents 0: told for the record, the customer's wood or the sawyer's."""

    what: str
    cents: int


@dataclass(frozen=True)
class Bill:
    """What the customer pays. keeps: board feet of tally that stay with the sawyer; said: what both agreed anew."""

    how: How
    lines: tuple[Line, ...]
    taxes: tuple[TaxLine, ...]
    keeps: float
    said: tuple[str, ...]

    @property
    def net_cents(self) -> int:
        """Before tax."""
        return sum(line.cents for line in self.lines)

    @property
    def total_cents(self) -> int:
        """With tax."""
        return self.net_cents + sum(tax.cents for tax in self.taxes)


def billed(how: How, terms: Terms, job: Job, sawn: Sequence[LogSawn]) -> Bill:
    """Bill a job. Raises BadBill for a price nobody typed, OtherRule for a log counted by another rule than was agreed."""
    sawing, keeps = {How.HOUR: _by_hour, How.BOARD_FOOT: _by_board_foot, How.SHARES: _on_shares}[how](terms, sawn)
    lines = (*_up_to_least(how, terms, sawing), *_extras(terms, job, sawn))
    taxes = tax_lines([line.cents for line in lines], terms.taxes)
    said = terms.board_foot.changed if how is How.BOARD_FOOT and terms.board_foot else ()
    return Bill(how, lines, taxes, keeps, said)


def _by_hour(terms: Terms, sawn: Sequence[LogSawn]) -> tuple[list[Line], float]:
    if terms.hour_cents is None:
        raise BadBill("What an hour of sawing costs is not in the terms; write it there first.")
    hours = sum(round(log.hours, 2) for log in sawn)  # as they are printed
    return [Line(f"{hours:.2f} hours of sawing", whole_cents(terms.hour_cents * hours))], 0.0


def _by_board_foot(terms: Terms, sawn: Sequence[LogSawn]) -> tuple[list[Line], float]:
    agreed = terms.board_foot
    if agreed is None:
        raise BadBill("What a board foot costs is not in the terms, or not by which rule; write both there first.")
    lines = []
    for log in sawn:
        counted = log.tally if agreed.by is By.TALLY else log.scale
        if counted is None:
            raise BadBill(
                f"{log.name} was not counted by {agreed.by} before it was sawn; count it, or agree anew with the customer."
            )
        read = f" ({counted.read})" if counted.read else ""
        lines.append(Line(f"{log.name}: {counted.board_feet:g} board feet by {counted.by}{read}", price_of(agreed, counted)))
    return lines, 0.0


def _on_shares(terms: Terms, sawn: Sequence[LogSawn]) -> tuple[list[Line], float]:
    if terms.share is None:
        raise BadBill("The sawyer's share is not in the terms; write it there first.")
    parts = [log.keeps for log in sawn]
    if any(part is None for part in parts):
        raise BadBill("Nobody said yet which pieces stay with the sawyer; part them first.")
    tally = sum(log.tally.board_feet for log in sawn)
    keeps = sum(part or 0.0 for part in parts)
    if keeps > terms.share * tally + HALF_A_TENTH:
        raise BadBill(
            f"{keeps:.1f} of {tally:.1f} board feet are more than the {print_share(terms.share)} that were agreed; "
            "leave a piece to the customer."
        )
    yours = Line(f"{tally - keeps:.1f} of {tally:.1f} board feet tallied are yours", 0)
    ours = Line(f"{keeps:.1f} board feet in whole pieces stay with the sawyer ({print_share(terms.share)} agreed)", 0)
    return [yours, ours], keeps


def _up_to_least(how: How, terms: Terms, sawing: list[Line]) -> list[Line]:
    short = terms.minimum_cents - sum(line.cents for line in sawing)
    return sawing if how is How.SHARES or short <= 0 else [*sawing, Line("up to the least bill", short)]


def _extras(terms: Terms, job: Job, sawn: Sequence[LogSawn]) -> list[Line]:
    blades = sum(log.blades_on_metal for log in sawn)
    if blades and terms.metal_cents is None:
        raise BadBill(
            "Blades were lost to metal, and the terms do not say who pays for them; write `metal`, 0 where the sawyer does."
        )
    lines = [
        Line("setting up", terms.set_up_cents),
        Line("the way there and back", whole_cents(terms.way_cents * job.way_km)),
        Line(f"{blades} blade{'' if blades == 1 else 's'} lost to metal", blades * (terms.metal_cents or 0)),
    ]
    return [line for line in lines if line.cents]
