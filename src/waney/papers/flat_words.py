"""Flattening in words: what is left, what comes off, how the piece lies, what cutting it in two first saves."""

from __future__ import annotations

from collections.abc import Iterator

from waney.papers.words import Shop

BY_PLANES = "Planes through every height that was read, as a linear programme; what a saw and a last pass take is not counted."
TOO_FEW = "wind, cup and bow: three rows of three heights are needed to read them"
ACROSS, ALONG = "across", "along"


def off_words(off_upper_m: float, off_under_m: float, shop: Shop) -> str:
    """What comes off each face."""
    return f"off the upper face {shop.read(off_upper_m)} on average, off the under face {shop.read(off_under_m)}"


def shape_words(bow_m: float, cup_m: float, wind_m: float, shop: Shop) -> Iterator[tuple[str, str]]:
    """Bow, cup and wind, each with what it comes to."""
    for word, height in (("bow", bow_m), ("cup", cup_m)):
        yield word, f"{shop.read(abs(height))}, {'hollow above' if height > 0 else 'hollow below'}"
    yield "wind", f"{shop.read(abs(wind_m))} at one corner over the other three"


def halves_words(way: str, at_m: float, thickness_m: float, saves_m: float, shop: Shop) -> str:
    """Cut in two first, across or along: where, what is left then, and what that saves."""
    where = f"{shop.along(at_m)} {'from the marked end' if way == ACROSS else 'from the marked edge'}"
    saved = shop.have(saves_m) if saves_m > 0 else None
    more = "nothing saved" if saved is None or str(saved).startswith("0 ") else f"{saved} more"
    return f"cut in two {way} first, {where}: {shop.have(thickness_m)} left, {more}"
