"""Grade in words: what a face gave of what its grade needs, and where each cutting lies."""

from __future__ import annotations

from waney.papers.words import Shop

BY_CHARTS = "From summary charts of the published rules (nhla-summary); rules of single woods are not counted."
BELOW = "below every grade"

Box = tuple[float, float, float, float]
"""x0, x1, y0, y1 from the marked end and edge [m]"""


def units_words(units: float, needed: float | None, allowed: int | None) -> str:
    """Units found, needed (None: the board is too small for the grade), and in how many cuttings (None: any number).

    >>> units_words(86.08, 80.0, 2)
    '86.1 units of 80 needed, at most 2 cuttings'
    """
    of = "" if needed is None else f" of {needed:g} needed"
    number = "any number of cuttings" if allowed is None else f"at most {allowed} cutting{'s' if allowed != 1 else ''}"
    return f"{units:.1f} units{of}, {number}"


def not_proved(at_most: float) -> str:
    """Beside cuttings of which nobody knows that they are the best."""
    return f"the best that was found; not proved, at most {at_most:.1f} could be had"


def cutting_words(box: Box, units: float, shop: Shop) -> str:
    """Width by length of a cutting, its units, and where it lies."""
    x0, x1, y0, y1 = box
    place = f"{shop.along(x0)} from the marked end, {shop.read(y0)} from the marked edge"
    return f"{shop.have(y1 - y0)} by {shop.long(x1 - x0)}, {units:.1f} units, {place}"


def edged_words(length_m: float, width_m: float, shop: Shop) -> str:
    """What of a live-edge slab was graded."""
    return f"as what edging would leave: {shop.long(length_m)} by {shop.have(width_m)}, the largest that is wood on both faces"
