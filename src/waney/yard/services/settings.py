"""What a person settles for the shop."""

from __future__ import annotations

from waney.yard.acts.settings import Setting, Settled
from waney.yard.book.book import Answer
from waney.yard.services.hand import Hand


def settle_for_shop(hand: Hand, what: Setting, text: str) -> Answer:
    """Write a setting anew; the caller has looked whether it can be read."""
    return hand.write(Settled(what, text))
