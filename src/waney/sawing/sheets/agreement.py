"""A mill and wants from different sheets: do they speak of the same money, and of money at all?"""

from __future__ import annotations

from dataclasses import replace

from waney.figures.problem import Problem
from waney.prices.rules import Ranking
from waney.sawing.mill import Mill
from waney.sawing.sheets.mill_sheet import MillSheet
from waney.sawing.sheets.wants_sheet import WantsSheet


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
