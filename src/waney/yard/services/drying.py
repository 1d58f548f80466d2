"""What a person tells of drying: how a stack stands, bark and ends, which pieces are weighed, sample boards, prongs."""

from __future__ import annotations

from waney.yard.acts.drying import ProngsSeen, SampleCut, SectionsDried, SidesTold, StackStood, ToWeigh
from waney.yard.book.book import Answer
from waney.yard.services.hand import Hand


def tell_how_it_stands(hand: Hand, stack: StackStood) -> Answer:
    """Since when, under what, to which moisture."""
    return hand.write(stack)


def tell_sides(hand: Hand, sides: SidesTold) -> Answer:
    """Whether bark is on pieces, and whether their ends are coated."""
    return hand.write(sides)


def weigh_these(hand: Hand, stack: str, pieces: tuple[str, ...]) -> Answer:
    """These pieces of a stack are weighed every week, and no others of it."""
    return hand.write(ToWeigh(stack, pieces))


def cut_sample(hand: Hand, sample: SampleCut) -> Answer:
    """Sections were cut and weighed, and the board between them."""
    return hand.write(sample)


def dry_sections(hand: Hand, piece: str, dry_kg: tuple[float, ...]) -> Answer:
    """The sections came out of the oven."""
    return hand.write(SectionsDried(piece, dry_kg))


def see_prongs(hand: Hand, seen: ProngsSeen) -> Answer:
    """A prong test."""
    return hand.write(seen)
