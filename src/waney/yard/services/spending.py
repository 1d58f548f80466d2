"""What a person tells of money and hours that went into a log or a piece, or of what a load in the kiln cost, and takes back."""

from __future__ import annotations

from collections.abc import Mapping

from waney.yard.acts.mending import TakenBack
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import KilnShared, Spent
from waney.yard.book.book import Answer
from waney.yard.book.spent_seen import kiln_shares, spent_on
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.streams import stream


def note_spent(hand: Hand, spent: Spent) -> Answer:
    """Money or hours went into a log or a piece."""
    return hand.write(spent)


def take_spent_back(hand: Hand, about: str, command: str) -> Answer:
    """What a command told of a log or a piece (about, a stream) was a slip.

    Raises NotPossible where nothing of it stands: it was taken back before, or is something else.
    """
    if command not in {each.command for each in spent_on(hand.book, [about]) if not each.load}:
        raise NotPossible("This was taken back already; nothing of it counts any more.")
    return hand.write(TakenBack(command, about))


def share_kiln(hand: Hand, load: str, cents: Mapping[str, int]) -> Answer:
    """What a load cost the shop goes into the costs of its own pieces, by their ids; those that pay nothing are left out.

    Raises NotPossible where it stands there already, or a piece is not the shop's own; BadAct where nothing is to be written.
    """
    act = KilnShared(load, tuple(PricedPiece(piece, each) for piece, each in cents.items() if each))
    return hand.write(act, *hand.seen(act))


def take_kiln_back(hand: Hand, load: str) -> Answer:
    """What was written into the costs of the pieces of a load was wrong. Raises NotPossible where nothing stands there."""
    stands = kiln_shares(hand.book, load)
    if not stands:
        raise NotPossible("Nothing of what this load cost stands in the costs of its pieces.")
    return hand.write(TakenBack(stands[0].command, stream("load", load)))
