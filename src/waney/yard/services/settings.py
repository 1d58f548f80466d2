"""What a person settles for the shop."""

from __future__ import annotations

from collections.abc import Mapping

from waney.trade.tax import Tax
from waney.trade.tax_sheet import read_taxes
from waney.yard.acts.settings import Setting, Settled
from waney.yard.book.book import Answer
from waney.yard.services.hand import Hand


def settle_for_shop(hand: Hand, what: Setting, text: str) -> Answer:
    """Write a setting anew; the caller has looked whether it can be read."""
    return hand.write(Settled(what, text))


def shop_taxes(settled: Mapping[str, str]) -> tuple[Tax, ...]:
    """The tax lines of the terms sheet, without the rest of it. Raises SheetProblems."""
    return read_taxes(settled.get(Setting.TERMS, ""))
