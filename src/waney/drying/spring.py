"""Spring: the one before which a stack outdoors is to be dry."""

from __future__ import annotations

from datetime import date

SPRING_MONTH, SPRING_DAY = 3, 20
"""Spring north of the equator: outdoor drying is next to nothing before it. Common practice, no source."""
LEAST_AHEAD_DAYS = 30
"""A spring that is nearer than this changes nothing more that could be done: the one after it counts. Ours, a choice."""


def spring_after(day: date) -> date:
    """The spring before which a stack is to be dry, as seen on a day: the first that is not just about to begin."""
    spring = date(day.year, SPRING_MONTH, SPRING_DAY)
    return spring if (spring - day).days >= LEAST_AHEAD_DAYS else date(day.year + 1, SPRING_MONTH, SPRING_DAY)
