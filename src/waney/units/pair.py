"""Pair: two lengths in one breath, as `9 1/2 in, 8 3/4 in`."""

from __future__ import annotations

from waney.units.length import parse_length
from waney.units.number import Comma
from waney.units.written import NoUnit, TwoReadings, Unreadable, shown

EXAMPLE = "9 1/2 in, 8 3/4 in"


def parse_two_lengths(text: str, comma: Comma = Comma.ASK) -> tuple[float, float]:
    """Two lengths with a comma (or a semicolon) between them, each with its unit [m].

    A comma inside a number or between feet and inches is no mark of division: the one place counts where both sides are lengths.
    Raises NoUnit, TwoReadings, Unreadable; each says what to write instead.

    >>> parse_two_lengths("241,3 mm, 222 mm"), parse_two_lengths("1 m; 2 m")
    ((0.2413, 0.222), (1.0, 2.0))
    """
    mark = ";" if ";" in text else ","
    places = [i for i, sign in enumerate(text) if sign == mark]
    if not places:
        raise Unreadable(f'{shown(text)} is one length; two are needed with a comma between them, for instance "{EXAMPLE}".')
    found, problems = [], []
    for i in places:
        try:
            found.append((parse_length(text[:i], None, comma), parse_length(text[i + 1 :], None, comma)))
        except Unreadable as problem:
            problems.append(problem)
    if len(found) > 1:
        raise TwoReadings(f'{shown(text)} can be divided in several places; write a semicolon there: "9 1/2 in; 8 3/4 in".')
    if not found:
        raise _none(text, problems)
    return found[0]


def _none(text: str, problems: list[Unreadable]) -> Unreadable:
    """Why no place divides it: a number without its unit first, since that is what people leave out."""
    if len(problems) == 1 and not isinstance(problems[0], NoUnit):
        return problems[0]
    if any(isinstance(problem, NoUnit) for problem in problems):
        return NoUnit(f'{shown(text)}: each of the two lengths needs its unit; write for instance "{EXAMPLE}".')
    return Unreadable(f'{shown(text)} is not two lengths; write for instance "{EXAMPLE}".')
