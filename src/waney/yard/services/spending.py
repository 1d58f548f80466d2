"""What a person tells of money and hours that went into a log or a piece, and takes back."""

from __future__ import annotations

from waney.yard.acts.mending import TakenBack
from waney.yard.acts.sales import Spent
from waney.yard.book.book import Answer
from waney.yard.book.selling_seen import spent_on
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand


def note_spent(hand: Hand, spent: Spent) -> Answer:
    """Money or hours went into a log or a piece."""
    return hand.write(spent)


def take_spent_back(hand: Hand, about: str, command: str) -> Answer:
    """What a command told of a log or a piece (about, a stream) was a slip.

    Raises NotPossible where nothing of it stands: it was taken back before, or is something else.
    """
    if command not in {each.command for each in spent_on(hand.book, [about])}:
        raise NotPossible("This was taken back already; nothing of it counts any more.")
    return hand.write(TakenBack(command, about))
