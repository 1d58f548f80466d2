"""Board feet that carry the rule they were counted by. A price agreed on one rule is never multiplied with a count by another."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from waney.figures.problem import Problem
from waney.logs.log_rule import Rule
from waney.prices.measure import whole_cents


class OtherRule(Problem):
    """A price and a count that do not go by the same rule."""


class By(StrEnum):
    """What board feet were counted by."""

    TALLY = "tally of what was sawn"
    DOYLE = Rule.DOYLE.value
    SCRIBNER = Rule.SCRIBNER.value
    SCRIBNER_C = Rule.SCRIBNER_C.value
    INTERNATIONAL = Rule.INTERNATIONAL.value

    @property
    def rule(self) -> Rule | None:
        """The log rule; None for a tally."""
        return None if self is By.TALLY else Rule(self.value)


@dataclass(frozen=True)
class Counted:
    """So many board feet, by this rule; read: what it was read off ("small end 14 in, 10 ft")."""

    board_feet: float
    by: By
    read: str = ""


@dataclass(frozen=True)
class Agreed:
    """A price for a board foot by one rule. changed: what both said when they went over to another, for every paper to print."""

    cents: float
    by: By
    changed: tuple[str, ...] = ()


def price_of(agreed: Agreed, counted: Counted) -> int:
    """What so many board feet come to, in whole cents. Raises OtherRule."""
    if counted.by is not agreed.by:
        raise OtherRule(
            f"Agreed is a price for a board foot by {agreed.by}; this was counted by {counted.by}. "
            "Count it by the rule that was agreed on, or agree anew and let the paper say so."
        )
    return whole_cents(agreed.cents * counted.board_feet)


def agreed_anew(agreed: Agreed, cents: float, by: By, before: Counted, after: Counted) -> Agreed:
    """Both go over to another rule. before, after: the same wood by the old and the new rule. Raises OtherRule."""
    if before.by is not agreed.by or after.by is not by:
        raise OtherRule(f"To change from {agreed.by} to {by}, show the same wood by both: {agreed.by} first, then {by}.")
    said = (
        f"Agreed anew: {cents / 100:.4g} a board foot by {by} in place of {agreed.cents / 100:.4g} by {agreed.by}. "
        f"The same wood counts {before.board_feet:g} by {agreed.by} and {after.board_feet:g} by {by}."
    )
    return replace(agreed, cents=cents, by=by, changed=(*agreed.changed, said))
