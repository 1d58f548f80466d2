"""What was read off an offer's photo, written as more that is known of its tree."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from waney.logs.off_photo import Sizes, View, spread_of
from waney.yard.acts.offers import TreeToldAgain
from waney.yard.book.book import Answer
from waney.yard.services.hand import Hand


def told_off_photo(tree: str, sizes: Sizes, taps: str) -> TreeToldAgain:
    """The readings with how far off each is: a butt end and a stem give a girth, a thin end its own diameter. Raises BadAct."""
    thick, long = sizes.diameter_m, sizes.length_m
    told = TreeToldAgain(tree, taps=taps)
    if long is not None:
        told = replace(told, length_m=round(long.likely, 3), length_off=spread_of(long))
    if thick is None:
        return told
    if sizes.view is View.THIN:
        return replace(told, small_end_m=round(thick.likely, 4), small_end_off=spread_of(thick))
    at_m = 0.0 if sizes.view is View.BUTT else None
    return replace(told, girth_m=round(pi * thick.likely, 4), girth_off=spread_of(thick), girth_at_m=at_m)


def read_offer_off_photo(hand: Hand, tree: str, sizes: Sizes, taps: str) -> Answer:
    """Write it down; taps: what was tapped, to go on with."""
    return hand.write(told_off_photo(tree, sizes, taps))
