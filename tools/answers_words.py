"""How `answers_page.py` writes figures: days with their range, rows of a table, whether a published figure lies within."""

from __future__ import annotations

from waney.papers.ranges import Points


def number(value: float) -> str:
    """Whole from ten on, else with one decimal; nothing as 0."""
    if abs(value) < 0.05:
        return "0"
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}"


def span(low: float, high: float) -> str:
    """From where to where."""
    return f"{number(low)} to {number(high)}"


def ranged(found: Points) -> str:
    """Likely, and in brackets from the 5 to the 95 % point."""
    return f"{number(found.likely)} ({span(found.low, found.high)})"


def line(*cells: str) -> str:
    """One row of a table."""
    return f"| {' | '.join(cells)} |"


def head(*cells: str) -> tuple[str, str]:
    """The first two lines of a table."""
    return line(*cells), "|" + "---|" * len(cells)


def holds(published: float, low: float, high: float) -> str:
    """Whether a range holds a published figure."""
    return "yes" if low <= published <= high else "no"


def percent(share: float, decimals: int = 1) -> str:
    """A share as the page has it: 3.8 %."""
    return f"{100.0 * share:.{decimals}f} %"
