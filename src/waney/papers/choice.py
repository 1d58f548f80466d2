"""Choice: in words, what would make another of the plans that were compared the best."""

from __future__ import annotations

from collections.abc import Sequence

from waney.papers.facts import WouldChange
from waney.prices.rules import PriceRules
from waney.sawing.facts.would_change import PriceChange


def would_change(changes: Sequence[PriceChange], names: Sequence[str], rules: PriceRules) -> tuple[WouldChange, ...]:
    """names: of the plans, the best first."""
    return tuple(WouldChange(_if_so(change, rules), f"plan {names[change.plan]} earns more") for change in changes)


def _if_so(change: PriceChange, rules: PriceRules) -> str:
    way = "above" if change.cents_then > change.cents_now else "below"
    then, now = rules.says(round(change.cents_then)), rules.says(round(change.cents_now))
    return f"{change.product} {way} about {then} a {change.per.value} (now {now})"
