"""Shares of a whole: fractions inside, per cent on screens and papers."""

from __future__ import annotations


def print_share(share: float, digits: int = 0) -> str:
    """A share in per cent, to so many digits after the point.

    >>> print_share(0.306), print_share(0.306, 1)
    ('31 %', '30.6 %')
    """
    return f"{100.0 * share:.{digits}f} %"
