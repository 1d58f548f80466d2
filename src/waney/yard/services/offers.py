"""What a person does with trees that are offered, and with stems."""

from __future__ import annotations

from waney.yard.acts.offers import Reply, StemFelled, TreeAnswered, TreeOffered, TreeToldAgain
from waney.yard.book.book import Answer
from waney.yard.commands import Read
from waney.yard.services.hand import Hand
from waney.yard.streams import stream


def note_offer(hand: Hand, tree: TreeOffered, photo: bytes | None = None) -> Answer:
    """Write an offer down, its photo with it (named in the act by its SHA-256). Raises BookFull, FileLost."""
    return hand.write(tree, files=[] if photo is None else [photo])


def tell_offer_again(hand: Hand, told: TreeToldAgain) -> Answer:
    """More is known of it, or otherwise than it was told."""
    return hand.write(told)


def answer_offer(hand: Hand, tree: str, reply: Reply, seen: int, reason: str = "", money_cents: tuple[int, ...] = ()) -> Answer:
    """Say yes, only if free, or no; seen: the version of the tree that was looked at. Raises Stale when it changed since."""
    return hand.write(TreeAnswered(tree, reply, reason, money_cents), Read(stream("tree", tree), seen))


def fell_stem(hand: Hand, stem: StemFelled) -> Answer:
    """A stem lies there."""
    return hand.write(stem)
