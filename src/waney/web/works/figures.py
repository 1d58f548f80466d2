"""Estimates as figures of a page: likely and from where to where, with what they stand on."""

from __future__ import annotations

from collections.abc import Callable
from math import floor, log10

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.sources import source
from waney.papers.ranges import NOT_KNOWN, spread
from waney.units.mass import KILOGRAM, POUND
from waney.units.money import print_money
from waney.units.quantity import Unit
from waney.units.volume import BOARD_FOOT, CUBIC_FOOT, CUBIC_METRE
from waney.web.asked.figure import Figure

Say = Callable[[float], str]


def three(value: float) -> str:
    """A number to three figures.

    >>> three(1016.4), three(830.64), three(0.0123)
    ('1020', '831', '0.0123')
    """
    if value == 0.0:
        return "0"
    decimals = 2 - floor(log10(abs(value)))
    return f"{round(value, decimals):.{max(decimals, 0)}f}"


def figure(what: str, estimate: Estimate | None, say: Say, why_not: str = "") -> Figure:
    """A line of a page. why_not: what to say of a figure that is not there."""
    if estimate is None:
        return Figure(what, NOT_KNOWN, why_not)
    words, key = told_by(estimate.basis)
    return Figure(what, spread(estimate, say), words, key)


def told_by(basis: Basis) -> tuple[str, str]:
    """What a figure stands on, in words, and its key on the page of sources."""
    if basis.ground is Ground.SOURCE:
        words, key = source(basis.key).title, basis.key
    else:
        words, key = (
            {Ground.DEFAULT: "common practice, no source", Ground.HISTORY: f"own record: {basis.key}"}.get(
                basis.ground, basis.key
            ),
            "",
        )
    return (f"{words}; {basis.note}" if basis.note and words else words or basis.note), key


def money(currency: str) -> Say:
    """Whole money of a currency; amounts in doubt carry no cents."""

    def say(cents: float) -> str:
        return print_money(round(cents / 100.0) * 100, currency).replace(".00", "")

    return say


def bad_likely_good(estimate: Estimate | None, currency: str) -> str:
    """Money with its three words."""
    if estimate is None:
        return NOT_KNOWN
    bad, likely, good = map(money(currency), (estimate.low, estimate.likely, estimate.high))
    return likely if bad == good else f"bad {bad}, likely {likely}, good {good}"


def own_money(what: str, cents: Estimate | None, currency: str, why_not: str = "") -> Figure:
    """A line of money that is the shop's own."""
    line = figure(what, cents, str, why_not)
    return Figure(what, bad_likely_good(cents, currency), line.basis, line.source, own=True)


def mass(metric: bool) -> Say:
    """A weight."""
    return _in(KILOGRAM if metric else POUND)


def wood(metric: bool) -> Say:
    """Wood in the round."""
    return _in(CUBIC_METRE if metric else CUBIC_FOOT)


def boards(metric: bool) -> Say:
    """Wood in boards."""
    return _in(CUBIC_METRE if metric else BOARD_FOOT)


def _in(unit: Unit) -> Say:
    return lambda value: f"{three(unit.of(value))} {unit.name}"


def board_feet(count: float) -> str:
    """A log scale."""
    return f"{three(count) if count >= 100.0 else f'{count:.0f}'} board feet"


def per_cent(share: float) -> str:
    """A share of the value; under one per cent with a digit."""
    return f"{100.0 * share:.0f} %" if share >= 0.0995 or share < 0.0005 else f"{100.0 * share:.1f} %"
