"""A mill and wants from different sheets: do they speak of the same money, of money at all, and of the same work?"""

from __future__ import annotations

from dataclasses import replace

from waney.figures.problem import Problem
from waney.prices.product import Edges
from waney.prices.rules import Ranking
from waney.sawing.mill import Mill
from waney.sawing.sheets.mill_sheet import MillSheet
from waney.sawing.sheets.wants_sheet import WantsSheet
from waney.sawing.wants import Wants

FAR_BELOW = 0.5
"""Share of its own minutes' cost under which a typed cost of edging is asked about. Our choice, no source."""


class OtherMoney(Problem):
    """Costs in one currency cannot be taken from prices in another."""


def agreed_mill(mill: MillSheet, wants: WantsSheet) -> Mill:
    """The mill as plans for these wants may use it. Without prices its costs are left out: they cannot be taken from litres.

    Raises OtherMoney when both sheets name money and it is not the same.
    """
    rules = wants.wants.rules
    if rules.ranking is not Ranking.MONEY:
        return replace(mill.mill, hourly_cents=None, blade_cents=None, blade_life_m2=None)
    costs = (mill.mill.hourly_cents, mill.mill.blade_cents)
    if any(cost is not None for cost in costs) and mill.currency != rules.currency:
        raise OtherMoney(
            f"The mill's costs are in {mill.currency} and the prices in {rules.currency}; write both sheets in one currency."
        )
    return mill.mill


def agreement_remarks(mill: Mill, wants: Wants) -> tuple[str, ...]:
    """What looks odd only when both sheets are read: edging priced far below what the mill's own minutes make of it."""
    edged = any(product.edges is Edges.EDGED for product in wants.products)
    minutes = mill.minutes_per_edging + 2.0 * mill.minutes_per_pass
    alone = round(minutes * (mill.hourly_cents or 0.0) / 60.0)
    typed = wants.rules.edging_cents
    if not edged or typed >= alone * FAR_BELOW:
        return ()
    say = wants.rules.says
    return (
        f"Edging one board is counted at {say(round(typed))} ([costs] edging of the wants sheet). To stand one up and saw both "
        f"its edges takes this mill {minutes:g} minutes and more, {say(alone)}: boards may look better than they are, and few or "
        "none stand together.",
    )
