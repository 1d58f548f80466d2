"""Sides form: bark and ends of one piece, or of all on a stack, as a form tells them and as a page shows them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from waney.figures.problem import Problem
from waney.web.forms import BadField, Fields
from waney.web.showing import Figures
from waney.yard.acts.base import day_if_any
from waney.yard.acts.drying import Bark, Ends, SidesTold
from waney.yard.sides import SidesStand

CHOICES = {"barks": list(Bark), "coats": list(Ends)}
"""what a page with this form offers"""
NOT_TOLD = "not told"


def day_of(text: str) -> str:
    """A day as somebody typed it. Raises BadField."""
    try:
        day_if_any(day=text)
    except Problem:
        raise BadField(f'"{text[:30]}" is no date; write it as 2026-05-04.') from None
    return text


def sides_told(fields: Fields, pieces: Sequence[str]) -> SidesTold | None:
    """What was told of these pieces; None where nothing was, or where the day cannot be read: then that field is wrong."""
    sent = fields.sent
    bark = sent.choice("bark", Bark) if sent.text("bark") else None
    ends = sent.choice("ends", Ends) if sent.text("ends") else None
    since = fields.read("as_of", day_of) or ""
    if since and bark is None and ends is None:
        fields.wrong["as_of"] = "Choose above what is so since that day."
    if fields.wrong or not pieces or (bark is None and ends is None):
        return None
    return SidesTold(tuple(pieces), bark, ends, since)


def sides_shown(sides: Sequence[SidesStand]) -> tuple[tuple[str, str], ...]:
    """Bark and ends in words: of one piece with the day, of several how many are so."""
    bark, ends = [(one.bark, one.bark_since) for one in sides], [(one.ends, one.ends_since) for one in sides]
    return (("Bark", ", ".join(_words(bark))), ("Ends", ", ".join(_words(ends))))


def _words(told: Sequence[tuple[str, str]]) -> Iterator[str]:
    for word, count in sorted(Counter(word for word, _ in told).items(), key=lambda each: not each[0]):
        days = {day for each, day in told if each == word}
        since = f" since {Figures.day(*days)}" if word and len(days) == 1 else ""
        some = "" if count == len(told) else f": {count} of {len(told)}"
        yield f"{word or NOT_TOLD}{since}{some}"
